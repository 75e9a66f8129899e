"""The table of holes: a marked zero, sizes as the sheet says them, and nothing said twice."""

from __future__ import annotations

from dataclasses import replace
from math import dist

import pytest

from sketcher.drafting.primitives import Stroke, Text
from sketcher.drafting.record import record
from sketcher.drafting.sheet import pages
from sketcher.errors import SketcherError
from sketcher.geometry.curves import Circle
from sketcher.part import store
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Binding, Drawing, Part
from sketcher.shipped import shipped
from sketcher.solve import solve
from tests.plates import plate, rectangle


def drilled(**drawing: object) -> Part:
    """A plate of 80 by 50 with two holes of one size, one of its own tolerance, and a slot."""
    points, lines = rectangle(80.0, 50.0)
    part = plate({**points, "c": (15.0, 10.0), "d": (65.0, 10.0), "f": (40.0, 40.0)},
                 {**lines, "h": ("c", 3.0), "k": ("d", 3.0), "m": ("f", 5.0)},
                 Binding("distance", ("pe1",), "80"), Binding("distance", ("pe2",), "50"),
                 Binding("diameter", ("h",), "6"), Binding("equal", ("h", "k")),
                 Binding("diameter", ("m",), "10", tolerance=(0.05, 0.0)),
                 Binding("run", ("p1", "c"), "15"), Binding("rise", ("p1", "c"), "10"),
                 Binding("run", ("c", "d"), "50"), Binding("rise", ("p1", "f"), "40"))
    draft = Draft(part)
    low, high = draft.line((35.0, 16.0), (45.0, 16.0)), draft.line((45.0, 24.0), (35.0, 24.0))
    (a, b), (c, d) = draft.curves[low].ends, draft.curves[high].ends
    draft.arc(b, c, (45.0, 20.0), "ccw")
    end = draft.arc(d, a, (35.0, 20.0), "ccw")
    draft.bind("rise", ("p1", draft.curves[end].center), "20")
    draft.bind("radius", [end], "4")
    draft.bind("distance", [low], "10")
    return draft.done().having(drawing=Drawing(hole_table=True, **drawing))


def table(part: Part) -> list[list[str]]:
    """Return the rows of the table as they stand on the page, from above and from the left."""
    rows: dict[float, list[tuple[float, str]]] = {}
    for item in pages(part)[0].items:
        if isinstance(item, Text) and item.source == "sheet:holes":
            rows.setdefault(round(item.at[1], 3), []).append((item.at[0], item.text))
    return [[text for _, text in sorted(rows[y])] for y in sorted(rows, reverse=True)]


def marked(part: Part) -> list[tuple[float, float]]:
    """Return where the ring of the zero stands, in the part's unit."""
    page = pages(part)[0]
    return [page.view.back(item.curve.center) for item in page.items
            if isinstance(item, Stroke) and item.source == "hole:zero"
            and isinstance(item.curve, Circle)]


def test_places_from_a_corner_and_sizes_with_tolerance_count_and_slot() -> None:
    assert table(drilled()) == [
        ["hole", "X", "Y", "size", "count"],
        ["A1", "40", "40", "Ø10 +0.05/0"],
        ["B1", "15", "10", "Ø6", "2x"],
        ["B2", "65", "10", "Ø6"],
        ["C1", "40", "20", "8 x 18"],
    ]
    assert marked(drilled()) == [pytest.approx((0.0, 0.0))]
    said = [item.text for item in pages(drilled())[0].items if isinstance(item, Text)]
    assert said.count("X0 Y0") == 1
    assert {"A1", "B1", "B2", "C1"} <= set(said)


def test_holes_are_dimensioned_in_the_table_or_on_the_view() -> None:
    assert {d.text for d in pages(drilled())[0].dimensions} == {"80", "50"}
    on_view = pages(drilled().having(drawing=Drawing()))[0]
    assert {"2x Ø6", "Ø10 +0.05/0", "15", "10", "40"} <= {d.text for d in on_view.dimensions}
    assert not any(item.source.startswith(("hole:", "sheet:holes")) for item in on_view.items)


def test_a_place_with_a_tolerance_of_its_own_stays_on_the_view() -> None:
    part = drilled()
    name = next(n for n, b in part.bindings.items() if b.kind == "run" and b.value == "15")
    exact = replace(part.bindings[name], tolerance=(0.1, -0.1))
    part = part.having(bindings={**part.bindings, name: exact})
    assert "15 ±0.1" in {d.text for d in pages(part)[0].dimensions}


def test_the_zero_is_where_it_is_asked_for() -> None:
    assert table(drilled(table_zero="c"))[2] == ["B1", "0", "0", "Ø6", "2x"]
    assert marked(drilled(table_zero="c")) == []  # the hole has its own mark
    assert table(drilled(table_zero="p3"))[1][1:3] == ["-40", "-10"]
    with pytest.raises(SketcherError, match=r"table_zero.*no point named 'nowhere'"):
        pages(drilled(table_zero="nowhere"))


@pytest.mark.parametrize(("name", "zero"), [
    ("gate-strap", (-60.0, 24.0)),  # the lower corners are round
    ("pump-flange", None),  # has no corner: its left hole
    ("shelf-bracket", (0.0, 0.0)),
])
def test_the_zero_of_a_part_is_never_in_the_air(
    name: str, zero: tuple[float, float] | None
) -> None:
    part = solve(store.load(shipped("demo_parts", f"{name}.profile.json"))).part
    part = part.having(drawing=replace(part.drawing, hole_table=True))
    if zero is None:
        assert ["B1", "0", "0", "Ø13", "2x"] in table(part)
    else:
        assert min(dist(zero, at) for at in marked(part)) < 1e-6


def test_a_size_in_fractions_stays_one() -> None:
    part = solve(store.load(shipped("demo_parts", "shelf-bracket.profile.json"))).part
    part = part.having(drawing=replace(part.drawing, hole_table=True))
    sizes = [row[3] for row in table(part)[1:]]
    assert sizes == ["Ø.375 ±.005", *4 * ["Ø9/32"]]
    assert not any(".28" in cell for row in table(part) for cell in row)


def test_the_record_keeps_the_rows_of_holes_and_says_where_they_stand() -> None:
    rows = {row.text: row.what for row in record(drilled())}
    assert rows["Ø6"] == "Diameter (table)"
    assert rows["80"] == "Distance"


def test_a_letter_that_a_note_names_stays_on_the_view() -> None:
    part = solve(store.load(shipped("demo_parts", "shift-arm.profile.json"))).part
    page = pages(part.having(drawing=replace(part.drawing, hole_table=True)))[0]
    texts = [item.text for item in page.items if isinstance(item, Text)]
    assert any("Edge A parallel to slot B." in text for text in texts)
    assert texts.count("A") >= 1
    assert {d.text for d in page.dimensions} >= {"A", "B"}
