"""Laws of the reflection: it is its own inverse, and the whole part is symmetric about the axis."""

from __future__ import annotations

from math import hypot

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import reflected
from sketcher.part.edits import EDITS
from sketcher.part.mirror import Reflector, reflector, same_place
from sketcher.part.part_size import part_size
from sketcher.part.value import Mirror, Part
from sketcher.part.whole import whole
from tests.seldom import examples
from tests.strategies import chains

PLACES = st.tuples(st.floats(-1000, 1000), st.floats(-1000, 1000))


def with_mirrors(part: Part) -> Part:
    """The part with its first mirror over all of the outline."""
    axes = [m.axis for m in part.mirrors] or [
        name for name, curve in part.curves.items() if curve.kind == "line"
    ]
    assume(axes)
    start, end = (part.points[p] for p in part.curves[axes[0]].points)
    assume(hypot(start[0] - end[0], start[1] - end[1]) > 1e-3 * part_size(part))
    return part.having(mirrors=(Mirror(axes[0]),))


@given(PLACES, PLACES, PLACES)
@settings(max_examples=300)
def test_twice_is_back(start, end, at) -> None:
    assume(hypot(start[0] - end[0], start[1] - end[1]) > 1e-2)
    reflection = Reflector(Line(start, end))
    image = reflection.point(at)
    back = reflection.point(image)
    assert hypot(back[0] - at[0], back[1] - at[1]) < 1e-9
    # The axis bisects the way to the image, square.
    middle = (0.5 * (at[0] + image[0]), 0.5 * (at[1] + image[1]))
    assert abs(reflection.height(middle)) < 1e-9


@given(PLACES, PLACES, PLACES, PLACES, PLACES, st.booleans())
@settings(max_examples=200)
def test_curves_reflect_as_in_the_geometry(start, end, a, b, c, ccw) -> None:
    assume(hypot(start[0] - end[0], start[1] - end[1]) > 1.0)
    axis = Line(start, end)
    for curve in (Line(a, b), Arc(c, a, b, ccw), Circle(a, 3.0)):
        assert same_place(Reflector(axis).curve(curve), reflected(curve, axis), 1e-8)


@examples(40, 100, suppress_health_check=list(HealthCheck))
@given(chains(most=8))
def test_the_whole_part_is_symmetric(part: Part) -> None:
    part = with_mirrors(part)
    axis = part.mirrors[0].axis
    reflection = reflector(part, part.mirrors[0])
    pieces = [p for p in whole(part) if p.role == "outline" and p.source != axis]
    loose = 1e-7 * part_size(part)
    for piece in pieces:
        image = reflection.curve(piece.curve)
        assert any(same_place(other.curve, image, loose) for other in pieces), piece


@examples(30, 60, suppress_health_check=list(HealthCheck))
@given(chains(most=8))
def test_a_flipped_half_makes_the_same_whole(part: Part) -> None:
    part = with_mirrors(part).having(patterns={}, bindings={})
    axis = part.mirrors[0].axis
    flipped = EDITS["flip"](part).part
    loose = 1e-7 * part_size(part)
    mine, theirs = (
        [p for p in whole(which) if p.role == "outline" and p.source != axis]
        for which in (part, flipped)
    )
    assert len(mine) == len(theirs)
    for piece in mine:
        assert any(same_place(piece.curve, other.curve, loose) for other in theirs), piece
