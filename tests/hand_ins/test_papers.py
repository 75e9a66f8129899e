"""The papers constructed by hand against the program: what judges marking is right itself.

Source of every number: the construction in `papers/`, plain trigonometry.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from random import Random

import pytest

from sketcher.geometry.curves import Arc, Curve, Line
from sketcher.part.value import GridPattern
from sketcher.part.whole import whole
from sketcher.solve import solve_with
from tests.hand_ins.decidable import numbers
from tests.hand_ins.papers import PAPERS
from tests.hand_ins.strokes import Bow, Plate, Ring, Straight, sound
from tests.hand_ins.written_paper import Paper, Values
from tests.ready_keys import key_ready

NEAR = 1e-9
"""Of the size: the solver ends within 1e-12 of it, and a few steps of arithmetic follow."""


def by_program(paper: Paper, values: Values) -> list[Curve]:
    part = key_ready(paper.key).part
    texts = {name: repr(amount) for name, amount in values.items()}
    steps = {name: text for name, text in texts.items() if "." in name}
    if steps:
        pattern = part.patterns["n1"]
        assert isinstance(pattern, GridPattern)
        part = part.having(patterns={"n1": replace(pattern, step=(
            steps.get("n1.step.0", pattern.step[0]), steps.get("n1.step.1", pattern.step[1])))})
    solution = solve_with(part, {}, {n: t for n, t in texts.items() if n not in steps})
    assert solution.report.converged
    return [piece.curve for piece in whole(solution.part) if piece.role == "outline"]


def apart(plate: Plate, curves: Iterable[Curve]) -> float:
    """How far the program's curves lie from the strokes by hand, and the strokes' places from it.

    A stroke across an axis is two curves of the program, so carriers are compared, and every
    place of the strokes is a place of the program's curves.
    """
    curves = list(curves)
    worst = 0.0
    for curve in curves:
        worst = max(worst, min(_off(curve, stroke) for stroke in plate.strokes))
    places = [complex(*p) for c in curves for p in (
        (c.start, c.end) if isinstance(c, Line) else (c.center, c.start, c.end)
        if isinstance(c, Arc) else (c.center,))]
    for z in (z for stroke in plate.strokes for z in stroke.numbers):
        worst = max(worst, min(abs(z - place) for place in places))
    return worst


def _off(curve: Curve, stroke: Straight | Bow | Ring) -> float:
    if isinstance(curve, Line):
        if not isinstance(stroke, Straight):
            return 1e9
        way = stroke.end - stroke.start
        offs = []
        for place in (curve.start, curve.end):
            z = (complex(*place) - stroke.start) / way
            offs.append(abs(z.imag * way) + max(-z.real, z.real - 1.0, 0.0) * abs(way))
        return max(offs)
    if isinstance(stroke, Straight) or isinstance(curve, Arc) != isinstance(stroke, Bow):
        return 1e9
    return max(abs(complex(*curve.center) - stroke.center), abs(curve.radius - stroke.radius))


def drawn_otherwise(paper: Paper, random: Random) -> dict[str, float]:
    """All values a few percent off, such that the outline keeps its make."""
    for _ in range(300):
        values = {name: amount * random.uniform(0.95, 1.05)
                  for name, amount in paper.values.items()}
        try:
            if sound(paper.drawn(values), paper.plate):
                return values
        except ValueError:
            continue
    raise AssertionError("no set of values keeps the make of the outline")


@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.key)
def test_a_paper_is_the_key_s_outline(paper: Paper) -> None:
    assert paper.unit == key_ready(paper.key).part.unit
    assert sound(paper.plate, paper.plate)
    assert apart(paper.plate, by_program(paper, {})) < NEAR * paper.plate.size
    random = Random(f"papers {paper.key}")
    for _ in range(5):
        values = drawn_otherwise(paper, random)
        assert apart(paper.drawn(values), by_program(paper, values)) < NEAR * paper.plate.size


@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.key)
def test_every_value_of_a_paper_changes_its_outline(paper: Paper) -> None:
    for name, amount in paper.values.items():
        other = paper.drawn({name: 1.02 * amount})
        off = [abs(now - was).max() for now, was in zip(
            numbers(other), numbers(paper.plate), strict=True) if len(now)]
        assert max(off) > 1e-4 * paper.plate.size, name


@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.key)
def test_a_parameter_changes_what_it_carries(paper: Paper) -> None:
    for parameter in paper.parameters:
        assert paper.spelled({parameter.name: parameter.amount}) == pytest.approx(
            {name: paper.values[name] for name in parameter.carries}, abs=1e-12)
