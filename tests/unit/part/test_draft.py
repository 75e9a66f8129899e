"""Building and taking apart: ids, reuse, what falls away, what is left alone."""

from __future__ import annotations

from math import nan

import pytest

from sketcher.errors import EditError
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Drawing, GridPattern, Mirror, Part, PolarPattern, frozen
from tests.refusals import refused


def plate() -> Draft:
    draft = Draft(Part())
    a, b, c = draft.point((0, 0)), draft.point((10, 0)), draft.point((10, 5))
    draft.line(a, b)
    draft.line(b, c)
    draft.arc(c, a, (4, 9))
    draft.circle((5, 2), 1.0)
    draft.line((0, -5), (0, 5), "axis")
    draft.line((1, 1), (2, 2), "layout")
    draft.bind("level", ["e1"])
    draft.bind("run", ["p1", "p2"], 10)
    draft.bind("radius", ["h1"], "2", drives=False)
    return draft


def test_ids_tell_what_they_name() -> None:
    part = plate().done()
    assert list(part.curves) == ["e1", "e2", "a1", "h1", "x1", "s1"]
    assert list(part.points) == [f"p{i}" for i in range(1, 10)]
    assert list(part.bindings) == ["b1", "b2", "b3"]
    assert part.bindings["b2"].value == "10"


def test_ids_are_unique_across_kinds_of_things() -> None:
    draft = plate()
    draft.point((0, 0), name="e3")
    assert draft.line("p1", "p3") == "e4"
    for name in ("p1", "e1", "b1"):
        with refused(name, EditError):
            draft.point((0, 0), name=name)


def test_many_ids_are_handed_out_quickly_and_in_order() -> None:
    draft = Draft(Part())
    names = [draft.point((i, 0)) for i in range(3000)]
    assert names[-1] == "p3000"
    assert Draft(draft.done()).point((0, 0)) == "p3001"


def test_points_nearby_are_used_again() -> None:
    draft = plate()
    assert draft.point((10.1, 0.1), near=0.5) == "p2"
    assert draft.point((10.1, 0.1), near=0.1) == "p10"
    assert draft.point_near((100, 100), 1.0) is None


def test_untouched_mappings_are_the_very_same() -> None:
    part = plate().done()
    draft = Draft(part)
    assert draft.done() is part
    draft.bind("plumb", ["e2"])
    after = draft.done()
    assert after.points is part.points
    assert after.curves is part.curves
    assert after.bindings is not part.bindings
    assert "b4" not in part.bindings


def test_a_removed_curve_takes_what_hangs_on_it() -> None:
    draft = plate()
    draft.remove("e1")
    part = draft.done()
    assert draft.dropped == ["b1"]
    assert "p1" in part.points  # the arc still ends there
    assert "p2" in part.points
    draft = plate()
    draft.remove("h1", "s1")
    part = draft.done()
    assert draft.dropped == ["b3"]
    assert not {"p5", "p8", "p9"} & part.points.keys()


def test_a_removed_point_takes_its_curves() -> None:
    draft = plate()
    draft.remove("p2")
    part = draft.done()
    assert list(part.curves) == ["a1", "h1", "x1", "s1"]
    assert draft.dropped == ["b1", "b2"]
    assert set(part.points) >= {"p1", "p3", "p4"}


def test_a_removed_binding_is_not_listed_as_dropped() -> None:
    draft = plate()
    draft.remove("b1")
    assert draft.dropped == []
    assert list(draft.bindings) == ["b2", "b3"]


def test_the_text_of_a_removed_dimension_is_forgotten() -> None:
    drawing = Drawing(placed=frozen({"b1": (1.0, 2.0), "b3": (3.0, 4.0)}))
    draft = Draft(plate().done().having(drawing=drawing))
    draft.remove("b3")
    assert draft.bind("radius", ["h1"], "2") == "b3"
    assert dict(draft.done().drawing.placed) == {"b1": (1.0, 2.0)}
    draft = Draft(draft.done())
    draft.move_point("p1", (1, 1))
    assert draft.done().drawing.placed["b1"] == (1.0, 2.0)


def test_patterns_and_mirrors_follow() -> None:
    draft = plate()
    other = draft.circle((6, 2), 1.0)
    grid = draft.pattern(GridPattern(("h1", other), ("3", "3"), (2, 2)))
    polar = draft.pattern(PolarPattern((other,), "p1", 3))
    draft.set_mirrors([Mirror("x1", ("h1", "e2"))])
    draft.remove("h1")
    assert draft.patterns[grid].curves == (other,)
    assert draft.done().mirrors == (Mirror("x1", ("e2",)),)
    draft.remove("p1")
    assert polar not in draft.patterns
    assert polar in draft.dropped
    draft.remove("x1")
    assert draft.done().mirrors == ()
    assert [name for name in draft.dropped if "x1" in name.split()]


def test_a_pattern_keeps_its_center() -> None:
    draft = Draft(Part())
    hole = draft.circle((0, 0), 2.0)
    small = draft.circle((5, 0), 1.0)
    draft.pattern(PolarPattern((small,), "p1", 6))
    draft.remove(hole)
    assert "p1" in draft.points


def test_changes_keep_the_order() -> None:
    draft = plate()
    draft.change_binding("b1", drives=False)
    draft.change_curve("e1", role="layout")
    draft.move_point("p1", (1, 1))
    part = draft.done()
    assert list(part.bindings) == ["b1", "b2", "b3"]
    assert next(iter(part.curves)) == "e1"
    assert part.curves["e1"].role == "layout"
    assert part.points["p1"] == (1.0, 1.0)


@pytest.mark.parametrize(
    ("wrong", "place"),
    [
        (lambda d: d.point((nan, 0)), "point"),
        (lambda d: d.circle((0, 0), 0.0), "curve"),
        (lambda d: d.circle((0, 0), -1.0), "curve"),
        (lambda d: d.point((2e9, 0)), "point"),
        (lambda d: d.line("p1", "p99"), "curve"),
        (lambda d: d.line("p1", "p1"), "curve"),
        (lambda d: d.arc("p1", "p2", "p2"), "curve"),
        (lambda d: d.change_curve("h1", radius=0.0), "h1"),
        (lambda d: d.change_curve("e1", ends=("p2", "p2")), "e1"),
        (lambda d: d.bind("run", ["p1", "p1"], "3"), "run"),
        (lambda d: d.bind("level", ["e99"]), "level"),
        (lambda d: d.remove("zz"), "zz"),
        (lambda d: d.move_point("zz", (0, 0)), "zz"),
        (lambda d: d.change_binding("zz", value="1"), "zz"),
    ],
)
def test_what_cannot_be_is_told_and_leaves_the_part(wrong, place: str) -> None:
    part = plate().done()
    with refused(place, EditError):
        wrong(Draft(part))
    assert part == plate().done()
