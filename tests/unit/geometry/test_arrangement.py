"""Faces, boundaries and walks of arrangements, degenerate ones first of all."""

from __future__ import annotations

from itertools import pairwise
from math import acos, pi, sqrt, tau

import pytest

from sketcher.geometry.arrangement import OUTSIDE, Arrangement
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import reversed_curve
from sketcher.geometry.moments import signed_area


def box(x0, y0, x1, y1, name="s"):
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)]
    return [(f"{name}{k}", Line(p, q)) for k, (p, q) in enumerate(pairwise(corners))]


def areas(plane):
    return sorted(round(face.area, 9) for face in plane.faces[1:])


def check(plane):
    """Boundaries are closed, their areas add up, and Euler's formula holds."""
    for face in plane.faces[1:]:
        boundary = plane.boundary(face.number)
        assert sum(run.area for run in boundary) == pytest.approx(face.area, abs=1e-9)
        assert [run.hole for run in boundary] == [False] + [True] * (len(boundary) - 1)
        for run in boundary:
            spans = run.spans
            # Independent of the net: the moments of the curves; a circle has no direction.
            around = abs(signed_area(run.curves))
            assert around == pytest.approx(abs(run.area), abs=1e-9)
            for a, b in pairwise((*spans, spans[0])):
                if not isinstance(a.curve, Circle) and len(spans) > 1:
                    assert a.curve.end == b.curve.start
            assert all(s.sources for s in spans)
    parts = int(plane.net.outer.sum())
    nodes, edges = len(plane.net.nodes), len(plane.net.edges)
    assert nodes - edges + len(plane.faces) == 1 + parts


def test_three_curves_through_a_point():
    lines = [(str(k), Line(p, (-p[0], -p[1]))) for k, p in enumerate([(5, 0), (3, 4), (-3, 4)])]
    plane = Arrangement([*lines, ("c", Circle((0, 0), 2))])
    check(plane)
    assert len(plane.net.nodes) == 1 + 6 + 6
    slices = [acos(3 / 5), pi - 2 * acos(3 / 5), acos(3 / 5)] * 2
    assert areas(plane) == pytest.approx(sorted(0.5 * 4 * a for a in slices))


@pytest.mark.parametrize("nudge", [0.0, 3e-9, -3e-9])
def test_tangent_line_and_circle(nudge):
    plane = Arrangement([("c", Circle((0, 0), 3 + nudge)), ("l", Line((-5, 3), (5, 3)))])
    check(plane)
    assert areas(plane) == pytest.approx([9 * pi], rel=1e-8)
    assert len(plane.stubs()) == 2
    assert plane.face_at((0, 2.9)) == 1
    assert plane.face_at((0, 3.1)) == OUTSIDE
    (only,) = plane.boundary(1)
    assert only.curves == (Circle((0.0, 0.0), 3 + nudge),)


def test_circles_tangent_outside_and_inside():
    plane = Arrangement([
        ("a", Circle((0, 0), 5)), ("b", Circle((8, 0), 3)), ("c", Circle((2, 0), 3)),
        ("d", Circle((-4, 0), 1)),
    ])
    check(plane)
    assert areas(plane) == pytest.approx([pi, 9 * pi, 9 * pi, (25 - 9 - 1) * pi])
    assert plane.face_at((0, 4)) != plane.face_at((2, 0))
    moon = plane.face_at((0, 4))
    assert plane.neighbours(moon) == {plane.face_at((2, 0)), plane.face_at((-4, 0)), OUTSIDE}


def test_circles_that_touch_inside_split_the_rest():
    plane = Arrangement([
        ("a", Circle((0, 0), 5)), ("c", Circle((2, 0), 3)), ("d", Circle((-3, 0), 2)),
    ])
    check(plane)
    assert areas(plane) == pytest.approx([4 * pi, 6 * pi, 6 * pi, 9 * pi])


def test_coincident_lines_count_once():
    over = [("x", Line((1, 0), (9, 0))), ("y", Line((3, 0), (-2, 0)))]
    plane = Arrangement([*box(0, 0, 4, 4), *over])
    check(plane)
    assert areas(plane) == [16.0]
    spans = plane.boundary(1)[0].spans
    assert sum(s.curve.length for s in spans) == pytest.approx(16.0)
    assert [s.sources for s in spans if "s0" in s.sources] == [("s0",)]
    assert {s for span in plane.stubs() for s in span.sources} == {"x", "y"}


def test_coincident_arcs_and_circles_count_once():
    plane = Arrangement([
        ("c", Circle((0, 0), 2)), ("d", Circle((0, 0), 2)), ("e", Arc((0, 0), (2, 0), (-2, 0))),
        ("f", Arc((0, 0), (0, -2), (0, 2), ccw=False)), ("l", Line((-3, 1), (3, 1))),
    ])
    check(plane)
    cap = 4 * acos(0.5) - sqrt(3)
    assert areas(plane) == pytest.approx(sorted([cap, 4 * pi - cap]))
    assert len(plane.stubs()) == 2


def test_arc_that_ends_on_a_line():
    plane = Arrangement([
        ("l", Line((-5, 0), (5, 0))), ("a", Arc((0, 0), (3, 0), (-3, 0))),
        ("b", Arc((0, 2), (1, 2), (0, 3))),
    ])
    check(plane)
    assert areas(plane) == pytest.approx([4.5 * pi])
    (only,) = plane.boundary(1)
    assert {s.sources for s in only.spans} == {("l",), ("a",)}
    assert len(only.spans) == 2


def test_open_stub_inside_a_region_is_no_boundary():
    inside = [("stub", Line((0, 5), (6, 5))), ("bit", Line((7, 7), (8, 8)))]
    plane = Arrangement([*box(0, 0, 10, 10), *inside])
    check(plane)
    assert areas(plane) == [100.0]
    (only,) = plane.boundary(1)
    assert sorted(s.sources for s in only.spans) == [("s0",), ("s1",), ("s2",), ("s3",)]
    assert {s.sources[0] for s in plane.stubs()} == {"stub", "bit"}
    with_stub = plane.boundary(1, stubs=True)
    assert len(with_stub) == 2
    assert sum(c.length for run in with_stub for c in run.curves) == pytest.approx(
        40 + 2 * 6 + 2 * sqrt(2)
    )


def test_region_with_two_holes():
    plane = Arrangement([
        *box(0, 0, 10, 10), ("h", Circle((3, 5), 1)), ("k", Circle((7, 5), 2)),
        ("in", Circle((7, 5), 1)),
    ])
    check(plane)
    plate = plane.face_at((1, 1))
    assert plane.faces[plate].area == pytest.approx(100 - 5 * pi)
    outer, *holes = plane.boundary(plate)
    assert outer.area == pytest.approx(100.0)
    assert {s.sources for run in holes for s in run.spans} == {("h",), ("k",)}
    assert plane.faces[plane.face_at((7, 6.5))].area == pytest.approx(3 * pi)
    assert plane.faces[plane.face_at((7, 5.5))].area == pytest.approx(pi)
    assert len(plane.faces[plate].holes) == 2


def test_nodes_are_shared_by_all_that_meet_there():
    # A fillet's arc, both lines and a circle about the corner of contact.
    plane = Arrangement([
        ("a", Line((-5, 0), (3, 0))), ("b", Line((5, 2), (5, 9))),
        ("f", Arc((3, 2), (3, 0), (5, 2))), ("c", Line((5, 9), (-5, 0))),
        ("o", Circle((3, 0), 1)),
    ])
    check(plane)
    assert plane.face_at((2, 1)) != OUTSIDE


def test_faces_taken_together():
    plane = Arrangement([
        ("a", Circle((0, 0), 3)), ("b", Circle((2, 0), 3)), ("l", Line((-9, 0.5), (9, 0.5))),
    ])
    check(plane)
    inner = [face.number for face in plane.faces[1:]]
    (union,) = plane.outline(inner)
    # The line and the inner arcs are gone: two arcs are left.
    assert sorted(s.sources for s in union.spans) == [("a",), ("b",)]
    lens = 2 * 9 * acos(1 / 3) - 2 * sqrt(8)
    assert signed_area(union.curves) == pytest.approx(18 * pi - lens)
    two = [plane.face_at((1, 1)), plane.face_at((1, -1))]
    (both,) = plane.outline(two)
    assert signed_area(both.curves) == pytest.approx(lens)
    assert sorted(s.sources for s in both.spans) == [("a",), ("b",)]
    assert plane.outline([]) == ()


def test_ring_of_faces_keeps_its_hole():
    plane = Arrangement([
        ("a", Circle((0, 0), 5)), ("b", Circle((0, 0), 2)), ("l", Line((-9, 0), (9, 0))),
    ])
    outer, hole = plane.outline([plane.face_at((0, 3)), plane.face_at((0, -3))])
    assert outer.curves == (Circle((0, 0), 5),)
    assert hole.curves == (Circle((0, 0), 2),)
    assert hole.hole


def test_whole_circle_that_others_cut_comes_back_whole():
    plane = Arrangement([("c", Circle((1, 1), 2)), ("l", Line((-9, 1), (9, 1)))])
    (only,) = plane.outline([1, 2])
    assert only.curves == (Circle((1.0, 1.0), 2.0),)
    assert only.spans[0].sources == ("c",)


def test_walk_along_spans():
    plane = Arrangement([
        ("l", Line((0, 0), (10, 0))), ("m", Line((5, -5), (5, 5))), ("c", Circle((10, 0), 2)),
    ])
    half, apart = plane.nearest((2.0, 0.5))
    assert apart == pytest.approx(0.5)
    assert plane.span(half).curve == Line((0.0, 0.0), (5.0, 0.0))
    right, straight, left = plane.onward(half)
    assert plane.span(right).curve.end == (5.0, -5.0)
    assert plane.span(left).curve.end == (5.0, 5.0)
    assert plane.same_way(half, straight)
    assert not plane.same_way(half, left)
    assert not plane.same_way(half, half ^ 1)
    (run,) = plane.walk([half, straight])
    assert run.curve == Line((0.0, 0.0), (8.0, 0.0))
    assert run.sources == ("l",)
    assert [s.sources for s in plane.walk([half, left])] == [("l",), ("m",)]
    with pytest.raises(ValueError, match="begin where"):
        plane.walk([half, left ^ 1])
    back, _ = plane.nearest((2.0, -0.5))
    assert back == half ^ 1


def test_nothing_and_specks():
    plane = Arrangement([])
    assert len(plane.faces) == 1
    assert plane.face_at((0, 0)) == OUTSIDE
    assert plane.nearest((0, 0)) is None
    assert plane.outline([OUTSIDE]) == ()
    speck = Arrangement([*box(0, 0, 1, 1), ("p", Line((0.5, 0.5), (0.5, 0.5)))])
    assert speck.ids == ("s0", "s1", "s2", "s3")
    assert areas(speck) == [1.0]


def test_direction_of_the_curves_does_not_matter():
    items = [("a", Arc((0, 0), (3, 0), (-3, 0))), ("l", Line((-5, 0), (5, 0))),
             ("c", Arc((0, 0), (0, -4), (4, 0), ccw=False))]
    forth = Arrangement(items)
    back = Arrangement([(i, reversed_curve(c)) for i, c in items])
    check(forth)
    check(back)
    assert areas(forth) == areas(back)


def test_arc_of_a_full_turn():
    turn = Arc((0, 0), (2, 0), (2, 0), ccw=False)
    plane = Arrangement([("t", turn), ("l", Line((0, -3), (0, 3)))])
    check(plane)
    assert areas(plane) == pytest.approx([2 * pi, 2 * pi])
    (circle,) = plane.outline([1, 2])[0].curves
    assert circle.length == pytest.approx(2 * tau)


def test_nearest_takes_the_piece_and_the_side():
    plane = Arrangement([("c", Circle((0, 0), 5)), ("l", Line((-9, 0), (9, 0)))])
    half, apart = plane.nearest((0.0, 4.0))
    assert apart == pytest.approx(1.0)
    upper = plane.span(half).curve
    assert upper.ccw
    assert upper.sweep == pytest.approx(pi)
    outside, _ = plane.nearest((0.0, 6.0))
    assert outside == half ^ 1
    assert not plane.span(outside).curve.ccw
    half, apart = plane.nearest((7.0, -0.25))
    assert apart == 0.25
    assert plane.span(half).curve == Line((9.0, 0.0), (5.0, 0.0))


def test_curves_between_faces_of_a_set() -> None:
    square = [("a", Line((0, 0), (4, 0))), ("b", Line((4, 0), (4, 2))), ("c", Line((4, 2), (0, 2))),
              ("d", Line((0, 2), (0, 0)))]
    across = [("m", Line((2, 0), (2, 2))), ("n", Line((1, -1), (1, 1.5))),
              ("o", Line((3, 0.5), (3.5, 0.5)))]
    plane = Arrangement([*square, *across])
    left, right = plane.face_at((0.5, 1.9)), plane.face_at((3.0, 1.0))
    # m lies between the two; n is a stub within one, o is loose within the other.
    assert plane.between([left, right]) == {"m"}
    assert plane.between([left]) == frozenset()
    assert plane.between([]) == frozenset()
    longer = Arrangement([*square, ("m", Line((2, -1), (2, 2)))])
    assert longer.between([longer.face_at((1, 1)), longer.face_at((3, 1))]) == {"m"}


def test_a_curve_is_covered_where_others_lie_on_it_all_along() -> None:
    plane = Arrangement([("a", Line((0, 0), (4, 0))), ("b", Line((-1, 0), (2, 0))),
                         ("c", Line((2, 0), (5, 0))), ("m", Line((1, -1), (1, 1)))])
    assert plane.covered("a", ["b", "c"])
    assert not plane.covered("a", ["b"])
    assert not plane.covered("b", ["a", "c"])
    assert not plane.covered("a", ["a"])
