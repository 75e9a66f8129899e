"""The whole part: images made, doubled ones left out, joints on the axis exact."""

from __future__ import annotations

import sys
from dataclasses import replace
from math import cos, radians, sin

import pytest

from sketcher.errors import GeometryError, QuantityError
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.part.edits.draft import Draft
from sketcher.part.instances import places
from sketcher.part.mirror import Reflector, same_place
from sketcher.part.value import GridPattern, Mirror, Part, PolarPattern
from sketcher.part.whole import middle, whole
from tests.refusals import refused


def ids(part: Part) -> list[str]:
    return [piece.id for piece in whole(part)]


def half_plate(angle: float = 90.0) -> Draft:
    """Axis through (3, 1) at an angle from level, with curves on, across and beside it."""
    draft = Draft(Part())
    c, s = cos(radians(angle)), sin(radians(angle))

    def at(u: float, v: float) -> tuple[float, float]:
        """Place `u` along the axis and `v` to its right."""
        return (3.0 + u * c + v * s, 1.0 + u * s - v * c)

    draft.line(at(0, 0), at(100, 0), "axis", name="ax")
    draft.line(draft.curves["ax"].ends[0], at(0, 30), name="foot")
    draft.line(at(0, 30), at(80, 20), name="side")
    draft.circle(at(50, 0), 6.0, name="bore")
    draft.circle(at(20, 15), 4.0, name="hole")
    draft.arc(at(90, 10), at(90, -10), at(80, 0), name="crown")
    draft.line(at(70, -5), at(70, 5), name="across")
    draft.line(at(5, 0), at(15, 0), name="seam")
    draft.line(at(0, 40), at(80, 40), "layout", name="scribe")
    draft.set_mirrors([Mirror("ax")])
    return draft


@pytest.mark.parametrize("angle", [90.0, 0.0, 37.0, -142.5])
def test_what_lies_on_or_across_the_axis_is_not_doubled(angle: float) -> None:
    part = half_plate(angle).done()
    assert [name for name in ids(part) if name.endswith("'")] == ["foot'", "side'", "hole'"]


@pytest.mark.parametrize("angle", [90.0, 0.0, 37.0, -142.5])
def test_an_edge_joins_its_reflection_exactly(angle: float) -> None:
    pieces = {piece.id: piece for piece in whole(half_plate(angle).done())}
    assert pieces["foot'"].curve.start == pieces["foot"].curve.start
    assert pieces["side'"].curve.start == pieces["foot'"].curve.end
    assert pieces["foot'"].source == "foot"
    assert not pieces["foot'"].drawn
    assert pieces["foot"].drawn


def test_within_the_tolerance_counts_as_on_the_axis() -> None:
    draft = half_plate()
    point = draft.curves["bore"].center
    x, y = draft.points[point]
    draft.move_point(point, (x + 5e-8, y))  # the part is 100 in size: 1e-9 of it is 1e-7
    draft.circle((3.0 + 1e-5, 20.0), 2.0, name="off")
    names = ids(draft.done())
    assert "bore'" not in names
    assert "off'" in names


def test_a_reflected_arc_turns_the_other_way_and_keeps_its_places() -> None:
    reflection = Reflector(Line((0.0, 0.0), (1.0, 2.0)))
    arc = Arc((5.0, 1.0), (7.0, 1.0), (5.0, 3.0), True)
    image = reflection.curve(arc)
    assert isinstance(image, Arc)
    assert image.sweep == pytest.approx(-arc.sweep, rel=1e-14)
    assert middle(image) == pytest.approx(reflection.point(middle(arc)), rel=1e-14)
    back = reflection.curve(image)
    assert same_place(back, arc, 1e-14)


def test_reflection_about_plumb_and_level_axes_is_exact() -> None:
    plumb = Reflector(Line((3.0, -1.0), (3.0, 50.0)))
    level = Reflector(Line((9.0, 0.25), (-2.0, 0.25)))
    assert plumb.point((3.1, 7.7)) == (3.0 - (3.1 - 3.0), 7.7)
    assert level.point((3.1, 7.75)) == (3.1, -7.25)


def test_two_axes_give_four_images() -> None:
    draft = Draft(Part())
    draft.line((0, -10), (0, 10), "axis", name="x1")
    draft.line((-10, 0), (10, 0), "axis", name="x2")
    draft.circle((4, 3), 1.0, name="h")
    draft.line((0, 8), (6, 8), name="top")
    draft.set_mirrors([Mirror("x1"), Mirror("x2")])
    pieces = {piece.id: piece.curve for piece in whole(draft.done())}
    centers = {name: pieces[name].center for name in ("h", "h'", "h''", "h'''")}
    assert centers == {"h": (4, 3), "h'": (-4, 3), "h''": (4, -3), "h'''": (-4, -3)}
    assert pieces["top'"].start == pieces["top"].start == (0, 8)
    assert set(pieces) == {"x1", "x2", *centers, "top", "top'", "top''", "top'''"}


def test_only_the_named_curves_are_reflected() -> None:
    draft = half_plate()
    draft.set_mirrors([Mirror("ax", ("hole", "scribe"))])
    assert [name for name in ids(draft.done()) if name.endswith("'")] == ["hole'", "scribe'"]


def test_an_axis_without_length_is_told() -> None:
    draft = half_plate()
    draft.move_point(draft.curves["ax"].ends[1], draft.points[draft.curves["ax"].ends[0]])
    with refused("mirror", GeometryError):
        whole(draft.done())


def test_a_grid_is_placed_by_its_expressions() -> None:
    draft = Draft(Part(parameters={"pitch": "30"}))
    draft.circle((10, 20), 2.0, name="h")
    draft.pattern(GridPattern(("h",), ("pitch", "24"), (3, 2), "90"))
    centers = {p.id: p.curve.center for p in whole(draft.done())}
    assert centers == {
        "h": (10, 20), "h#1": (10, 50), "h#2": (10, 80),
        "h#3": (-14, 20), "h#4": (-14, 50), "h#5": (-14, 80),
    }


def test_a_smaller_span_has_places_at_both_ends() -> None:
    draft = Draft(Part())
    center = draft.point((0, 0))
    draft.circle((10, 0), 1.0, name="h")
    draft.pattern(PolarPattern(("h",), center, 3, "-90"), name="r")
    assert [place.degrees for place in places(draft.done(), "r")] == [-45.0, -90.0]
    assert whole(draft.done())[-1].curve.center == (0.0, -10.0)


def test_instances_of_two_patterns_are_numbered_on() -> None:
    draft = Draft(Part())
    draft.circle((0, 0), 1.0, name="h")
    draft.pattern(GridPattern(("h",), ("5", "5"), (2, 1)))
    draft.pattern(GridPattern(("h",), ("5", "7"), (1, 2)))
    assert ids(draft.done()) == ["h", "h#1", "h#2"]


def test_a_pattern_symmetric_about_the_axis_is_not_doubled() -> None:
    draft = Draft(Part())
    center = draft.point((0, 0))
    draft.line((-50, 0), (50, 0), "axis", name="x1")
    draft.line((0, -50), (0, 50), "axis", name="x2")
    draft.circle((30 * cos(0.3), 30 * sin(0.3)), 3.0, name="h")
    draft.circle((40, 0), 3.0, name="k")
    draft.pattern(PolarPattern(("k",), center, 6))
    draft.set_mirrors([Mirror("x1"), Mirror("x2")])
    names = ids(draft.done())
    assert [n for n in names if n.startswith("h")] == ["h", "h'", "h''", "h'''"]
    assert [n for n in names if n.startswith("k")] == ["k", *(f"k#{i}" for i in range(1, 6))]


def test_pattern_curves_are_moved_as_they_are() -> None:
    draft = Draft(Part())
    center = draft.point((0, 0))
    draft.line((1, 0), (2, 0), name="e")
    draft.arc((2, 0), (3, 1), (2, 1), "ccw", name="a")
    draft.pattern(PolarPattern(("e", "a"), center, 4))
    pieces = {piece.id: piece.curve for piece in whole(draft.done())}
    assert pieces["e#1"] == Line((0, 1), (0, 2))
    assert pieces["a#2"] == Arc((-2, -1), (-2, 0), (-3, -1), True)
    assert pieces["a#1"].start == pieces["e#1"].end


def test_a_step_that_cannot_be_evaluated_is_named() -> None:
    draft = Draft(Part())
    draft.circle((0, 0), 1.0, name="h")
    draft.pattern(GridPattern(("h",), ("pitch", "5"), (2, 1)), name="g")
    with pytest.raises(QuantityError) as caught:
        whole(draft.done())
    assert caught.value.place == "patterns.g.step[0]"


def test_same_place() -> None:
    full = Arc((0, 0), (1, 0), (1, 0))
    assert same_place(full, Arc((0, 0), (0, 1), (0, 1), False), 1e-12)
    assert same_place(Line((0, 0), (1, 1)), Line((1, 1), (0, 0)), 0.0)
    assert not same_place(Line((0, 0), (1, 1)), Line((0, 0), (1, 2)), 1e-9)
    upper, lower = Arc((0, 0), (1, 0), (-1, 0), True), Arc((0, 0), (1, 0), (-1, 0), False)
    assert not same_place(upper, lower, 1e-9)
    assert same_place(upper, Arc((0, 0), (-1, 0), (1, 0), False), 1e-9)
    assert not same_place(Circle((0, 0), 1.0), Circle((0, 0), 1.1), 1e-9)
    assert not same_place(Circle((0, 0), 1.0), full, 1e-9)


def test_a_part_of_almost_no_size_has_a_reflection() -> None:
    draft = Draft(Part())
    line = draft.line((0.0, 1.0), (sys.float_info.min, 1.0))
    part = replace(draft.done(), mirrors=(Mirror(line),))
    assert ids(part) == [line]
