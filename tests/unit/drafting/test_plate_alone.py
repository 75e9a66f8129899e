"""The sheet shows the plate alone: no outline beside it, no dimension of one, no hole listed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketcher.drafting.features import shown_pieces
from sketcher.drafting.hole_list import holes_of
from sketcher.drafting.holes import ZERO
from sketcher.drafting.page import Page
from sketcher.drafting.primitives import Stroke, Text
from sketcher.drafting.record import record
from sketcher.drafting.sheet import pages
from sketcher.part.value import Binding, Drawing, GridPattern, Part, frozen
from tests.plates import Row, bound, curve, plate, rectangle

XY = tuple[float, float]


def with_circles(
    circles: dict[str, tuple[XY, float]], *bindings: Binding, hole_table: bool = False,
    **fields: object,
) -> Part:
    """The plate of 40 by 20 with circles about points of their own (c1 for h1)."""
    part = bound()
    centers = {f"c{name[1:]}": at for name, (at, _) in circles.items()}
    rounds = {name: curve((f"c{name[1:]}", radius)) for name, (_, radius) in circles.items()}
    more = {f"x{k}": b for k, b in enumerate(bindings, 1)}
    return part.having(points={**part.points, **centers}, curves={**part.curves, **rounds},
                       bindings={**part.bindings, **more},
                       drawing=Drawing(hole_table=hole_table), **fields)


def visible(page: Page) -> set[str]:
    """Ids of the curves that are drawn."""
    return {item.source.partition(":")[2] for item in page.items
            if isinstance(item, Stroke) and item.source.startswith("curve:")}


def letters(page: Page) -> set[str]:
    """What stands beside the holes."""
    return {item.text for item in page.items
            if isinstance(item, Text) and item.source.startswith("hole:")} - {ZERO}


@pytest.mark.parametrize("at", [(60.0, 10.0), (20.0, 10.0)], ids=["off the plate", "in a hole"])
def test_what_lies_detached_is_not_drawn(at: XY) -> None:
    part = with_circles(
        {"h1": ((20.0, 10.0), 4.0), "h2": (at, 2.0)},
        Binding("diameter", ("h1",), "8"), Binding("diameter", ("h2",), "4"),
        Binding("run", ("p1", "c2"), repr(at[0])), Binding("run", ("p1", "c1"), "20"),
    )
    page = pages(part)[0]
    assert visible(page) == {"pe1", "pe2", "pe3", "pe4", "h1"}
    assert {d.id for d in page.dimensions} == {"b6", "b7", "x1", "x4"}
    assert {row.id for row in record(part)} == {"b6", "b7", "x1", "x4"}
    in_table = pages(part.having(drawing=Drawing(hole_table=True)))[0]
    assert letters(in_table) == {"A1"}
    centered = {item.source for item in page.items if isinstance(item, Stroke)
                and item.line.startswith("center")}
    assert centered
    assert not any("h2" in name for name in centered)


def test_the_place_of_what_is_drawn_does_not_depend_on_it() -> None:
    alone = pages(with_circles({"h1": ((20.0, 10.0), 4.0)}, hole_table=True))[0]
    beside = pages(with_circles({"h1": ((20.0, 10.0), 4.0), "h2": ((400.0, 10.0), 2.0)},
                                hole_table=True))[0]
    assert (beside.sheet, beside.view) == (alone.sheet, alone.view)
    assert beside.items == alone.items


def test_a_pattern_counts_the_places_on_the_plate() -> None:
    pattern = GridPattern(("h1",), ("10", "0"), (6, 1))
    part = with_circles({"h1": ((5.0, 10.0), 2.0)}, Binding("diameter", ("h1",), "4"),
                        patterns=frozen({"n": pattern}))
    page = pages(part)[0]
    assert visible(page) == {"pe1", "pe2", "pe3", "pe4", "h1", "h1#1", "h1#2", "h1#3"}
    size = next(d for d in page.dimensions if d.id == "x1")
    assert size.text.startswith("4x")


def test_a_pattern_beside_the_plate_has_no_steps_on_paper() -> None:
    beside = {"h1": ((60.0, 5.0), 2.0)}
    pattern = GridPattern(("h1",), ("10", "6"), (3, 2))
    page = pages(with_circles(beside, patterns=frozen({"n": pattern})))[0]
    assert {d.id for d in page.dimensions} == {"b6", "b7"}


def test_a_center_that_a_hole_shares_is_still_located() -> None:
    part = with_circles({"h1": ((20.0, 10.0), 4.0)}, Binding("run", ("p1", "c1"), "20"),
                        Binding("radius", ("ring",), "2"))
    part = part.having(curves={**part.curves, "ring": curve(("c1", 2.0))})
    page = pages(part)[0]
    assert visible(page) == {"pe1", "pe2", "pe3", "pe4", "h1"}
    assert {d.id for d in page.dimensions} == {"b6", "b7", "x1"}


def test_a_half_short_of_its_axis_is_not_measured_across() -> None:
    points, lines = rectangle(30.0, 20.0, at=(5.0, 0.0))
    points |= {"a": (0.0, 0.0), "b": (0.0, 20.0)}
    rows: dict[str, Row] = {**lines, "ax": ("a", "b")}
    part = plate(points, rows, Binding("offset", ("ax", "p2"), "35"), axis="ax",
                 roles={"ax": "axis"})
    page = pages(part)[0]
    assert visible(page) == set(lines)
    assert [d.text for d in page.dimensions if d.id == "b1"] == ["35"]


def test_the_edge_of_a_round_plate_is_no_hole() -> None:
    part = plate({"c": (0.0, 0.0), "d": (20.0, 0.0)}, {"edge": ("c", 30.0), "h": ("d", 4.0)})
    assert [hole.width for hole in holes_of(shown_pieces(part, alone=True))] == [8.0]


def test_half_a_plate_keeps_what_only_its_reflection_closes() -> None:
    points = {"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (20.0, 20.0), "p4": (0.0, 20.0),
              "c": (10.0, 10.0), "d": (40.0, 10.0)}
    rows: dict[str, Row] = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"),
                            "h": ("c", 3.0), "off": ("d", 3.0), "ax": ("p1", "p4")}
    part = plate(points, rows, axis="ax", roles={"ax": "axis"})
    part = replace(part, drawing=Drawing(show_half=True))
    assert {p.id for p in shown_pieces(part, alone=True)} == {"e1", "e2", "e3", "h", "ax"}
