"""What dimensions share is inked once."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

import pytest
from shapely.geometry import LineString

from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.layout.drawn_once import drawn_once
from sketcher.drafting.primitives import Stroke
from sketcher.drafting.sheet import pages
from sketcher.geometry.curves import XY, Line
from sketcher.part import store
from sketcher.shipped import shipped
from sketcher.solve import solve


def length(name: str, *lines: tuple[XY, XY]) -> Drawn:
    return Drawn(name, "linear", ((0, 0), (1, 0), (0, 1)), 0.0, name, (0, 0),
                 tuple(Stroke(Line(a, b), "extension", f"dimension:{name}") for a, b in lines))


def drawn(found: Sequence[Drawn]) -> list[tuple[str, XY, XY]]:
    return [(d.id, i.curve.start, i.curve.end) for d in found for i in d.items
            if isinstance(i, Stroke) and isinstance(i.curve, Line)]


def test_lines_from_one_corner_are_the_longest_of_them() -> None:
    found = drawn_once([length("a", ((0, 1), (0, 12)), ((9, 1), (9, 12))),
                        length("b", ((0, 1), (0, 19)), ((20, 1), (20, 19)))])
    assert drawn(found) == [("a", (9, 1), (9, 12)), ("b", (0, 1), (0, 19)),
                            ("b", (20, 1), (20, 19))]


def test_lines_that_lie_partly_on_one_another_are_one_whichever_way_they_run() -> None:
    found = drawn_once([length("a", ((0, 1), (0, 12))), length("b", ((0, 25), (0, 8)))])
    assert drawn(found) == [("b", (0, 25), (0, 1))]


def test_lines_that_only_meet_or_run_beside_one_another_stay() -> None:
    some = [length("a", ((0, 1), (0, 12))), length("b", ((0, 12), (0, 20))),
            length("c", ((0.2, 1), (0.2, 12))), length("d", ((-5, 6), (5, 6)))]
    assert list(drawn_once(some)) == some


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
@pytest.mark.parametrize("name", ["gate-strap", "shelf-bracket", "latch-plate"])
def test_no_two_lines_of_a_demo_sheet_lie_on_one_another(name: str, practice: str) -> None:
    """Asked of shapely: what two thin lines share is no longer than a dot."""
    part = solve(store.load(shipped("demo_parts", f"{name}.profile.json"))).part
    page = pages(part.having(drawing=replace(part.drawing, practice=practice, sheet="auto")))[0]
    lines = [LineString([a, b]) for _, a, b in drawn(page.dimensions)]
    assert len(lines) > 20
    for one, other in itertools.combinations(lines, 2):
        assert one.buffer(0.02, cap_style="flat").intersection(other).length < 0.1
