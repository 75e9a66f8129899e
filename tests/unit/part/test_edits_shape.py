"""Shape tools: every pairing of line and arc, with exact geometry from sympy, and what is kept.

After each edit the solver must find the part as bound as before, with nothing said twice and with
the geometry where the edit put it: that is what "the bindings make sense" means.
"""

from __future__ import annotations

import re
from itertools import combinations
from math import hypot, sqrt
from pathlib import Path

import pytest
import sympy

from sketcher.errors import EditError, GeometryError, QuantityError
from sketcher.geometry.corner_blends import shared_corner
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import joint_angle, point_at
from sketcher.part.edited import Edited
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.file_text import read, write
from sketcher.part.store import load
from sketcher.part.value import GridPattern, Mirror, Part, frozen
from sketcher.part.whole import half, whole
from sketcher.solve import solve
from tests.demo_parts import SOUND as DEMO_PARTS
from tests.refusals import refused


def settle(draft: Draft) -> Part:
    """The solved part, which must be bound."""
    solution = solve(draft.done())
    assert solution.report.state == "bound", solution.report
    assert solution.report.doubled == ()
    return solution.part


def still_bound(edited: Edited) -> Part:
    """Check that an edit left a sound, bound part that the solver does not move; return it."""
    part = edited.part
    solution = solve(part)
    report = solution.report
    assert report.state == "bound", (edited, report)
    assert report.doubled == ()
    for name, (x, y) in part.points.items():
        u, v = solution.part.points[name]
        assert hypot(u - x, v - y) < 1e-9, name
    assert read(write(part)) == part
    return part


def plate() -> Draft:
    """60 by 40, bound by two lengths."""
    draft = Draft(Part())
    p = [draft.point(at) for at in ((0, 0), (60, 0), (60, 40), (0, 40))]
    for i in range(4):
        draft.line(p[i], p[(i + 1) % 4])
    draft.bind("fixed", ["p1"])
    for kind, name in (("level", "e1"), ("plumb", "e2"), ("level", "e3"), ("plumb", "e4")):
        draft.bind(kind, [name])
    draft.bind("distance", ["e1"], "60", name="width")
    draft.bind("distance", ["e2"], "40", name="height")
    return draft


def line_and_arc() -> Draft:
    """A level line that meets an arc of radius 30 about (0, 0) at (18, 24), and a second arc."""
    draft = Draft(Part())
    center, corner = draft.point((0, 0)), draft.point((18, 24))
    draft.line((-40, 24), corner, name="l")
    draft.arc(corner, (30, 0), center, "cw", name="a")
    draft.bind("fixed", [center])
    draft.bind("radius", ["a"], "30", name="size")
    draft.bind("level", ["l"])
    draft.bind("rise", [center, corner], "24", name="rise")
    draft.bind("run", ["l"], "58", name="run")
    draft.bind("level", [center, draft.curves["a"].ends[1]])
    return draft


def two_arcs() -> Draft:
    """Arcs of radius 10 about (0, 0) and (12, 0) that meet at (6, 8), the outer ends level."""
    draft = Draft(Part())
    c1, c2, corner = draft.point((0, 0)), draft.point((12, 0)), draft.point((6, 8))
    draft.arc((-10, 0), corner, c1, "cw", name="a")
    draft.arc(corner, (22, 0), c2, "cw", name="b")
    draft.bind("fixed", [c1])
    draft.bind("level", [c1, c2])
    draft.bind("run", [c1, c2], "12")
    draft.bind("radius", ["a"], "10")
    draft.bind("radius", ["b"], "10")
    draft.bind("level", [c1, draft.curves["a"].ends[0]])
    draft.bind("level", [c2, draft.curves["b"].ends[1]])
    return draft


PAIRS = {
    "line-line": (plate, "e1", "e2"),
    "line-arc": (line_and_arc, "l", "a"),
    "arc-arc": (two_arcs, "a", "b"),
}


@pytest.mark.parametrize("pair", PAIRS)
@pytest.mark.parametrize("size", ["2", "3.25", "1.5+0.25"])
def test_a_fillet_is_tangent_bound_and_keeps_the_corner(pair: str, size: str) -> None:
    make, a, b = PAIRS[pair]
    part = settle(make())
    before = half(part)
    edited = EDITS["fillet"](part, a, b, size)
    arc, radius, *ties, corner = edited.made
    assert edited.dropped == ()
    after = still_bound(edited)
    value = half(after)[arc]
    assert isinstance(value, Arc)
    assert after.bindings[radius].value == size
    assert len(ties) == 2
    # Tangent by the distances, exactly: to a line the radius, to an arc the sum or difference.
    for name in (a, b):
        curve = before[name]
        if isinstance(curve, Line):
            dx, dy = curve.direction
            cx, cy = value.center
            off = abs(dx * (cy - curve.start[1]) - dy * (cx - curve.start[0]))
            assert off == pytest.approx(value.radius, abs=1e-12)
        else:
            apart = hypot(value.center[0] - curve.center[0], value.center[1] - curve.center[1])
            wanted = (curve.radius + value.radius, abs(curve.radius - value.radius))
            assert min(abs(apart - w) for w in wanted) < 1e-12
    shared = set(part.curves[a].points[:2]) & set(part.curves[b].points[:2])
    assert shared == {corner}
    assert after.points[corner] == part.points[corner]
    assert all(corner not in curve.points for curve in after.curves.values())


def test_fillet_of_a_line_and_an_arc_against_sympy() -> None:
    part = settle(line_and_arc())
    edited = EDITS["fillet"](part, "l", "a", "5")
    center = half(edited.part)[edited.made[0]].center
    # Inside both: 5 below y = 24 and 25 from the arc's center.
    x = sympy.Symbol("x", positive=True)
    (root,) = sympy.solve(x**2 + sympy.Integer(19) ** 2 - sympy.Integer(25) ** 2, x)
    assert center == pytest.approx((float(root), 19.0), abs=1e-12)


def test_fillet_of_two_arcs_against_sympy() -> None:
    part = settle(two_arcs())
    edited = EDITS["fillet"](part, "a", "b", "2")
    center = half(edited.part)[edited.made[0]].center
    # Outside both in the notch between them: 12 from (0, 0) and from (12, 0).
    y = sympy.Symbol("y", positive=True)
    (root,) = sympy.solve(sympy.Integer(6) ** 2 + y**2 - sympy.Integer(12) ** 2, y)
    assert center == pytest.approx((6.0, float(root)), abs=1e-12)


def test_dimensions_to_the_lost_corner_still_drive() -> None:
    part = settle(plate())
    edited = EDITS["fillet"](part, "e1", "e2", "10")
    radius = edited.made[1]
    part = still_bound(edited)
    assert part.bindings["width"].of == ("p1", "p2")  # a length became a distance of two places
    assert part.bindings["height"].of == ("p2", "p3")
    wider = solve(EDITS["set_value"](part, "width", "75").part)
    assert wider.report.state == "bound"
    assert wider.part.points["p2"] == pytest.approx((75, 0))
    assert half(wider.part)["a1"].center == pytest.approx((65, 10))
    rounder = solve(EDITS["set_value"](wider.part, radius, "15").part)
    assert half(rounder.part)["a1"].center == pytest.approx((60, 15))
    assert rounder.report.state == "bound"


def test_a_fillet_at_all_corners_and_back() -> None:
    part = start = settle(plate())
    for a, b in (("e1", "e2"), ("e2", "e3"), ("e3", "e4"), ("e4", "e1")):
        part = still_bound(EDITS["fillet"](part, a, b, "8"))
    arcs = [name for name, curve in part.curves.items() if curve.kind == "arc"]
    assert len(arcs) == 4
    for arc in arcs:
        part = still_bound(EDITS["delete"](part, arc, heal=True))
    assert part.points == start.points
    assert part.curves == start.curves


@pytest.mark.parametrize("pair", PAIRS)
def test_healing_brings_the_corner_back(pair: str) -> None:
    make, a, b = PAIRS[pair]
    part = settle(make())
    for tool in ("fillet", "chamfer"):
        cut = EDITS[tool](part, a, b, "2").part
        new = next(name for name in cut.curves if name not in part.curves)
        healed = still_bound(EDITS["delete"](cut, new, heal=True))
        assert healed.points == part.points
        assert healed.curves == part.curves


@pytest.mark.parametrize("pair", PAIRS)
def test_a_chamfer_has_its_legs_as_dimensions(pair: str) -> None:
    make, a, b = PAIRS[pair]
    part = settle(make())
    edited = EDITS["chamfer"](part, a, b, "2", "3")
    line, leg, other, corner = edited.made
    after = still_bound(edited)
    cut = half(after)[line]
    at = after.points[corner]
    assert at == part.points[corner]
    assert hypot(cut.start[0] - at[0], cut.start[1] - at[1]) == pytest.approx(2.0, abs=1e-12)
    assert hypot(cut.end[0] - at[0], cut.end[1] - at[1]) == pytest.approx(3.0, abs=1e-12)
    assert (after.bindings[leg].value, after.bindings[other].value) == ("2", "3")


def test_a_corner_cut_and_reflected_and_repeated() -> None:
    draft = plate()
    axis = draft.line((100, -10), (100, 50), "axis", name="ax")
    ends = draft.curves[axis].points
    draft.bind("fixed", [ends[0]])
    draft.bind("fixed", [ends[1]])
    draft.set_mirrors([Mirror("ax", ("e1", "e2"))])
    draft.pattern(GridPattern(("e1", "e2"), ("200", "90"), (1, 2)))
    part = settle(draft)
    after = still_bound(EDITS["fillet"](part, "e1", "e2", "6"))
    assert after.mirrors[0].curves == ("e1", "e2", "a1")
    names = {piece.id for piece in whole(after)}
    assert {"a1'", "a1#1", "a1#1'"} <= names


def test_a_fillet_against_a_circle_ends_on_it() -> None:
    draft = Draft(Part())
    draft.circle((0, 10), 6.0, name="h")
    draft.line((2, 0), (40, 0), name="l")
    for point in ("p1", "p2", "p3"):
        draft.bind("fixed", [point])
    draft.bind("radius", ["h"], "6")
    part = settle(draft)
    edited = EDITS["fillet"](part, "l", "h", "4", near=(8, 4))
    after = still_bound(edited)
    # Line y = 0, circle R6 about (0, 10), f 4: center (8, 4), contacts (8, 0), (4.8, 6.4); 3-4-5.
    arc = half(after)[edited.made[0]]
    assert arc.center == pytest.approx((8, 4), abs=1e-12)
    assert {tuple(round(v, 9) for v in at) for at in (arc.start, arc.end)} == {(8, 0), (4.8, 6.4)}
    assert after.curves["h"].kind == "circle"


def test_a_corner_of_crossing_and_of_short_curves() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (30, 30), name="l")
    draft.line((0, 20), (15, 20), name="k")
    draft.arc((30, 0), (0, 30), (0, 0), "ccw", name="a")
    part = draft.done()
    edited = EDITS["corner"](part, "l", "k")
    assert edited.part.points[edited.made[0]] == pytest.approx((20, 20))
    assert half(edited.part)["l"] == Line((0, 0), edited.part.points[edited.made[0]])
    edited = EDITS["corner"](part, "l", "a", near=(20, 20), keep_a=(0, 0), keep_b=(30, 0))
    at = edited.part.points[edited.made[0]]
    root = float(sympy.Integer(30) / sympy.sqrt(2))
    assert at == pytest.approx((root, root), abs=1e-12)
    assert half(edited.part)["a"].start == (30, 0)
    assert half(edited.part)["l"].start == (0, 0)
    with refused("l, a", EditError):
        EDITS["corner"](edited.part, "l", "a")


def test_a_corner_of_two_arcs_against_sympy() -> None:
    draft = Draft(Part())
    draft.arc((-10, 0), (10, 0), (0, 0), "cw", name="a")
    draft.arc((4, 0), (26, 0), (15, 0), "cw", name="b")
    edited = EDITS["corner"](draft.done(), "a", "b", keep_a=(-10, 0), keep_b=(26, 0))
    x, y = sympy.symbols("x y")
    found = sympy.solve([x**2 + y**2 - 100, (x - 15) ** 2 + y**2 - 121], [x, y])
    wanted = next((float(u), float(v)) for u, v in found if v > 0)
    assert edited.part.points[edited.made[0]] == pytest.approx(wanted, abs=1e-12)


def test_an_end_that_a_dimension_names_stays_on_its_curve() -> None:
    draft = plate()
    draft.line((20, 10), (20, 25), name="s")
    ends = draft.curves["s"].ends
    draft.bind("plumb", ["s"])
    draft.bind("run", ["p1", ends[0]], "20")
    draft.bind("rise", ["p1", ends[0]], "10")
    draft.bind("rise", ["s"], "15", name="long")
    part = settle(draft)
    edited = EDITS["extend"](part, "s", (20, 25))
    after = still_bound(edited)
    assert after.points[edited.made[0]] == pytest.approx((20, 40))
    assert after.bindings["long"].of == ends
    assert ends[1] in after.points
    back = still_bound(EDITS["extend"](after, "s", (20, 10)))
    assert half(back)["s"].length == pytest.approx(40)


@pytest.mark.parametrize("name", ["e1", "l", "a"])
def test_split_and_join_come_back(name: str) -> None:
    draft = plate() if name == "e1" else line_and_arc()
    part = settle(draft)
    curve = half(part)[name]
    place = (30, 0) if name == "e1" else (-10, 24) if name == "l" else (26, 15)
    edited = EDITS["split"](part, name, place)
    new, point = edited.made
    pieces = half(edited.part)
    assert pieces[name].length + pieces[new].length == pytest.approx(curve.length, rel=1e-14)
    assert pieces[name].end == pieces[new].start == edited.part.points[point]
    report = solve(edited.part).report
    assert report.freedoms == 1  # the place along the curve is free until it is dimensioned
    assert report.doubled == ()
    joined = EDITS["join"](edited.part, name, new)
    assert joined.part.curves[name].points[:2] == part.curves[name].points[:2]
    assert joined.part.points == part.points
    still_bound(joined)


def test_a_tangency_at_the_far_end_goes_to_the_second_piece() -> None:
    part = settle(plate())
    part = still_bound(EDITS["fillet"](part, "e1", "e2", "10"))
    edited = EDITS["split"](part, "e1", (20, 0))
    new = edited.made[0]
    (tangent,) = [b for b in edited.part.bindings.values()
                  if b.kind == "tangent" and new in b.of]
    assert "a1" in tangent.of
    assert solve(edited.part).report.doubled == ()


def test_a_circle_splits_into_two_arcs() -> None:
    draft = Draft(Part())
    draft.circle((5, 5), 3.0, name="h")
    draft.bind("fixed", ["p1"])
    draft.bind("radius", ["h"], "3")
    draft.pattern(GridPattern(("h",), ("20", "20"), (2, 2)))
    part = settle(draft)
    edited = EDITS["split"](part, "h", (9, 5), (5, 9))
    arcs = half(edited.part)
    new = edited.made[0]
    assert arcs["h"].length + arcs[new].length == pytest.approx(Circle((5, 5), 3.0).length)
    assert edited.part.patterns["g1"].curves == ("h", new)
    report = solve(edited.part).report
    assert report.freedoms == 2  # where the two places are
    assert report.doubled == ()
    with refused(f"h, {new}", EditError):
        EDITS["join"](edited.part, "h", new)
    with refused("h", EditError):
        EDITS["split"](part, "h", (9, 5))


def crossed() -> Draft:
    """A bound cross: two long lines, a circle and an arc, all fixed."""
    draft = Draft(Part())
    draft.line((-30, 0), (30, 0), name="l")
    draft.line((0, -30), (0, 30), name="k")
    draft.circle((0, 0), 10.0, name="h")
    draft.arc((20, -20), (20, 20), (0, 0), "ccw", name="a")
    for point in draft.points:
        if point not in draft.curves["a"].points:
            draft.bind("fixed", [point])
    draft.bind("radius", ["h"], "10")
    return draft


@pytest.mark.parametrize(
    ("pick", "spans"),
    [
        ((-20, 0), [(-10, 30)]),
        ((29, 0), [(-30, 20 * sqrt(2))]),
        ((3, 0), [(-30, 0), (10, 30)]),
    ],
)
def test_cut_back_takes_one_span(pick, spans) -> None:
    part = crossed().done()
    edited = EDITS["cut_back"](part, "l", pick)
    found = sorted(
        (curve.start[0], curve.end[0])
        for name, curve in half(edited.part).items()
        if isinstance(curve, Line) and name != "k"
    )
    assert len(found) == len(spans)
    for span, wanted in zip(found, spans, strict=True):
        assert span == pytest.approx(wanted, abs=1e-12)
    report = solve(edited.part).report
    assert report.clashes == ()


def test_cut_back_binds_the_new_end_on_the_edge() -> None:
    draft = plate()
    draft.line((30, -10), (30, 55), name="s")
    draft.bind("plumb", ["s"])
    draft.bind("offset", ["e4", "s"], "30")
    draft.bind("rise", ["p1", draft.curves["s"].ends[1]], "55")
    draft.bind("rise", ["s"], "65", name="long")
    part = settle(draft)
    edited = EDITS["cut_back"](part, "s", (30, 50))
    after = still_bound(edited)
    end = after.curves["s"].ends[1]
    assert after.points[end] == pytest.approx((30, 40))
    assert any(b.kind == "on" and b.of == (end, "e3") for b in after.bindings.values())


def test_cut_back_of_round_curves() -> None:
    part = crossed().done()
    edited = EDITS["cut_back"](part, "h", (7, 7))
    arc = half(edited.part)["h"]
    assert isinstance(arc, Arc)
    assert arc.length == pytest.approx(0.75 * Circle((0, 0), 10.0).length)
    assert arc.start == pytest.approx((0, 10), abs=1e-12)
    assert edited.part.bindings[list(edited.part.bindings)[-1]].kind == "on"
    edited = EDITS["cut_back"](part, "a", (20, 18))
    arc = half(edited.part)["a"]
    assert arc.end == pytest.approx((20 * sqrt(2), 0), abs=1e-12)
    with refused("a", EditError):
        EDITS["cut_back"](part, "a", (20, 18), edges=["h"])


def test_ends_of_the_arc_that_a_circle_becomes_are_not_bound_on_it_as_well() -> None:
    draft = Draft(Part())
    draft.circle((0, 0), 10.0, name="h")
    line = draft.line((-20, 4), (20, 4), name="l")
    draft.bind("fixed", ("p1",))
    draft.bind("radius", ("h",), "10")
    draft.bind("level", (line,))
    draft.bind("offset", (line, "p1"), "4")
    part = draft.done()
    for name, at in (("l", (-15, 4)), ("l", (15, 4)), ("h", (0, -10))):
        part = EDITS["cut_back"](part, name, at).part
    value = half(part)
    side = float(sympy.sqrt(84))
    assert value["l"] == Line((-side, 4), (side, 4))
    assert set(part.curves["h"].points[:2]) == set(part.curves["l"].points)
    assert not [b for b in part.bindings.values() if b.kind == "on"]
    assert solve(part).report.doubled == ()


def test_cut_out_of_an_arc_keeps_one_radius() -> None:
    draft = Draft(Part())
    draft.arc((10, 0), (-10, 0), (0, 0), "ccw", name="a")
    draft.line((4, 0), (4, 20), name="l")
    draft.line((-4, 0), (-4, 20), name="k")
    edited = EDITS["cut_back"](draft.done(), "a", (0, 10))
    first, second = edited.made
    value = half(edited.part)
    high = float(sympy.sqrt(84))
    assert value[first].end == pytest.approx((4, high), abs=1e-12)
    assert value[second].start == pytest.approx((-4, high), abs=1e-12)
    assert any(b.kind == "equal" for b in edited.part.bindings.values())


def test_extend_reaches_lines_and_arcs() -> None:
    draft = Draft(Part())
    draft.arc((20, -20), (20, 20), (0, 0), "ccw", name="a")
    draft.line((0, 5), (10, 5), name="l")
    draft.arc((0, 12), (5, 12 + 5), (0, 17), "ccw", name="b")
    draft.line((-3, 10), (-3, 30), name="wall")
    part = draft.done()
    edited = EDITS["extend"](part, "l", (10, 5))
    x = float(sympy.sqrt(800 - 25))
    assert half(edited.part)["l"].end == pytest.approx((x, 5), abs=1e-12)
    edited = EDITS["extend"](part, "b", (5, 17))
    end = half(edited.part)["b"].end
    # Circle of 5 about (0, 17) going on counter-clockwise to x = -3.
    assert end == pytest.approx((-3, 21), abs=1e-12)
    with refused("l", EditError):
        EDITS["extend"](part, "l", (10, 5), edges=["b"])


def test_extend_meets_an_end_as_a_shared_point() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (10, 0), name="l")
    draft.line((20, 0), (20, 30), name="k")
    edited = EDITS["extend"](draft.done(), "l", (10, 0))
    assert edited.part.curves["l"].ends[1] == edited.part.curves["k"].ends[0]


@pytest.mark.parametrize(
    ("tool", "arguments", "error", "place"),
    [
        ("fillet", ("e1", "e1", "3"), EditError, "e1"),
        ("fillet", ("e1", "zz", "3"), EditError, "zz"),
        ("fillet", ("e1", "e2", "0"), EditError, "radius"),
        ("fillet", ("e1", "e2", "-3"), EditError, "radius"),
        ("fillet", ("e1", "e2", "wide"), QuantityError, "radius"),
        ("fillet", ("e1", "e2", "500"), GeometryError, "fillet"),
        ("fillet", ("e1", "e3", "3"), GeometryError, "fillet"),
        ("chamfer", ("e1", "e2", "500"), GeometryError, "chamfer"),
        ("chamfer", ("e1", "e2", "3", "0"), EditError, "leg"),
        ("corner", ("e1", "e2"), EditError, "e1, e2"),
        ("corner", ("e1", "e3"), GeometryError, "curves"),
        ("split", ("e1", (0, 0)), EditError, "e1"),
        ("split", ("e1", (60, 0)), EditError, "e1"),
        ("split", ("zz", (0, 0)), EditError, "zz"),
        ("join", ("e1", "e2"), EditError, "e1, e2"),
        ("join", ("e1", "e3"), EditError, "e1, e3"),
        ("cut_back", ("e1", (30, 0)), EditError, "e1"),
        ("extend", ("e1", (60, 0)), EditError, "e1"),
        ("delete", ("zz",), EditError, "zz"),
    ],
)
def test_what_cannot_be_done_says_so(tool: str, arguments, error, place: str) -> None:
    part = settle(plate())
    text = write(part)
    with refused(place, error):
        EDITS[tool](part, *arguments)
    assert write(part) == text


def test_deleting_takes_along_and_tells() -> None:
    part = settle(plate())
    edited = EDITS["delete"](part, "e2")
    assert "height" in edited.dropped
    assert {"e2", "height"} <= set(re.findall(r"\w+", edited.said))
    assert set(edited.part.points) == set(part.points)
    gone = EDITS["delete"](part, "p2")
    assert set(gone.part.curves) == {"e3", "e4"}
    assert EDITS["delete"](part, "width").part.curves is part.curves


def test_deleting_with_healing_where_nothing_meets() -> None:
    part = settle(plate())
    edited = EDITS["delete"](part, "e2", heal=True)  # e1 and e3 are parallel
    assert "e2" not in edited.part.curves


def test_deleting_an_edge_with_healing_brings_its_neighbours_together() -> None:
    draft = Draft(Part())
    p = [draft.point(at) for at in ((0, 0), (40, 0), (45, 5), (45, 30))]
    for i in range(3):
        draft.line(p[i], p[i + 1])
    edited = EDITS["delete"](draft.done(), "e2", heal=True)
    value = half(edited.part)
    assert value["e1"].end == value["e3"].start == pytest.approx((45, 0))


def test_a_smooth_joint_has_no_corner_to_cut() -> None:
    part = EDITS["fillet"](settle(plate()), "e1", "e2", "10").part
    for tool in ("fillet", "chamfer"):
        with refused("e1, a1", EditError):
            EDITS[tool](part, "e1", "a1", "1")


@pytest.mark.parametrize("path", DEMO_PARTS, ids=lambda path: path.stem)
def test_every_corner_of_the_demo_parts_is_cut_and_healed(path: Path) -> None:
    part = solve(load(path)).part
    size = "1" if part.unit == "mm" else "1/16"
    values = half(part)
    cut = 0
    for a, b in combinations(values, 2):
        shared = shared_corner(values[a], values[b])
        roles = {part.curves[a].role, part.curves[b].role}
        if shared is None or roles != {"outline"}:
            continue
        if joint_angle(values[a], values[b], shared) < 1e-6:
            continue
        for tool in ("fillet", "chamfer"):
            edited = EDITS[tool](part, a, b, size)
            assert edited.dropped == ()
            after = still_bound(edited)
            healed = EDITS["delete"](after, edited.made[0], heal=True).part
            assert healed.points == part.points
            assert healed.curves == part.curves
            assert solve(healed).report.doubled == ()
            cut += 1
    assert cut or path.stem.startswith(("pump", "shift"))  # two parts have smooth joints only


@pytest.mark.parametrize("path", DEMO_PARTS, ids=lambda path: path.stem)
def test_every_curve_of_the_demo_parts_is_split_and_joined(path: Path) -> None:
    part = solve(load(path)).part
    for name, curve in half(part).items():
        if isinstance(curve, Circle) or part.curves[name].role != "outline":
            continue
        edited = EDITS["split"](part, name, point_at(curve, 0.4))
        assert edited.dropped == ()
        report = solve(edited.part).report
        assert (report.freedoms, report.doubled, report.clashes) == (1, (), ())
        joined = EDITS["join"](edited.part, name, edited.made[0])
        assert joined.part.curves == part.curves
        still_bound(joined)


def test_parameters_may_size_a_fillet() -> None:
    draft = plate()
    part = settle(draft).having(parameters={"r": "7"})
    edited = EDITS["fillet"](part, "e1", "e2", "r")
    assert half(edited.part)["a1"].radius == pytest.approx(7)
    bigger = edited.part.having(parameters=frozen({"r": "9"}))
    assert half(solve(bigger).part)["a1"].radius == pytest.approx(9)


def test_an_end_that_was_bound_on_the_curve_is_not_bound_twice() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (40, 0), name="l")
    draft.line((30, 0), (30, 20), name="k")
    foot = draft.curves["k"].ends[0]
    draft.bind("fixed", [draft.curves["l"].ends[0]])
    draft.bind("level", ["l"])
    draft.bind("run", ["l"], "40")
    draft.bind("on", [foot, "l"], name="foot")
    draft.bind("run", ["p1", foot], "30")
    draft.bind("plumb", ["k"])
    draft.bind("rise", ["k"], "20")
    part = settle(draft)
    edited = EDITS["cut_back"](part, "l", (36, 0))
    assert edited.part.curves["l"].ends[1] == foot
    assert edited.dropped == ("foot",)
    still_bound(edited)


def test_a_chamfer_where_lines_cross_makes_the_corner() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (40, 0), name="l")
    draft.line((10, -10), (10, 30), name="k")
    for point in draft.points:
        draft.bind("fixed", [point])
    edited = EDITS["chamfer"](draft.done(), "l", "k", "3", near=(12, 2))
    line, _, _, corner = edited.made
    assert edited.part.points[corner] == pytest.approx((10, 0))
    cut = half(edited.part)[line]
    assert cut.length == pytest.approx(3 * sqrt(2))
    report = solve(edited.part).report
    assert (report.clashes, report.doubled) == ((), ())


def test_what_measures_or_compares_a_line_follows_its_old_ends() -> None:
    draft = plate()
    draft.line((10, 50), (70, 50), name="twin")
    draft.bind("equal", ["e1", "twin"], name="alike")
    middle = draft.point((30, 0))
    draft.bind("middle", [middle, "e1"], name="center")
    draft.bind("run", ["e1"], "60", drives=False, name="across")
    part = draft.done()
    edited = EDITS["fillet"](part, "e1", "e2", "10")
    assert edited.dropped == ("alike",)
    bindings = edited.part.bindings
    assert bindings["center"].of == (middle, "p1", "p2")
    assert bindings["across"].of == ("p1", "p2")
    assert not bindings["across"].drives


def test_circles_have_no_ends() -> None:
    draft = plate()
    draft.circle((30, 20), 5.0, name="h")
    part = draft.done()
    for tool, arguments, place in (
        ("corner", ("e1", "h"), "h"), ("corner", ("h", "e1"), "h"), ("extend", ("h", (0, 0)), "h"),
        ("join", ("e1", "h"), "e1, h"), ("cut_back", ("h", (25, 20)), "h"),
        ("split", ("h", (25, 20), (25, 20)), "h"),
    ):
        with refused(place, EditError):
            EDITS[tool](part, *arguments)
    assert "h" not in EDITS["delete"](part, "h", heal=True).part.curves


def test_an_arc_joined_to_one_about_another_center_keeps_its_own() -> None:
    draft = Draft(Part())
    draft.arc((10, 0), (0, 10), (0, 0), "ccw", name="a")
    shared = draft.curves["a"].ends[1]
    draft.arc(shared, (-10, 0), (0, 0), "ccw", name="b")
    other = draft.curves["b"].center
    draft.bind("run", [other, draft.curves["b"].ends[1]], "10", name="reach")
    draft.bind("equal", ["a", "b"])
    edited = EDITS["join"](draft.done(), "a", "b")
    center = draft.curves["a"].center
    assert edited.part.bindings["reach"].of[0] == center
    assert other not in edited.part.points
    assert half(edited.part)["a"].length == pytest.approx(10 * 3.141592653589793)
    draft.change_curve("b", turn="cw")  # it folds back over the other one now
    with refused("a, b", EditError):
        EDITS["join"](draft.done(), "a", "b")


@pytest.mark.parametrize("edit", ["split", "extend"])
def test_an_end_amid_its_own_line_is_dropped_not_said_twice(edit: str) -> None:
    draft = Draft(Part())
    a, b = draft.point((0, 0)), draft.point((10, 0))
    line = draft.line(a, b)
    draft.line(draft.point((30, -5)), draft.point((30, 5)))
    amid = draft.bind("middle", (a, line))
    at = (5.0, 0.0) if edit == "split" else (9.0, 0.0)
    edited = EDITS[edit](draft.done(), line, at)
    assert edited.dropped == (amid,)
    assert read(write(edited.part).encode()) == edited.part
