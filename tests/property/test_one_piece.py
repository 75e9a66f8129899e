"""Random plates with one more curve: drawn twice it is an overlap, elsewhere it is detached."""

from __future__ import annotations

from math import cos, hypot, pi, sin

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sketcher.geometry.curves import Arc
from sketcher.geometry.evaluate import point_at
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part
from sketcher.part.whole import half
from tests.plates import codes, looked_at
from tests.property.test_cut_round_trip import profiles
from tests.seldom import examples


def again(part: Part, name: str, span: tuple[float, float]) -> Part:
    """The part with a curve drawn once more from one share of its length to another."""
    curve, shape = part.curves[name], half(part)[name]
    ends = tuple(point_at(shape, t) for t in span)
    points = {**part.points, "again1": ends[0], "again2": ends[1]}
    made: LineCurve | ArcCurve | CircleCurve
    if isinstance(curve, CircleCurve):
        made = CircleCurve(curve.center, curve.radius)
    elif isinstance(curve, ArcCurve):
        assert isinstance(shape, Arc)
        turn = "ccw" if shape.ccw == (span[0] < span[1]) else "cw"
        made = ArcCurve(("again1", "again2"), curve.center, turn)  # type: ignore[arg-type]
    else:
        made = LineCurve(("again1", "again2"))
    return part.having(points=points, curves={**part.curves, "again": made})


spans = st.one_of(
    st.sampled_from([(0.0, 1.0), (1.0, 0.0), (0.0, 0.5), (1.0, 0.25)]),
    st.tuples(st.floats(0.0, 0.45), st.floats(0.55, 1.0)),
)


@examples(50, 150)
@given(part=profiles(), data=st.data(), span=spans)
def test_a_curve_drawn_twice_is_an_overlap_and_nothing_else(
    part: Part, data: st.DataObject, span: tuple[float, float]
) -> None:
    assume(looked_at(part).sound)
    name = data.draw(st.sampled_from(sorted(part.curves)))
    inspection = looked_at(again(part, name, span))
    assert codes(inspection) == ["overlap"]
    assert set(inspection.findings[0].ids) == {name, "again"}
    assert inspection.profile.area == pytest.approx(looked_at(part).profile.area, rel=1e-9)


@examples(40, 100)
@given(part=profiles(), angle=st.floats(0.0, 2.0 * pi), share=st.floats(0.001, 0.4),
       away=st.floats(1.01, 3.0))
def test_a_circle_off_a_random_plate_is_detached(
    part: Part, angle: float, share: float, away: float
) -> None:
    sound = looked_at(part)
    assume(sound.sound)
    x0, y0, x1, y1 = sound.profile.bounds
    size = 0.5 * hypot(x1 - x0, y1 - y0)
    radius = share * size
    reach = away * (size + radius)  # clear of the circle around the box
    at = (0.5 * (x0 + x1) + reach * cos(angle), 0.5 * (y0 + y1) + reach * sin(angle))
    moved = part.having(points={**part.points, "off": at},
                        curves={"stray": CircleCurve("off", radius), **part.curves})
    inspection = looked_at(moved)
    assert codes(inspection) == ["detached"]
    assert inspection.findings[0].ids == ("stray",)
    assert inspection.profile.area == pytest.approx(sound.profile.area, rel=1e-12)
    assert inspection.profile.perimeter == pytest.approx(sound.profile.perimeter, rel=1e-12)
    assert inspection.profile.bounds == sound.profile.bounds
