"""Constructions of small parts, made by the hand that knows only straightedge and compass."""

from __future__ import annotations

import json
from collections.abc import Iterable

from sketcher.lesson.order import OrderStep, construction_order
from sketcher.lesson.stroke_form import step_form
from sketcher.part.store import content
from sketcher.part.value import Part
from sketcher.solve.solver import solve
from tests.constructed import constructed


def faults_of(part: Part, given: Iterable[str] = ()) -> list[str]:
    """What is wrong with the hand moves of a part, by the simulator's judgement."""
    solved = solve(part).part
    fixed = {b.of[0] for b in part.bindings.values() if b.kind == "fixed"}
    order = {"steps": [step_form(step, moves=True) for step in construction_order(part)]}
    file = json.loads(content(solved, "part.profile.json"))
    return constructed(json.loads(json.dumps(order)), file, fixed | set(given))[0]


def sentences(part: Part) -> list[str]:
    """Every sentence of a construction, without the bindings."""
    return [text for step in construction_order(part) for text in sentences_of(step)]


def sentences_of(step: OrderStep) -> tuple[str, ...]:
    """The sentences of a step, without its bindings."""
    return step.substeps or (step.text.split(" [")[0],)
