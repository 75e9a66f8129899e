"""Laws of the shape tools and of the clean-up on random outlines.

Whatever one thing is spoiled, mending gives the sound outline of the same area back; what is done
and taken back leaves the geometry where it was.
"""

from __future__ import annotations

from math import cos, hypot, pi, sin

import pytest
from hypothesis import HealthCheck, assume, given
from hypothesis import strategies as st

from sketcher.errors import SketcherError
from sketcher.geometry.curves import Line
from sketcher.geometry.evaluate import point_at
from sketcher.geometry.loops import find_loops
from sketcher.inspect.cleanup import defects, mend_all, mends, run
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.file_text import read, write
from sketcher.part.value import GridPattern, Part
from sketcher.part.whole import half, whole
from tests.seldom import examples
from tests.strategies import chains

QUICK = examples(25, 60,
                 suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
shares = st.floats(0.05, 0.95)
XY = tuple[float, float]


@st.composite
def stars(draw: st.DrawFn) -> Draft:
    """A polygon around the origin that sees all of its edges, and a round hole in the middle."""
    count = draw(st.integers(4, 9))
    radii = [draw(st.floats(30.0, 60.0)) for _ in range(count)]
    start = draw(st.floats(0.0, 2.0 * pi))
    draft = Draft(Part())
    points = [
        draft.point((r * cos(start + 2.0 * pi * k / count), r * sin(start + 2.0 * pi * k / count)))
        for k, r in enumerate(radii)
    ]
    for k in range(count):
        draft.line(points[k], points[(k + 1) % count])
    draft.circle((0.0, 0.0), 8.0)
    return draft


def at(draft: Draft, edge: str, share: float) -> XY:
    (x0, y0), (x1, y1) = (draft.points[p] for p in draft.curves[edge].points)
    return (x0 + share * (x1 - x0), y0 + share * (y1 - y0))


def outline(part: Part):
    return find_loops([(p.id, p.curve) for p in whole(part) if p.role == "outline"])


def twin(draft: Draft, edge: str, one: float, other: float) -> None:
    a, b = at(draft, edge, 0.0), at(draft, edge, 1.0)
    draft.line(*((a, b) if one < other else (b, a)))


def covered(draft: Draft, edge: str, one: float, other: float) -> None:
    assume(abs(one - other) > 0.05)
    draft.line(at(draft, edge, one), at(draft, edge, other))


def speck(draft: Draft, edge: str, one: float, other: float) -> None:
    start, end = draft.curves[edge].points
    new = draft.point(at(draft, edge, 1.0 - 1e-8 * one))
    draft.change_curve(edge, ends=(start, new))
    draft.line(new, end)


def gap(draft: Draft, edge: str, one: float, other: float) -> None:
    start, _ = draft.curves[edge].points
    draft.change_curve(edge, ends=(start, draft.point(at(draft, edge, 1.0 - 0.01 * one))))


def overrun(draft: Draft, edge: str, one: float, other: float) -> None:
    start, _ = draft.curves[edge].points
    draft.change_curve(edge, ends=(start, draft.point(at(draft, edge, 1.0 + 0.01 * one))))


def stub(draft: Draft, edge: str, one: float, other: float) -> None:
    end = draft.curves[edge].points[1]
    x, y = draft.points[end]
    draft.line(end, ((1.0 + one) * x, (1.0 + one) * y))


def tail(draft: Draft, edge: str, one: float, other: float) -> None:
    """A line from a place on an edge, outward."""
    x, y = at(draft, edge, other)
    draft.line((x, y), ((1.1 + one) * x, (1.1 + one) * y))


SPOILS = (twin, covered, speck, gap, overrun, stub, tail)


@QUICK
@given(stars(), st.sampled_from(SPOILS), st.integers(1, 4), shares, shares)
def test_mending_gives_the_sound_outline_back(draft, spoil, number, one, other) -> None:
    clean = draft.done()
    assert defects(clean) == ()
    area = outline(clean).moments.area
    spoil(draft, f"e{number}", one, other)
    spoiled = draft.done()
    assert defects(spoiled)
    edited = mend_all(spoiled)
    assert defects(edited.part) == ()
    loops = outline(edited.part)
    assert loops.sound
    assert loops.moments.area == pytest.approx(area, rel=1e-6)
    assert len(edited.part.curves) == len(clean.curves)


@QUICK
@given(stars(), st.integers(1, 4), shares)
def test_split_and_join_are_inverse(draft, number, share) -> None:
    part, name = draft.done(), f"e{number}"
    before = half(part)
    split = EDITS["split"](part, name, at(draft, name, share))
    new, point = split.made
    x, y = at(draft, name, share)
    assert hypot(split.part.points[point][0] - x, split.part.points[point][1] - y) < 1e-9
    lengths = [half(split.part)[n].length for n in (name, new)]
    assert sum(lengths) == pytest.approx(before[name].length, rel=1e-12)
    joined = EDITS["join"](split.part, name, new).part
    assert half(joined) == before


@QUICK
@given(stars(), st.integers(1, 4))
def test_the_corner_of_two_curves_does_not_depend_on_their_order(draft, number) -> None:
    one, other = f"e{number}", "e1" if number > 2 else "e4"
    a, b = (half(draft.done())[n] for n in (one, other))
    assert isinstance(a, Line)
    assert isinstance(b, Line)
    cross = a.direction[0] * b.direction[1] - a.direction[1] * b.direction[0]
    shared = set(draft.curves[one].points) & set(draft.curves[other].points)
    assume(abs(cross) > 0.05 and not shared)
    part = draft.done()
    first = EDITS["corner"](part, one, other)
    second = EDITS["corner"](part, other, one)
    (p,), (q,) = first.made, second.made
    assert first.part.points[p] == pytest.approx(second.part.points[q], abs=1e-9)


@QUICK
@given(stars(), st.floats(-50, 50), st.floats(-50, 50), st.floats(-180, 180))
def test_moved_and_turned_things_come_back(draft, x, y, angle) -> None:
    part = draft.done()
    names = tuple(part.curves)
    moved = EDITS["move"](part, names, (x, y)).part
    turned = EDITS["rotate"](moved, names, (3.0, 4.0), angle).part
    back = EDITS["move"](EDITS["rotate"](turned, names, (3.0, 4.0), -angle).part, names, (-x, -y))
    for name, place in part.points.items():
        assert back.part.points[name] == pytest.approx(place, abs=1e-9)
    assert outline(turned).moments.area == pytest.approx(outline(part).moments.area, rel=1e-12)


@QUICK
@given(stars(), st.floats(0.0, pi))
def test_reflecting_twice_is_nothing(draft, turn) -> None:
    axis = draft.line((5.0, -7.0), (5.0 + 40.0 * cos(turn), -7.0 + 40.0 * sin(turn)), "layout")
    part = draft.done()
    names = tuple(n for n in part.curves if n != axis)
    once = EDITS["reflect"](part, names, axis, keep=False).part
    twice = EDITS["reflect"](once, names, axis, keep=False).part
    for name, place in part.points.items():
        assert twice.points[name] == pytest.approx(place, abs=1e-9)
    assert twice.curves == part.curves


@QUICK
@given(stars(), st.integers(1, 5), st.integers(1, 5), st.floats(0.5, 30), st.floats(0.5, 30))
def test_a_grid_has_its_places(draft, columns, rows, along, up) -> None:
    part = draft.done()
    pattern = GridPattern(("h1",), (repr(along), repr(up)), (columns, rows))
    made = EDITS["set_pattern"](part, pattern).part
    centers = {(round(p.curve.center[0] / along), round(p.curve.center[1] / up))  # type: ignore[union-attr]
               for p in whole(made) if p.source == "h1"}
    assert centers == {(i, j) for i in range(columns) for j in range(rows)}


@QUICK
@given(stars(), st.integers(1, 4), shares, st.floats(0.2, 0.9))
def test_cut_back_takes_exactly_the_span(draft, number, share, reach) -> None:
    name = f"e{number}"
    x, y = at(draft, name, share)
    draft.line((0.9 * x, 0.9 * y), ((1.0 + reach) * x, (1.0 + reach) * y), name="post")
    part = draft.done()
    curve = half(part)[name]
    span = share if share < 0.5 else 1.0 - share
    pick = point_at(curve, 0.5 * share if share < 0.5 else 1.0 - 0.5 * span)
    edited = EDITS["cut_back"](part, name, pick, ("post",))
    assert half(edited.part)[name].length == pytest.approx((1.0 - span) * curve.length, rel=1e-9)


@examples(30, 80,
          suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(chains())
def test_any_part_can_be_looked_through(part: Part) -> None:
    """Whatever is drawn: defects are told with a place, and every proposed step can be taken."""
    try:
        found = defects(part)
    except SketcherError:
        return  # an axis without length: there is no whole part
    for defect in found:
        assert all(name in part.curves or name in part.points for name in defect.ids)
        assert defect.size >= 0.0
        if defect.step is not None:
            after = defect.step.apply(part).part
            assert after is not part
            assert read(write(after)) == after


@examples(25, 60,
          suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(chains())
def test_mending_comes_to_an_end(part: Part) -> None:
    try:
        before = defects(part)
    except SketcherError:
        return
    done = run(part)
    assert done.number <= 2 * (len(part.curves) + len(part.points)) * len(mends())
    assert before or done.part is part


def test_mending_ends_beside_curves_no_longer_than_their_gap() -> None:
    """Two small arcs that share one end, far from a third curve: their other ends stay apart."""
    draft = Draft(Part())
    p1, p2, p4 = (draft.point(xy) for xy in ((123.6, 0.0), (122.9, -0.47), (122.7, -0.05)))
    draft.arc(p1, p2, (123.08, 0.0), "cw")
    draft.arc(p2, p4, (122.4, -0.47))
    draft.circle((0.0, 0.0), 0.001)
    assert run(draft.done()).number < 10
