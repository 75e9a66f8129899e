"""Scribe edits: exact places, and never a freedom or a binding too many."""

from __future__ import annotations

from math import cos, dist, radians, sin, sqrt, tan

import pytest

from sketcher.errors import EditError
from sketcher.geometry.curves import Circle
from sketcher.part.edited import Edited
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.set_value import set_value
from sketcher.part.kinds import measure
from sketcher.part.scribing import Rung, read_ladder
from sketcher.part.value import Part
from sketcher.part.whole import curve_value
from sketcher.solve import solve
from tests.refusals import refused

ladder = EDITS["scribe_ladder"]
slope = EDITS["scribe_slope"]
touching = EDITS["scribe_touching"]
tangent = EDITS["scribe_tangent"]
slot = EDITS["scribe_slot"]


def base(direction: float = 0.0, length: float = 80.0) -> Part:
    """A fixed line s1 from p1 at (3, 5)."""
    draft = Draft(Part())
    turn = radians(direction)
    ends = [draft.point(at) for at in
            ((3.0, 5.0), (3.0 + length * cos(turn), 5.0 + length * sin(turn)))]
    draft.line(*ends, "layout")
    for end in ends:
        draft.bind("fixed", (end,))
    return draft.done()


def circles(*given: tuple[float, float, float]) -> Part:
    """Fixed layout circles s1, s2 ... as (x, y, radius)."""
    draft = Draft(Part())
    for x, y, radius in given:
        center = draft.point((x, y))
        draft.bind("fixed", (center,))
        draft.bind("radius", (draft.circle(center, radius, "layout"),), radius)
    return draft.done()


def bound(edited: Edited) -> Part:
    """The solved part; it is bound, says nothing twice, and stood right before it was solved."""
    solution = solve(edited.part)
    report = solution.report
    assert (report.state, report.freedoms, report.doubled) == ("bound", 0, ())
    moved = max(dist(solution.part.points[n], at) for n, at in edited.part.points.items())
    assert moved < 1e-9
    assert all(solution.part.curves[n].role == "layout"
               for n in edited.made if n in solution.part.curves)
    return solution.part


def value(part: Part, name: str):  # type: ignore[no-untyped-def]
    return curve_value(part, part.curves[name])


@pytest.mark.parametrize(
    ("text", "rungs"),
    [
        ("12, 24, 36.5", [("12", False), ("24", False), ("36.5", False)]),
        ("+12 +12 +12.5", [("12", True), ("12", True), ("12.5", True)]),
        ("+12,+12;+12.5", [("12", True), ("12", True), ("12.5", True)]),
        ("12, +4, 30", [("12", False), ("4", True), ("30", False)]),
        ("wall + 3, 2*(a + 1)", [("wall + 3", False), ("2*(a + 1)", False)]),
        ("+wall + 3 +4", [("wall + 3", True), ("4", True)]),
        ("1 1/2, 2", [("1 1/2", False), ("2", False)]),
        ("12,5", [("12,5", False)]),
        ("12,5; 24", [("12,5", False), ("24", False)]),
        ("12,5, 24", [("12,5", False), ("24", False)]),
        ("12,24,36", [("12", False), ("24", False), ("36", False)]),
    ],
)
def test_a_ladder_is_read(text: str, rungs: list[tuple[str, bool]]) -> None:
    assert read_ladder(text) == tuple(Rung(*each) for each in rungs)


@pytest.mark.parametrize("text", ["", "12,,24", "12, ", "+", "12, +"])
def test_a_ladder_with_a_hole_is_refused(text: str) -> None:
    with refused("ladder", EditError):
        read_ladder(text)


@pytest.mark.parametrize("direction", [0.0, 27.5, 90.0, 118.0, 180.0, 305.0])
@pytest.mark.parametrize("side", [1.0, -1.0])
def test_a_ladder_of_offsets(direction: float, side: float) -> None:
    part = base(direction)
    ux, uy = cos(radians(direction)), sin(radians(direction))
    toward = (10.0 * ux - side * 7.0 * uy, 10.0 * uy + side * 7.0 * ux)
    toward = (toward[0] + 3.0, toward[1] + 5.0)
    line = value(part, "s1")
    for text in ("12, 24, 36.5", "+12 +12 +12.5"):
        edited = ladder(part, "s1", text, toward)
        made = bound(edited)
        for name, away in zip(edited.made[:3], (12.0, 24.0, 36.5), strict=True):
            rung = value(made, name)
            for p, q in ((line.start, rung.start), (line.end, rung.end)):
                wanted = (p[0] - side * away * uy, p[1] + side * away * ux)
                assert q == pytest.approx(wanted, abs=1e-9)
    kinds = [made.bindings[n].kind for n in edited.made[3:]]
    assert kinds.count("offset") == 3
    assert [made.bindings[n].value for n in edited.made if n in made.bindings
            and made.bindings[n].kind == "offset"] == ["12", "12", "12.5"]


def test_a_negative_rung_lies_on_the_other_side_and_values_may_be_expressions() -> None:
    part = base().having(parameters={"wall": "6"})
    edited = ladder(part, "s1", "-4, 2*wall, wall - 10", (10.0, 20.0))
    made = bound(edited)
    heights = [value(made, n).start[1] - 5.0 for n in edited.made[:3]]
    assert heights == pytest.approx([-4.0, 12.0, -4.0], abs=1e-12)
    for name in edited.made[3:]:
        assert measure(made, made.bindings[name]) >= 0.0


def test_a_family_grows_with_its_base() -> None:
    draft = Draft(Part())
    start = draft.point((0.0, 0.0))
    draft.bind("fixed", (start,))
    part = draft.done()
    part = slope(part, start, "20", (10.0, 1.0), extent=("length", "50")).part
    edited = ladder(part, "s1", "+10 +10", (0.0, 30.0))
    part = bound(edited)
    length = next(n for n, b in part.bindings.items() if b.kind == "distance")
    longer = solve(set_value(part, length, "75").part).part
    assert [value(longer, n).length for n in ("s1", *edited.made[:2])] == pytest.approx([75.0] * 3)


def test_circles_about_a_point_and_about_a_round() -> None:
    part = circles((10.0, 20.0, 8.0))
    edited = ladder(part, "p1", "10, +4, 22", (0.0, 0.0))
    made = bound(edited)
    assert [made.curves[n].radius for n in edited.made[:3]] == [10.0, 14.0, 22.0]
    assert {made.curves[n].center for n in edited.made[:3]} == {"p1"}
    for toward, wanted in (((40.0, 20.0), [11.0, 13.0]), ((10.0, 21.0), [5.0, 3.0])):
        edited = ladder(part, "s1", "3, +2", toward)
        made = bound(edited)
        assert [made.curves[n].radius for n in edited.made[:2]] == pytest.approx(wanted)


@pytest.mark.parametrize(
    ("toward", "wanted"),
    [((20, 9), 30.0), ((20, -9), -30.0), ((-20, 9), 150.0), ((-20, -9), 210.0)],
)
def test_a_slope_takes_the_way_of_the_pointer(toward: tuple[float, float], wanted: float) -> None:
    part = base(200.0)
    edited = slope(part, "p1", "30", (3.0 + toward[0], 5.0 + toward[1]), extent=("run", "24"))
    line = value(bound(edited), edited.made[0])
    assert line.direction == pytest.approx((cos(radians(wanted)), sin(radians(wanted))))
    assert abs(line.end[0] - line.start[0]) == pytest.approx(24.0, abs=1e-9)
    assert abs(line.end[1] - line.start[1]) == pytest.approx(24.0 * tan(radians(30.0)), abs=1e-9)


@pytest.mark.parametrize(
    ("angle", "kind"), [("0", "parallel"), ("90", "square"), ("35", "angle"), ("120", "angle")]
)
def test_a_slope_from_another_line(angle: str, kind: str) -> None:
    part = base(27.5)
    edited = slope(part, "p2", angle, (60.0, 90.0), "s1", ("length", "40"))
    made = bound(edited)
    assert made.bindings[edited.made[1]].kind == kind
    turn = abs(value(made, edited.made[0]).direction[0] * cos(radians(27.5))
                + value(made, edited.made[0]).direction[1] * sin(radians(27.5)))
    assert turn == pytest.approx(abs(cos(radians(float(angle)))), abs=1e-9)
    assert value(made, edited.made[0]).length == pytest.approx(40.0)


@pytest.mark.parametrize("angle", ["0", "90", "180", "-30", "200", "-90", "390", "-270", "-200"])
def test_any_angle_is_bound_where_it_stands(angle: str) -> None:
    part = base(45.0)
    turn = radians(float(angle))
    toward = (3.0 + 10.0 * cos(turn), 5.0 + 10.0 * sin(turn))
    edited = slope(part, "p1", angle, toward, extent=("length", "10"))
    assert value(bound(edited), edited.made[0]).end == pytest.approx(toward, abs=1e-9)


def test_a_slope_that_has_no_run_is_refused() -> None:
    for angle, extent in (("90", "run"), ("0", "rise")):
        with refused(extent, EditError):
            slope(base(), "p1", angle, (3.0, 9.0), extent=(extent, "10"))
    with refused("length", EditError):
        slope(base(), "p1", "10", (3.0, 9.0), extent=("length", "0"))
    with refused("p2", EditError):
        slope(base(), "p1", "10", (3.0, 9.0), "p2", ("length", "5"))


def test_every_circle_of_a_radius_in_a_corner() -> None:
    draft = Draft(base(0.0))
    q, r = draft.point((3.0, -40.0)), draft.point((3.0, 40.0))
    for end in (q, r):
        draft.bind("fixed", (end,))
    draft.line(q, r, "layout")
    part = draft.done()
    for x, y in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
        edited = touching(part, ("s1", "s2"), (3.0 + 5.0 * x, 5.0 + 5.0 * y), "8")
        made = bound(edited)
        circle = value(made, edited.made[0])
        assert (*circle.center, circle.radius) == pytest.approx((3 + 8 * x, 5 + 8 * y, 8))


def test_the_circle_within_a_triangle_of_3_4_5() -> None:
    # Euclid, Elements IV.4: the inscribed circle; its radius is (3 + 4 - 5)/2 = 1.
    draft = Draft(Part())
    ends = [draft.point(at) for at in ((0.0, 0.0), (4.0, 0.0), (0.0, 3.0))]
    for end in ends:
        draft.bind("fixed", (end,))
    for a, b in ((0, 1), (1, 2), (2, 0)):
        draft.line(ends[a], ends[b], "layout")
    edited = touching(draft.done(), ("s1", "s2", "s3"), (1.1, 0.9))
    circle = value(bound(edited), edited.made[0])
    assert (*circle.center, circle.radius) == pytest.approx((1.0, 1.0, 1.0), abs=1e-9)


def test_circles_that_touch_rounds_and_points() -> None:
    part = circles((0.0, 0.0, 5.0), (30.0, 0.0, 8.0), (12.0, 40.0, 3.0))
    for names, radius in ((("s1", "s2"), "12"), (("s1", "p2"), "20"), (("s1", "s2", "s3"), None),
                          (("p1", "p2", "p3"), None)):
        edited = touching(part, names, (14.0, 14.0), radius)
        made = bound(edited)
        circle = value(made, edited.made[0])
        for name in names:
            at, size = ((made.points[name], 0.0) if name in made.points
                        else (value(made, name).center, value(made, name).radius))
            apart = dist(at, circle.center)
            assert min(abs(apart - circle.radius - size), abs(apart - abs(circle.radius - size))) \
                == pytest.approx(0.0, abs=1e-9)


def test_all_common_tangents() -> None:
    part = circles((0.0, 0.0, 10.0), (40.0, 0.0, 4.0))
    lengths = []
    for near in ((20.0, 8.0), (20.0, -8.0), (24.0, 2.0), (24.0, -2.0)):
        edited = tangent(part, "s1", "s2", near)
        line = value(bound(edited), edited.made[0])
        lengths.append(line.length)
        assert dist(line.start, (0.0, 0.0)) == pytest.approx(10.0, abs=1e-9)
        assert dist(line.end, (40.0, 0.0)) == pytest.approx(4.0, abs=1e-9)
    # Pythagoras: d^2 = L^2 + (r1 - r2)^2 outside, L^2 + (r1 + r2)^2 across.
    outer, inner = sqrt(1600.0 - 36.0), sqrt(1600.0 - 196.0)
    assert sorted(lengths) == pytest.approx([inner, inner, outer, outer])
    for pair in (("p1", "s2"), ("s2", "p1")):
        edited = tangent(part, *pair, (20.0, 3.0))
        assert value(bound(edited), edited.made[0]).length == pytest.approx(sqrt(1600.0 - 16.0))


def test_a_slot_path() -> None:
    part = circles((0.0, 0.0, 5.0))
    edited = slot(part, "p1", "52", ("6", "26"), "4")
    made = bound(edited)
    path, outer, inner, one, other = (value(made, n) for n in edited.made[:5])
    assert (path.radius, outer.radius, inner.radius) == pytest.approx((52.0, 56.0, 48.0))
    assert path.length == pytest.approx(52.0 * radians(20.0))
    for cap, turn in ((one, 6.0), (other, 26.0)):
        assert isinstance(cap, Circle)
        assert cap.radius == pytest.approx(4.0)
        assert cap.center == pytest.approx((52 * cos(radians(turn)), 52 * sin(radians(turn))))


@pytest.mark.parametrize(
    ("edit", "given", "place"),
    [
        (ladder, ("s1", "0", (1.0, 1.0)), "ladder"),
        (ladder, ("nothing", "3", (1.0, 1.0)), "nothing"),
        (ladder, ("p1", "-3", (1.0, 1.0)), "ladder"),
        (ladder, ("s1", "3, what", (1.0, 1.0)), "ladder"),
        (touching, (("s1", "s1"), (0.0, 0.0), "3"), "scribe"),
        (touching, (("s1",), (0.0, 0.0), "3"), "scribe"),
        (touching, (("s1", "p1"), (0.0, 0.0), "-3"), "radius"),
        (touching, (("s1", "x"), (0.0, 0.0), "3"), "x"),
        (tangent, ("p1", "p2", (0.0, 0.0)), "scribe"),
        (tangent, ("s1", "p2", (0.0, 0.0)), "scribe"),
        (slot, ("p1", "10", ("0", "0"), "2"), "angles"),
        (slot, ("p1", "10", ("0", "40"), "12"), "half width"),
        (slot, ("p1", "10", ("0", "40"), "10"), "half width"),
        (slot, ("s1", "10", ("0", "40"), "2"), "s1"), (slope, ("s1", "10", (0.0, 0.0)), "s1"),
    ],
)
def test_what_cannot_be_scribed_is_told(edit, given, place: str) -> None:  # type: ignore[no-untyped-def]
    with refused(place):
        edit(base(), *given)
