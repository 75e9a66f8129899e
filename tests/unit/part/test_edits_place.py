"""Copy, move, rotate, reflect, mirrors and patterns: placed exactly, bound as it makes sense."""

from __future__ import annotations

from math import cos, hypot, radians, sin

import pytest

from sketcher.errors import EditError, GeometryError, QuantityError
from sketcher.part.edited import Edited
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.file_text import read, write
from sketcher.part.mirror import same_place
from sketcher.part.store import load
from sketcher.part.value import GridPattern, Mirror, Part, PolarPattern
from sketcher.part.whole import half, whole
from sketcher.solve import solve
from tests.demo_parts import SOUND as DEMO_PARTS
from tests.refusals import refused


def check(edited: Edited, freedoms: int = 0) -> Part:
    """Check that the solver finds nothing to do, nothing said twice and so many freedoms."""
    solution = solve(edited.part)
    report = solution.report
    assert report.converged
    assert report.clashes == ()
    assert report.doubled == ()
    assert report.freedoms == freedoms, report
    for name, (x, y) in edited.part.points.items():
        u, v = solution.part.points[name]
        assert hypot(u - x, v - y) < 1e-9, name
    assert read(write(edited.part)) == edited.part
    return edited.part


def assert_same_whole(a: Part, b: Part) -> None:
    """The outlines of two whole parts cover the same places."""
    first = [p for p in whole(a) if p.role == "outline"]
    second = [p for p in whole(b) if p.role == "outline"]
    assert len(first) == len(second)
    for piece in first:
        assert any(same_place(piece.curve, other.curve, 1e-8) for other in second), piece


def tab() -> Part:
    """A bound tab: two lines, a tangent arc, a hole; the axis stands plumb at x = -10."""
    draft = Draft(Part())
    p = [draft.point(at) for at in ((0, 0), (30, 0), (30, 20), (0, 20))]
    center = draft.point((30, 10))
    draft.line(p[0], p[1], name="e1")
    draft.arc(p[1], p[2], center, "ccw", name="a1")
    draft.line(p[2], p[3], name="e2")
    draft.line(p[3], p[0], name="e3")
    draft.circle(center, 4.0, name="h1")
    draft.line((-10, -10), (-10, 40), "axis", name="ax")
    draft.bind("fixed", [p[0]])
    draft.bind("level", ["e1"])
    draft.bind("level", ["e2"])
    draft.bind("plumb", ["e3"])
    draft.bind("run", ["e1"], "30")
    draft.bind("radius", ["a1"], "10")
    draft.bind("tangent", ["e1", "a1"])
    draft.bind("tangent", ["e2", "a1"])
    draft.bind("diameter", ["h1"], "8")
    draft.bind("fixed", ["p6"])
    draft.bind("fixed", ["p7"])
    solution = solve(draft.done())
    assert solution.report.state == "bound"
    assert solution.report.doubled == ()
    return solution.part


OUTLINE = ["e1", "a1", "e2", "e3", "h1"]


def test_a_copy_is_bound_in_itself_and_loose_as_a_whole() -> None:
    part = tab()
    edited = EDITS["copy"](part, OUTLINE, (50.0, 7.0))
    after = check(edited, freedoms=2)  # it may go level and plumb
    assert len(edited.made) == 5
    for source, name in zip(OUTLINE, edited.made, strict=True):
        assert after.curves[name].kind == part.curves[source].kind
    old, new = half(after)["a1"], half(after)[edited.made[1]]
    assert new.center == (old.center[0] + 50, old.center[1] + 7)


def test_moving_everything_keeps_everything() -> None:
    part = tab()
    edited = EDITS["move"](part, list(part.curves), (5.0, -3.0))
    assert edited.dropped == ()
    after = check(edited)
    assert after.points["p1"] == (5.0, -3.0)
    assert after.curves is part.curves


def test_moving_one_edge_drops_what_no_longer_holds() -> None:
    part = tab()
    edited = EDITS["move"](part, ["h1"], (2.0, 0.0))
    names = {part.bindings[name].kind for name in edited.dropped}
    assert names == {"radius", "tangent"}  # the hole shares its center with the arc
    assert solve(edited.part).report.clashes == ()
    with refused("selection", EditError):
        EDITS["move"](part, [], (1, 1))
    with refused("zz", EditError):
        EDITS["move"](part, ["zz"], (1, 1))


def test_rotating_turns_exactly_and_drops_level() -> None:
    part = tab()
    edited = EDITS["rotate"](part, OUTLINE, (0.0, 0.0), 90.0)
    kinds = sorted(part.bindings[name].kind for name in edited.dropped)
    assert kinds == ["level", "level", "plumb", "run"]
    assert edited.part.points["p2"] == (0.0, 30.0)
    assert edited.part.points["p3"] == (-20.0, 30.0)
    turned = EDITS["rotate"](part, OUTLINE, (30.0, 10.0), 37.0).part
    x, y = turned.points["p1"]
    c, s = cos(radians(37)), sin(radians(37))
    assert (x, y) == pytest.approx((30 - 30 * c + 10 * s, 10 - 30 * s - 10 * c), abs=1e-12)
    assert solve(turned).report.clashes == ()


def test_reflecting_a_copy_binds_the_images() -> None:
    part = tab()
    edited = EDITS["reflect"](part, OUTLINE, "ax")
    after = check(edited)
    mirrored = part.having(mirrors=(Mirror("ax"),))
    assert_same_whole(mirrored, after)
    assert after.curves[edited.made[1]].turn == "cw"
    longer = solve(EDITS["set_value"](after, "b5", "44").part)
    assert longer.report.state == "bound"
    assert_same_whole(longer.part.having(curves={n: c for n, c in longer.part.curves.items()
                                                 if n not in edited.made}, mirrors=(Mirror("ax"),)),
                      longer.part)


def test_reflecting_in_place_keeps_what_lies_wholly_in_it() -> None:
    part = tab()
    edited = EDITS["reflect"](part, OUTLINE, "ax", keep=False)
    assert edited.dropped == ()
    after = check(edited)
    assert after.points["p2"] == (-50.0, 0.0)
    assert after.curves["a1"].turn == "cw"
    back = check(EDITS["reflect"](after, OUTLINE, "ax", keep=False))
    assert back == part


def test_reflect_refuses() -> None:
    part = tab()
    for ids, axis, place in ((["e1"], "h1", "h1"), (["e1", "ax"], "ax", "ax"), (["zz"], "ax", "zz"),
                             ([], "ax", "selection")):
        with refused(place, EditError):
            EDITS["reflect"](part, ids, axis)
    draft = Draft(part)
    draft.circle((-10, 5), 2.0, name="on")
    with refused("selection", EditError):
        EDITS["reflect"](draft.done(), ["on"], "ax")


def test_set_and_clear_mirror() -> None:
    part = tab()
    one = EDITS["set_mirror"](part, "ax").part
    assert one.mirrors == (Mirror("ax"),)
    two = EDITS["set_mirror"](one, "e1", ["a1", "h1", "e1"], second=True).part
    assert two.mirrors == (Mirror("ax"), Mirror("e1", ("a1", "h1")))
    assert two.curves["e1"].role == "axis"
    assert EDITS["set_mirror"](two, "ax", ["a1"]).part.mirrors[0] == Mirror("ax", ("a1",))
    assert EDITS["set_mirror"](two, "e2").part.mirrors == (Mirror("e2"),)
    assert EDITS["clear_mirror"](two, "ax").part.mirrors == (two.mirrors[1],)
    assert EDITS["clear_mirror"](two).part.mirrors == ()
    with refused("e2", EditError):
        EDITS["set_mirror"](two, "e2", second=True)
    for axis, curves, place in (
        ("h1", "outline", "h1"), ("zz", "outline", "zz"), ("ax", ["zz"], "zz"),
    ):
        with refused(place, EditError):
            EDITS["set_mirror"](part, axis, curves)
    for place, edit, given in (
        ("mirror", "clear_mirror", (part,)), ("e1", "clear_mirror", (one, "e1")),
        ("mirror", "flip", (part,)), ("e1", "flip", (one, "e1")), ("mirror", "make_whole", (part,)),
    ):
        with refused(place, EditError):
            EDITS[edit](*given)


def test_an_axis_without_length_is_refused() -> None:
    draft = Draft(tab())
    draft.move_point("p7", draft.points["p6"])
    with refused("mirror", GeometryError):
        EDITS["set_mirror"](draft.done(), "ax")


@pytest.fixture(scope="module")
def solved_demo_parts() -> dict[str, Part]:
    return {path.name: solve(load(path)).part for path in DEMO_PARTS}


def test_flip_and_make_whole_of_the_demo_parts(solved_demo_parts) -> None:
    mirrored = [part for part in solved_demo_parts.values() if part.mirrors]
    assert len(mirrored) >= 3
    for part in mirrored:
        flipped = EDITS["flip"](part)
        assert flipped.dropped == ()
        assert_same_whole(part, check(flipped))
        own = EDITS["make_whole"](part)
        assert own.dropped == ()
        assert own.part.mirrors == ()
        assert_same_whole(part, check(own))
        assert len(own.made) + sum(c.role == "outline" for c in part.curves.values()) <= len(
            [p for p in whole(part) if p.role == "outline"]
        )


def test_the_second_axis_can_be_flipped_about() -> None:
    draft = Draft(tab())
    draft.line((-60, -30), (60, -30), "axis", name="ay")
    for point in draft.curves["ay"].points:
        draft.bind("fixed", [point])
    draft.set_mirrors([Mirror("ax"), Mirror("ay")])
    part = draft.done()
    flipped = check(EDITS["flip"](part, "ay"))
    assert flipped.points["p1"] == (0.0, -60.0)
    assert_same_whole(part, flipped)
    own = EDITS["make_whole"](part)
    assert_same_whole(part, check(own))
    assert len(own.made) == 15


def test_a_dissolved_pattern_covers_the_same_places(solved_demo_parts) -> None:
    found = 0
    for part in solved_demo_parts.values():
        for name in part.patterns:
            edited = EDITS["dissolve_pattern"](part, name)
            assert name not in edited.part.patterns
            assert_same_whole(part, check(edited))
            found += 1
    assert found >= 2


def patterned(pattern) -> Part:
    draft = Draft(tab())
    draft.circle((10, 10), 2.0, name="h2")
    draft.bind("fixed", [draft.curves["h2"].center])
    draft.bind("radius", ["h2"], "2")
    draft.pattern(pattern, "n1")
    draft.set_mirrors([Mirror("ax")])
    return draft.done()


@pytest.mark.parametrize(
    "pattern",
    [
        GridPattern(("h2",), ("7", "5"), (3, 2)),
        GridPattern(("h2",), ("7", "5"), (3, 2), "25"),
        PolarPattern(("h2",), "p5", 5),
        PolarPattern(("h2",), "p5", 3, "-80"),
        PolarPattern(("h2",), "p6", 4, "100"),
    ],
)
def test_patterns_are_flipped_made_whole_and_dissolved(pattern) -> None:
    part = patterned(pattern)
    assert_same_whole(part, check(EDITS["flip"](part)))
    twice = EDITS["flip"](EDITS["flip"](part).part).part
    assert_same_whole(part, twice)
    own = EDITS["make_whole"](part).part
    assert len(own.patterns) == 2
    assert_same_whole(part, own)
    assert solve(own).report.doubled == ()
    loose = check(EDITS["dissolve_pattern"](part, "n1"))
    assert_same_whole(part, loose)
    assert_same_whole(part, check(EDITS["make_whole"](loose)))


def test_a_pattern_that_is_partly_its_own_reflection_must_be_dissolved_first() -> None:
    draft = Draft(tab())
    draft.circle((-10, 10), 2.0, name="h2")
    draft.pattern(GridPattern(("h2",), ("8", "5"), (2, 1)), "n1")
    draft.set_mirrors([Mirror("ax")])
    with refused("patterns.n1", EditError):
        EDITS["make_whole"](draft.done())
    own = EDITS["make_whole"](EDITS["dissolve_pattern"](draft.done(), "n1").part).part
    assert_same_whole(draft.done(), own)


def test_dissolving_lines_and_arcs_leaves_them_loose() -> None:
    draft = Draft(tab())
    draft.pattern(GridPattern(("e1", "a1", "e2", "e3", "h1"), ("60", "1"), (2, 1)), "n1")
    edited = EDITS["dissolve_pattern"](draft.done(), "n1")
    assert_same_whole(draft.done(), edited.part)
    report = solve(edited.part).report
    assert report.clashes == report.doubled == ()


def test_set_and_remove_pattern() -> None:
    part = tab()
    edited = EDITS["set_pattern"](part, GridPattern(("h1",), ("30", "24"), (4, 2)))
    (name,) = edited.made
    changed = EDITS["set_pattern"](edited.part, GridPattern(("h1",), ("30", "24"), (4, 3)), name)
    assert changed.part.patterns[name].count == (4, 3)
    assert EDITS["set_pattern"](changed.part, changed.part.patterns[name], name).part is (
        changed.part
    )
    assert EDITS["remove_pattern"](changed.part, name).part == part
    for wrong in (
        GridPattern((), ("1", "1"), (1, 1)),
        GridPattern(("zz",), ("1", "1"), (1, 1)),
        GridPattern(("h1", "h1"), ("1", "1"), (1, 1)),
        GridPattern(("h1",), ("1", "1"), (0, 1)),
        GridPattern(("h1",), ("1", "1"), (999, 999)),
        PolarPattern(("h1",), "zz", 3),
    ):
        with refused(wrong.kind, EditError):
            EDITS["set_pattern"](part, wrong)
    with refused("grid.step[0]", QuantityError, remedy=False):
        EDITS["set_pattern"](part, GridPattern(("h1",), ("1°", "1"), (1, 1)))
    with refused("patterns.e1", EditError):
        EDITS["set_pattern"](part, GridPattern(("h1",), ("1", "1"), (2, 1)), "e1")
    for name in ("remove_pattern", "dissolve_pattern"):
        with refused("zz", EditError):
            EDITS[name](part, "zz")


def test_dragged_dimension_texts_are_flipped_too() -> None:
    part = EDITS["set_mirror"](tab(), "ax").part
    part = EDITS["set_drawing"](part, placed={"b5": (15.0, -6.0)}).part
    flipped = EDITS["flip"](part).part
    assert flipped.drawing.placed["b5"] == (-35.0, -6.0)
    assert read(write(flipped)) == flipped


def test_an_end_on_a_bound_circle_is_held_by_the_length_of_its_line() -> None:
    draft = Draft(Part())
    center = draft.point((0, 0))
    draft.line((0, -50), (0, 50), "axis", name="ax")
    draft.arc((30, 0), (18, 24), center, "ccw", name="a")
    draft.line(draft.curves["a"].ends[1], (40, 40), name="l")
    for point in (center, *draft.curves["ax"].points, draft.curves["l"].ends[1]):
        draft.bind("fixed", [point])
    draft.bind("radius", ["a"], "30")
    draft.bind("level", [center, draft.curves["a"].ends[0]])
    draft.bind("rise", [center, draft.curves["a"].ends[1]], "24")
    part = solve(draft.done()).part.having(mirrors=(Mirror("ax"),))
    own = EDITS["make_whole"](part)
    assert_same_whole(part, check(own))
    kinds = [b.kind for n, b in own.part.bindings.items() if n not in part.bindings]
    assert kinds.count("equal") == 1


def test_a_polar_pattern_about_a_place_beside_the_axis_gets_a_center_of_its_own() -> None:
    draft = Draft(tab())
    draft.circle((20, 60), 2.0, name="h2")
    center = draft.point((20, 50))
    for point in (draft.curves["h2"].center, center):
        draft.bind("fixed", [point])
    draft.bind("radius", ["h2"], "2")
    draft.pattern(PolarPattern(("h2",), center, 4, "200"), "n1")
    draft.set_mirrors([Mirror("ax")])
    part = draft.done()
    own = EDITS["make_whole"](part).part
    assert own.points[own.patterns["r1"].center] == (-40.0, 50.0)
    assert_same_whole(part, own)
    assert solve(own).report.doubled == ()


def test_a_dissolved_pattern_of_concentric_circles_says_each_place_once() -> None:
    draft = Draft(tab())
    draft.circle((10, 10), 2.0, name="h2")
    draft.circle(draft.curves["h2"].center, 3.0, name="h3")
    draft.bind("fixed", [draft.curves["h2"].center])
    draft.bind("radius", ["h2"], "2")
    draft.bind("radius", ["h3"], "3")
    draft.pattern(GridPattern(("h2", "h3"), ("7", "5"), (2, 1)), "n1")
    part = draft.done()
    assert_same_whole(part, check(EDITS["dissolve_pattern"](part, "n1")))
    assert set(EDITS["dissolve_pattern"](part, "n1").part.curves) == {*part.curves, "h4", "h5"}


def test_a_pattern_about_its_own_center_shares_it() -> None:
    draft = Draft(tab())
    draft.pattern(PolarPattern(("h1",), "p5", 3), "n1")  # the hole stands at the center itself
    edited = EDITS["dissolve_pattern"](draft.done(), "n1")
    centers = {edited.part.curves[name].center for name in ("h1", *edited.made)}
    assert centers == {"p5"}


def test_two_axes_with_listed_curves_are_made_whole() -> None:
    draft = Draft(tab())
    draft.line((-60, -30), (60, -30), "axis", name="ay")
    for point in draft.curves["ay"].points:
        draft.bind("fixed", [point])
    draft.set_mirrors([Mirror("ax", ("h1", "e2")), Mirror("ay", ("h1",))])
    part = draft.done()
    own = EDITS["make_whole"](part)
    assert_same_whole(part, check(own))
    assert len(own.made) == 4  # h1 three times, e2 once
