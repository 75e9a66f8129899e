"""Sheets judged by what is on them, on other plates than the weights were tuned on."""

from __future__ import annotations

from dataclasses import fields

import numpy as np
import pytest

from sketcher.drafting.sheet import pages
from sketcher.geometry.curves import Circle, Line
from sketcher.part import store
from sketcher.shipped import shipped
from sketcher.solve import solve
from tests.dimension_checker import Drawing, Faults, faults, of_page
from tests.hole_plates import plate
from tests.seldom import some_of

CROSSED = {"shift-arm": 2}
"""The width of its slot stands square to the slot, across the extension line of the slot's end; the
leader to its curved slot goes over an extension line, as leaders may."""
NAMES = ("gate-strap", "pump-flange", "roof-gusset", "shelf-bracket", "shift-arm")


@pytest.mark.parametrize("name", NAMES)
def test_demo_sheets_have_no_fault_that_room_could_cure(name: str) -> None:
    page = pages(solve(store.load(shipped("demo_parts", f"{name}.profile.json"))).part)[0]
    found = faults(of_page(page))
    assert page.crowded == ()
    assert (found.text_on_line, found.text_on_text, found.over_centers,
            found.through_holes_with_room) == (0, 0, 0, 0)
    assert found.crossings <= CROSSED.get(name, 0)


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
@pytest.mark.parametrize("seed", some_of(range(3, 8), lambda seed: seed in (3, 7)))
def test_lettering_on_plates_of_holes_is_clear(seed: int, practice: str) -> None:
    found = faults(of_page(pages(plate(seed, practice, dimensions=True))[0]))
    assert (found.text_on_line, found.text_on_text, found.over_centers, found.in_the_air) == (
        0, 0, 0, 0)


def test_the_checker_finds_every_fault_that_is_planted() -> None:
    drawing = Drawing(3.5)
    for a, b in (((0, 0), (90, 0)), ((90, 0), (90, 60)), ((90, 60), (0, 60)), ((0, 60), (0, 0))):
        drawing.add("outline", "", Line(a, b))
    drawing.add("outline", "", Circle((30.0, 30.0), 8.0))
    for a, b in (((28.5, 30), (31.5, 30)), ((30, 28.5), (30, 31.5)), ((32, 30), (45, 30))):
        drawing.add("center", "", Line(a, b))
    box = np.array([(88, 20), (95, 20), (95, 23.5), (88, 23.5)], float)
    drawing.texts += [("a", box), ("b", box + np.array((2.0, 1.0)))]
    drawing.add("extension", "a", Line((33, 30), (60, 30)))  # over the center line
    drawing.add("extension", "a", Line((20, 31), (60, 31)))  # through the hole, over the plus
    drawing.add("extension", "a", Line((70, 80), (70, 120)))  # in the air
    drawing.add("dimension", "a", Line((60, 90), (80, 90)))
    drawing.add("leader", "b", Line((65, 85), (66, 100)))
    drawing.add("dimension", "b", Line((80, 50), (99, 50)))  # over the outline
    found = faults(drawing)
    clear = {f.name for f in fields(Faults) if not getattr(found, f.name)}
    assert clear <= {"through_holes_with_room", "extension_over_outline"}
