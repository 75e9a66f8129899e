"""What edits do to the bindings, groups and points beside what they change."""

from __future__ import annotations

from math import hypot

import pytest

from sketcher.errors import EditError
from sketcher.geometry.curves import Arc, Line
from sketcher.geometry.evaluate import point_at
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.value import GridPattern, Mirror, Part, frozen
from sketcher.part.whole import half
from sketcher.solve import solve
from tests.refusals import refused


def kinds_of_dropped(before: Part, dropped: tuple[str, ...]) -> set[str]:
    """The binding kinds that an edit dropped."""
    return {before.bindings[name].kind for name in dropped}


def test_a_healed_corner_drops_only_what_bound_the_round() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (60, 0), name="e1")
    draft.line("p2", (60, 40), name="e2")
    draft.bind("run", ["p1", "p2"], "60")  # names the corner, so that it stays
    part = EDITS["fillet"](draft.done(), "e1", "e2", "10").part
    edited = EDITS["delete"](part, "a1", heal=True)
    assert kinds_of_dropped(part, edited.dropped) == {"radius", "tangent"}
    assert edited.part.points["p2"] == (60.0, 0.0)
    assert not any(b.kind == "on" for b in edited.part.bindings.values())


def test_a_healed_tip_on_the_axis_drops_only_what_bound_the_round() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (0, 60), "axis", name="axis")
    draft.line((30, 0), (0, 40), name="side")
    draft.bind("on", ["p4", "axis"])
    draft.bind("rise", ["p3", "p4"], "40")
    draft.set_mirrors([Mirror("axis")])
    part = EDITS["fillet_on_axis"](draft.done(), "side", "axis", "4").part
    edited = EDITS["delete"](part, "a1", heal=True)
    assert all("p4" not in part.bindings[name].of for name in edited.dropped)
    assert half(edited.part)["side"] == Line((30, 0), (0, 40))
    ons = [b.of for b in edited.part.bindings.values() if b.kind == "on"]
    assert ons == [("p4", "axis")]


def cut_bar() -> Part:
    """A bar with a round at its far end; one line crosses it, another ends on it."""
    draft = Draft(Part())
    draft.line((0, 0), (60, 0), name="bar")
    draft.arc("p2", (60, 20), (60, 10), name="round")
    draft.line((20, -5), (20, 5), name="first")
    draft.line((40, 0), (40, 9), name="second")
    draft.bind("fixed", ["p1"])
    draft.bind("level", ["bar"])
    draft.bind("tangent", ["bar", "round"])
    draft.bind("on", [draft.curves["second"].points[0], "bar"])
    return draft.done()


def test_a_span_cut_out_hands_the_tangency_to_the_rest() -> None:
    part = cut_bar()
    before = solve(part).report
    assert before.doubled == ()
    edited = EDITS["cut_back"](part, "bar", (30.0, 0.0))
    bar, rest = edited.made
    assert half(edited.part)[bar] == Line((0, 0), (20, 0))
    assert half(edited.part)[rest] == Line((40, 0), (60, 0))
    (tangent,) = (b for b in edited.part.bindings.values() if b.kind == "tangent")
    assert set(tangent.of) == {rest, "round"}
    report = solve(edited.part).report
    assert report.clashes == report.doubled == ()


def test_two_crossings_open_a_circle() -> None:
    draft = Draft(Part())
    draft.circle((0, 0), 10.0, name="h")
    draft.line((-20, 0), (20, 0), name="l")
    arc = half(EDITS["cut_back"](draft.done(), "h", (0.0, 9.0)).part)["h"]
    assert isinstance(arc, Arc)
    assert point_at(arc, 0.5) == pytest.approx((0, -10))
    draft.line((0, 5), (0, 20), name="k")
    arc = half(EDITS["cut_back"](draft.done(), "h", (7.0, 7.0)).part)["h"]
    assert isinstance(arc, Arc)
    assert arc.length == pytest.approx(0.75 * 20 * 3.141592653589793)


def test_a_circle_that_one_place_crosses_is_not_opened() -> None:
    draft = Draft(Part())
    draft.circle((0, 0), 10.0, name="h")
    draft.line((0, 0), (20, 0), name="l")
    with refused("h", EditError):
        EDITS["cut_back"](draft.done(), "h", (0.0, 9.0))


def test_instances_of_their_own_are_reflected_as_the_pattern_was() -> None:
    draft = Draft(Part())
    draft.line((0, -5), (0, 60), "axis", name="ax")
    draft.circle((20, 20), 5.0, name="h1")
    draft.pattern(GridPattern(("h1",), ("15", "0"), (3, 1)), name="g1")
    draft.circle((20, 40), 3.0, name="h2")
    other = GridPattern(("h2",), ("5", "0"), (2, 1))
    draft.pattern(other, name="g2")
    draft.set_mirrors([Mirror("ax", ("h1",))])
    edited = EDITS["dissolve_pattern"](draft.done(), "g1")
    assert edited.part.mirrors == (Mirror("ax", ("h1", *edited.made)),)
    assert dict(edited.part.patterns) == {"g2": other}


def test_a_round_on_the_axis_is_of_the_kind_and_group_of_its_curve() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (0, 60), "axis", name="axis")
    draft.line((30, 0), (0, 40), "layout", name="side")
    draft.bind("on", ["p4", "axis"])
    draft.set_mirrors([Mirror("axis", ("side",))])
    edited = EDITS["fillet_on_axis"](draft.done(), "side", "axis", "4")
    arc = edited.made[0]
    assert edited.part.curves[arc].role == "layout"
    assert edited.part.mirrors == (Mirror("axis", ("side", arc)),)


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("plumb", [False, True])
def test_the_nearer_end_of_a_line_goes_to_the_corner(plumb: bool, turned: bool) -> None:
    # Far from the origin and stopping short, so that only the distance to the corner tells.
    draft = Draft(Part())
    fixed, moving = ((100, 100), (110, 100)), ((130, 80), (130, 50))
    if plumb:
        fixed, moving = ((130, 20), (130, 50)), ((100, 100), (110, 100))
    draft.line(*fixed, name="a")
    draft.line(*(reversed(moving) if turned else moving), name="b")
    edited = EDITS["corner"](draft.done(), "a", "b")
    far = max(moving, key=lambda end: hypot(end[0] - 130, end[1] - 100))
    line = half(edited.part)["b"]
    assert isinstance(line, Line)
    assert {line.start, line.end} == {(130.0, 100.0), far}


def test_a_line_that_begins_in_an_arcs_center_may_meet_its_end() -> None:
    draft = Draft(Part())
    draft.arc((10, 0), (0, 10), (0, 0), name="a")
    draft.line(draft.curves["a"].points[2], (0, 10), name="l")
    edited = EDITS["corner"](draft.done(), "a", "l")
    shared = set(edited.part.curves["a"].points[:2]) & set(edited.part.curves["l"].points)
    assert {edited.part.points[p] for p in shared} == {(0.0, 10.0)}


def test_a_slot_keeps_its_angles_as_typed() -> None:
    draft = Draft(Part(parameters=frozen({"turn": "15°"})))
    draft.point((0, 0))
    edited = EDITS["scribe_slot"](draft.done(), "p1", "40", ("turn", "3*turn"), "4")
    texts = [edited.part.bindings[name].value for name in edited.made if name in
             edited.part.bindings]
    assert {"turn", "3*turn", "40", "4"} <= set(texts)
    assert EDITS["set_parameter"](edited.part, "turn", "20°").part.bindings


def test_a_value_that_cannot_be_read_is_told_by_its_name() -> None:
    draft = Draft(Part())
    draft.circle((0, 0), 5.0, name="h1")
    draft.circle((1, 0), 2.0, name="h2")
    part = draft.done()
    given = {
        "angle": (EDITS["scribe_slope"], ("p1", "wide", (1.0, 1.0))),
        "half width": (EDITS["scribe_slot"], ("p1", "9", ("0", "9"), "wide")),
        "radius": (EDITS["scribe_slot"], ("p1", "wide", ("0", "9"), "1")),
    }
    for place, (edit, values) in given.items():
        with refused(place):
            edit(part, *values)
    with refused("scribe", EditError) as caught:  # one circle lies within the other
        EDITS["scribe_tangent"](part, "h1", "h2", (0.0, 9.0))
    assert {"h1", "h2"} <= set(caught.value.problem.split())
    with refused("scribe", EditError) as caught:
        EDITS["scribe_touching"](part, ("h1", "p2"), (0.0, 9.0), "0.1")
    assert {"h1", "p2"} <= set(caught.value.problem.split())


def test_a_line_without_length_bears_no_ladder() -> None:
    draft = Draft(Part())
    draft.line((3, 4), (5, 4), "layout", name="s1")
    draft.move_point("p2", (3, 4))
    with refused("s1", EditError):
        EDITS["scribe_ladder"](draft.done(), "s1", "5", (0.0, 9.0))


def test_a_new_dimension_drives_unless_said_otherwise() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (30, 0), name="e1")
    for drives in ({}, {"drives": True}, {"drives": False}):
        edited = EDITS["add_binding"](draft.done(), "distance", ["e1"], "30", **drives)
        assert edited.part.bindings[edited.made[0]].drives is drives.get("drives", True)
