"""Tracing: regions and walks become outline that is bound by the layout alone."""

from __future__ import annotations

from math import cos, hypot, pi, radians, sin

import pytest

from sketcher.errors import EditError
from sketcher.geometry.loops import find_loops
from sketcher.part.arranged import arranged
from sketcher.part.edited import Edited
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.set_mirror import set_mirror
from sketcher.part.edits.set_value import set_value
from sketcher.part.value import Part
from sketcher.part.whole import curve_value
from sketcher.solve import solve
from tests.layouts import fixed_point, grid
from tests.refusals import refused

trace = EDITS["trace"]
trace_along = EDITS["trace_along"]


def settled(edited: Edited) -> Part:
    """The solved part: nothing loose, nothing said twice, nothing moved."""
    solution = solve(edited.part)
    report = solution.report
    loose = [each.point for each in report.loose]
    assert (report.state, loose, report.doubled) == ("bound", [], ())
    for name, (x, y) in edited.part.points.items():
        assert solution.part.points[name] == pytest.approx((x, y), abs=1e-8)
    return solution.part


def loops_of(part: Part):  # type: ignore[no-untyped-def]
    return find_loops([(n, curve_value(part, c)) for n, c in part.curves.items()
                       if c.role == "outline"])


def area(part: Part) -> float:
    found = loops_of(part)
    assert not found.strays
    assert not found.overlaps
    return float(found.moments.area)


def with_circles(part: Part, *given: tuple[float, float, float]) -> Part:
    draft = Draft(part)
    for x, y, radius in given:
        circle = draft.circle(fixed_point(draft, (x, y)), radius, "layout")
        draft.bind("radius", (circle,), radius)
    return draft.done()


def with_axis(part: Part, a: tuple[float, float], b: tuple[float, float]) -> Part:
    draft = Draft(part)
    draft.line(fixed_point(draft, a), fixed_point(draft, b), "axis")
    return draft.done()


def test_a_region_of_four_lines() -> None:
    part = grid((0.0, 40.0), (0.0, 25.0))
    edited = trace(part, [(20.0, 12.0)])
    made = settled(edited)
    assert area(made) == pytest.approx(1000.0, abs=1e-9)
    assert edited.made[:4] == ("e1", "e2", "e3", "e4")
    assert [made.bindings[b].kind for b in edited.made[4:]] == ["on"] * 8
    assert all(made.curves[n].role == "layout" for n in part.curves)
    assert part.curves.items() <= made.curves.items()


def test_regions_taken_together_and_one_taken_away() -> None:
    part = grid((0.0, 20.0, 40.0), (0.0, 25.0))
    made = settled(trace(part, [(10.0, 12.0), (30.0, 12.0)]))
    assert area(made) == pytest.approx(1000.0, abs=1e-9)
    assert sum(c.role == "outline" for c in made.curves.values()) == 4
    away = settled(trace(part, [(10.0, 12.0), (30.0, 12.0), (11.0, 3.0)]))
    assert area(away) == pytest.approx(500.0, abs=1e-9)


def test_a_region_with_two_holes() -> None:
    part = with_circles(grid((0.0, 40.0), (0.0, 25.0)), (10.0, 12.0, 4.0), (30.0, 12.0, 5.0))
    edited = trace(part, [(20.0, 12.0)])
    made = settled(edited)
    assert area(made) == pytest.approx(1000.0 - pi * 41.0, abs=1e-9)
    assert "2 inner loops" in edited.said
    assert sorted(made.bindings[b].kind for b in edited.made[6:]) == ["equal"] * 2 + ["on"] * 8
    circle = next(n for n in edited.made if n.startswith("h"))
    assert made.curves[circle].center in {made.curves[n].center for n in ("s5", "s6")}


def test_what_lies_on_the_axis_becomes_no_outline() -> None:
    part = with_axis(grid((30.0,), (0.0, 25.0)), (0.0, -5.0), (0.0, 30.0))
    draft = Draft(part)
    for y in (0.0, 25.0):
        draft.line(fixed_point(draft, (-10.0, y)), fixed_point(draft, (20.5, y)), "layout")
    part = draft.done()
    axis = next(n for n, c in part.curves.items() if c.role == "axis")
    for known in (part, set_mirror(part, axis).part):
        edited = trace(known, [(15.0, 12.0)])
        made = settled(edited)
        assert sum(c.role == "outline" for c in made.curves.values()) == 3
        ons = {made.bindings[b].of[1] for b in edited.made if b in made.bindings}
        assert axis in ons


def test_a_short_mirror_axis_closes_all_the_same() -> None:
    part = with_axis(grid((30.0,), (0.0, 25.0)), (22.0, 10.0), (22.0, 12.0))
    with refused("trace", EditError):
        trace(part, [(25.0, 12.0)])
    part = set_mirror(part, next(n for n, c in part.curves.items() if c.role == "axis")).part
    made = settled(trace(part, [(25.0, 12.0)]))
    assert sum(c.role == "outline" for c in made.curves.values()) == 3


def test_a_fillet_is_bound_tangent_once() -> None:
    part = grid((0.0, 40.0), (0.0, 25.0))
    part = EDITS["scribe_touching"](part, ("s2", "s4"), (34.0, 19.0), "6").part
    edited = trace(part, [(20.0, 12.0), (34.0, 19.0)])
    made = settled(edited)
    assert area(made) == pytest.approx(1000.0 - 36.0 * (1.0 - pi / 4.0), abs=1e-9)
    kinds = sorted(made.bindings[b].kind for b in edited.made if b in made.bindings)
    # Three corners on two lines each; the ends at the round are held by the two tangencies.
    assert kinds == ["equal", *["on"] * 6, "tangent", "tangent"]
    radius = next(n for n, b in made.bindings.items() if b.kind == "radius")
    larger = solve(set_value(made, radius, "9").part)
    assert larger.report.state == "bound"
    assert area(larger.part) == pytest.approx(1000.0 - 81.0 * (1.0 - pi / 4.0), abs=1e-9)


def test_a_straight_slot_of_two_circles_and_their_tangents() -> None:
    part = with_circles(Part(), (0.0, 0.0, 6.0), (30.0, 0.0, 6.0))
    for near in ((15.0, 6.0), (15.0, -6.0)):
        part = EDITS["scribe_tangent"](part, "s1", "s2", near).part
    made = settled(trace(part, [(15.0, 0.0), (0.0, 0.0), (30.0, 0.0)]))
    assert area(made) == pytest.approx(30.0 * 12.0 + 36.0 * pi, rel=1e-9)


def test_a_curved_slot_whose_four_joints_are_tangent() -> None:
    part = with_circles(Part(), (0.0, 0.0, 5.0))
    part = EDITS["scribe_slot"](part, "p1", "52", ("6", "26"), "4").part
    polar = ((54, 16), (50, 16), (54, 7), (50, 7), (54, 25), (50, 25), (52, 3), (52, 29))
    places = [(r * cos(radians(a)), r * sin(radians(a))) for r, a in polar]
    known = arranged(part)
    one_each = {known.arrangement.face_at(at): at for at in places}
    edited = trace(part, list(one_each.values()))
    made = settled(edited)
    assert area(made) == pytest.approx(8.0 * 52.0 * radians(20.0) + 16.0 * pi, rel=1e-9)
    width = next(n for n, b in made.bindings.items() if b.kind == "offset")
    wider = solve(set_value(made, width, "5").part)
    assert (wider.report.state, wider.report.doubled) == ("bound", ())
    assert area(wider.part) == pytest.approx(10.0 * 52.0 * radians(20.0) + 25.0 * pi, rel=1e-9)


def test_a_lens_of_two_circles() -> None:
    part = with_circles(Part(), (0.0, 0.0, 10.0), (12.0, 0.0, 8.0))
    edited = trace(part, [(7.0, 0.0)])
    made = settled(edited)
    assert [made.bindings[b].kind for b in edited.made[2:]] == ["equal", "equal"]
    assert {made.curves[n].center for n in edited.made[:2]} == {"p1", "p2"}
    assert area(made) == pytest.approx(loops_of(made).moments.area)
    ends = [made.points[p] for p in made.curves[edited.made[0]].ends]
    assert all(hypot(*at) == pytest.approx(10.0) for at in ends)


def test_outline_that_is_there_is_kept_and_shared() -> None:
    part = settled(trace(grid((0.0, 20.0, 40.0), (0.0, 25.0)), [(10.0, 12.0)]))
    with refused("trace", EditError):
        trace(part, [(10.0, 12.0)])
    edited = trace(part, [(30.0, 12.0)])
    made = settled(edited)
    assert len([n for n in edited.made if n in made.curves]) == 3
    assert len([n for n, c in made.curves.items() if c.role == "outline"]) == 7


def test_outline_between_two_regions_is_removed() -> None:
    part = settled(trace(grid((0.0, 20.0, 40.0), (0.0, 25.0)), [(10.0, 12.0)]))
    edited = trace(part, [(10.0, 12.0), (30.0, 12.0)])
    made = settled(edited)
    assert area(made) == pytest.approx(1000.0, abs=1e-9)
    assert len([n for n, c in made.curves.items() if c.role == "outline"]) == 6


def test_outline_that_was_drawn_across_regions_is_cut_to_their_boundary() -> None:
    # Two discs drawn as outline, one across the other: together they are one plate.
    draft = Draft(Part())
    for x, radius in ((0.0, 10.0), (12.0, 8.0)):
        disc = draft.circle(fixed_point(draft, (x, 0.0)), radius)
        draft.bind("radius", (disc,), radius)
    part = draft.done()
    edited = trace(part, [(-5.0, 0.0), (7.0, 0.0), (15.0, 0.0)])
    made = settled(edited)
    assert made.bindings.keys() >= part.bindings.keys()
    lens = area(settled(trace(with_circles(Part(), (0.0, 0.0, 10.0), (12.0, 0.0, 8.0)),
                              [(7.0, 0.0)])))
    assert area(made) == pytest.approx(100.0 * pi + 64.0 * pi - lens)
    assert not loops_of(made).strays
    assert {n for n, c in made.curves.items() if c.role == "layout"} == {"h1", "h2"}
    wider = solve(set_value(made, "b2", "11").part)
    assert (wider.report.state, wider.report.doubled) == ("bound", ())


def test_open_stubs_inside_a_region_are_no_boundary() -> None:
    draft = Draft(grid((0.0, 40.0), (0.0, 25.0)))
    draft.line(fixed_point(draft, (5.0, -3.0)), fixed_point(draft, (12.0, 9.0)), "layout")
    made = settled(trace(draft.done(), [(20.0, 12.0)]))
    assert len([n for n, c in made.curves.items() if c.role == "outline"]) == 4


def test_an_arc_that_ends_on_a_line_closes_a_region_with_it() -> None:
    draft = Draft(grid((0.0, 40.0), (0.0, 25.0)))
    center = fixed_point(draft, (20.0, 0.0))
    ends = [draft.point((20.0 + 9.0 * x, 0.0)) for x in (1.0, -1.0)]
    arc = draft.arc(ends[0], ends[1], center, "ccw", "layout")
    for end in ends:
        draft.bind("on", (end, "s3"))
    draft.bind("radius", (arc,), "9")
    part = solve(draft.done()).part
    half_disc = settled(trace(part, [(20.0, 4.0)]))
    assert area(half_disc) == pytest.approx(40.5 * pi, abs=1e-9)
    rest = settled(trace(part, [(20.0, 20.0)]))
    assert area(rest) == pytest.approx(1000.0 - 40.5 * pi, abs=1e-9)


def test_three_curves_through_a_corner_and_coincident_lines() -> None:
    draft = Draft(grid((0.0, 40.0), (0.0, 25.0)))
    draft.line(fixed_point(draft, (-10.0, -10.0)), fixed_point(draft, (50.0, 50.0)), "layout")
    draft.line(fixed_point(draft, (10.0, 0.0)), fixed_point(draft, (60.0, 0.0)), "layout")
    made = settled(trace(draft.done(), [(30.0, 12.0), (2.0, 20.0)]))
    assert area(made) == pytest.approx(1000.0, abs=1e-9)
    assert len([n for n, c in made.curves.items() if c.role == "outline"]) == 4


def test_a_walk_along_spans() -> None:
    part = with_circles(grid((0.0, 40.0), (0.0, 25.0)), (40.0, 25.0, 6.0))
    net = arranged(part).arrangement
    places = [(20.0, 0.0), (40.0, 8.0), (35.757, 20.757), (20.0, 25.0)]
    first = [net.nearest(at) for at in places]
    walk = [first[0][0]]  # type: ignore[index]
    for found in first[1:]:
        assert found is not None
        edge = found[0] >> 1
        onward = [h for h in net.onward(walk[-1]) if h >> 1 == edge]
        if not onward:
            walk[-1] ^= 1
            onward = [h for h in net.onward(walk[-1]) if h >> 1 == edge]
        walk.append(onward[0])
    edited = trace_along(part, walk)
    made = settled(edited)
    assert [made.curves[n].kind for n in edited.made[:4]] == ["line", "line", "arc", "line"]
    with refused("trace", EditError):
        trace_along(part, [])
    with refused("trace", EditError):
        trace_along(part, [10_000])
    with refused("trace", EditError):
        trace_along(part, [walk[0], walk[2]])
    net = arranged(made).arrangement
    again = net.nearest((20.0, 0.0))
    assert again is not None
    with refused("trace", EditError):
        trace_along(made, [again[0]])


def test_a_place_outside_is_refused() -> None:
    for places in ([(-30.0, 4.0)], [], [(5.0, 5.0), (6.0, 6.0)]):
        with refused("trace", EditError):
            trace(grid((0.0, 40.0), (0.0, 25.0)), places)


def test_a_mirror_that_names_its_curves_takes_the_traced_ones_along() -> None:
    part = with_axis(grid((10.0, 30.0), (0.0, 25.0)), (0.0, -5.0), (0.0, 30.0))
    axis = next(n for n, c in part.curves.items() if c.role == "axis")
    part = set_mirror(part, axis, ("s1",)).part
    made = trace(part, [(20.0, 12.0)]).part
    assert made.mirrors[0].curves == ("s1", "e1", "e2", "e3", "e4")


def test_what_runs_on_past_the_region_is_cut_off() -> None:
    # A plate drawn as outline, its corner cut by a scribed slope: the corner is left over.
    draft = Draft(Part())
    corners = [draft.point(at) for at in ((0.0, 0.0), (40.0, 0.0), (40.0, 25.0), (0.0, 25.0))]
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        draft.line(a, b)
    for corner in corners:
        draft.bind("fixed", (corner,))
    draft.line(fixed_point(draft, (25.0, 30.0)), fixed_point(draft, (45.0, 10.0)), "layout")
    edited = trace(draft.done(), [(10.0, 10.0)])
    made = settled(edited)
    assert area(made) == pytest.approx(1000.0 - 0.5 * 10.0**2)
    assert not loops_of(made).strays
    assert {made.curves[n].role for n in ("e2", "e3")} == {"layout"}
    assert {made.curves[n].role for n in ("e1", "e4")} == {"outline"}


def test_a_bore_on_the_axis_stays_whole_where_its_half_is_outline_already() -> None:
    part = with_axis(grid((0.0, 30.0), (0.0, 25.0)), (0.0, -5.0), (0.0, 30.0))
    axis = next(n for n, c in part.curves.items() if c.role == "axis")
    part = settled(trace(set_mirror(part, axis).part, [(15.0, 12.0)]))
    draft = Draft(part)
    bore = draft.circle(fixed_point(draft, (0.0, 12.0)), 6.0)
    draft.bind("diameter", (bore,), "12")
    with refused("trace", EditError):
        trace(draft.done(), [(15.0, 12.0)])
