"""Advice as it is read: images in one row, what is serious first, all of it in one line."""

from __future__ import annotations

from sketcher.inspect.advice_rows import advice_in_short, advice_rows
from sketcher.inspect.inspection import Inspection
from sketcher.part.value import Part
from tests.plates import looked_at, plate, rectangle


def holes(web: float, edge: float, thickness: float = 3.0) -> Part:
    """Two holes of 20 with a web between them, one of them near the left edge."""
    points, lines = rectangle(120.0, 60.0)
    return plate({**points, "c": (10.0 + edge, 30.0), "d": (30.0 + edge + web, 30.0)},
                 {**lines, "h": ("c", 10.0), "k": ("d", 10.0)}, thickness=thickness)


def short(inspection: Inspection) -> tuple[str, bool]:
    told = advice_in_short(inspection, advice_rows(inspection.cutting))
    return told.text, told.strong


def test_the_images_of_a_place_are_one_row() -> None:
    points, lines = rectangle(40.0, 40.0)
    lines = {name: row for name, row in lines.items() if name != "pe4"}
    part = plate({**points, "c": (20.0, 20.0), "a": (0.0, -5.0), "b": (0.0, 45.0)},
                 {**lines, "h": ("c", 0.5), "ax": ("a", "b")}, roles={"ax": "axis"}, axis="ax")
    given = [one for one in looked_at(part).cutting if one.rule == "hole size"]
    assert [one.where for one in given if one.process == "laser"] == ["h", "h'"]
    rows = [row for row in advice_rows(given) if row.advice.process == "laser"]
    assert [(row.where, row.ids) for row in rows] == [("h and h'", ("h", "h'"))]


def test_what_may_not_outlive_the_cut_comes_first_and_the_worst_of_it() -> None:
    rows = advice_rows(looked_at(holes(web=0.3, edge=2.0)).cutting)
    serious = [row.serious for row in rows]
    assert serious == sorted(serious, reverse=True)
    assert rows[0].advice.rule == "web"
    shares = [row.share for row in rows if row.serious]
    assert shares == sorted(shares)


def test_in_short_the_places_are_counted_and_the_least_is_told() -> None:
    assert short(looked_at(holes(web=0.291, edge=9.0))) == (
        "1 place to look at: least web 0.291 mm", True)
    assert short(looked_at(holes(web=0.4, edge=0.291))) == (
        "2 places to look at: least hole to edge 0.291 mm", True)
    # 4 is wide enough for a laser (1 t) and not for plasma (1.5 t): told, and not strongly.
    assert short(looked_at(holes(web=4.0, edge=9.0))) == (
        "1 place to look at: least web 4 mm", False)
    assert short(looked_at(holes(web=9.0, edge=9.0))) == ("nothing to mind", False)


def test_what_is_not_judged_is_told_in_place_of_a_better_list() -> None:
    crossing = looked_at(holes(web=-3.0, edge=9.0))
    assert crossing.unjudged == "not judged where the outline crosses or covers itself"
    assert crossing.unjudged in short(crossing)[0]
    whole = holes(web=9.0, edge=9.0)
    opened = whole.having(curves={k: c for k, c in whole.curves.items() if k != "pe4"})
    assert looked_at(opened).unjudged == "not judged where the outline is open"
    assert looked_at(whole).unjudged == ""


def test_a_narrow_place_of_a_slot_across_the_axis_is_named_by_what_is_drawn() -> None:
    """Drawn on either side of the axis: what lies on the left is looked at first."""
    points = {"p1": (0.0, 0.0), "p2": (40.0, 0.0), "p3": (40.0, 30.0), "p4": (0.0, 30.0),
              "q1": (0.0, 2.0), "q2": (20.0, 2.0), "q3": (20.0, 6.0), "q4": (0.0, 6.0),
              "a": (0.0, -5.0), "b": (0.0, 45.0)}
    for side in (1.0, -1.0):
        drawn = {name: (side * x, y) for name, (x, y) in points.items()}
        part = plate(drawn, {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"),
                             "h1": ("q1", "q2"), "h2": ("q2", "q3"), "h3": ("q3", "q4"),
                             "ax": ("a", "b")}, roles={"ax": "axis"}, axis="ax", thickness=6.0)
        rows = [row for row in advice_rows(looked_at(part).cutting)
                if row.advice.rule == "hole to edge"]
        assert rows
        for row in rows:
            assert "'" not in row.where
            assert not any("'" in name for name in row.ids)
            assert row.advice.at is not None
            assert side * row.advice.at[0] >= 0.0  # where that is drawn
