"""A half that waits for its mirror is told once, and nothing else is taken for one."""

from __future__ import annotations

import pytest

from sketcher.board.board import all_tools
from sketcher.errors import ExportError
from sketcher.inspect.detached import without_detached
from sketcher.inspect.findings import CODES, Finding
from sketcher.inspect.release import left_out, release_sheet
from sketcher.inspect.undrawn import undrawn
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.part.whole import whole
from tests.plates import codes, looked_at, plate

POINTS = {"p1": (0.0, 0.0), "p2": (40.0, 0.0), "p3": (40.0, 60.0), "p4": (0.0, 60.0)}
LINES = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4")}
AXIS = {"ax": ("p1", "p4")}


def half(axis: str = "", **more: tuple[str, str]) -> Part:
    """Half of a plate of 80 by 60 beside the y-axis, with a hole on the axis and one beside it."""
    points = {**POINTS, "c": (0.0, 20.0), "d": (25.0, 30.0), "q1": (0.0, 40.0), "q2": (10.0, 45.0),
              "q3": (0.0, 50.0), "far": (-40.0, -70.0), "up": (0.0, 90.0), "w": (80.0, 5.0)}
    return plate(points, {**LINES, "h": ("c", 5.0), "k": ("d", 4.0), **AXIS, **more},
                 roles={"ax": "axis"}, axis=axis)


def found(part: Part) -> Finding:
    (finding,) = looked_at(part).findings
    return finding


def test_a_half_is_one_finding_with_a_reason_and_a_way_out() -> None:
    finding = found(half())
    assert (finding.code, finding.ids, finding.at) == ("half", ("p1", "p4"), (0.0, 30.0))
    assert finding.text == "the half is open from p1 to p4: mirror it about ax (M)"
    assert f"({all_tools()['mirror'].key})" in finding.text
    assert all_tools()["mirror"].label in finding.mend
    assert "encloses nothing" in finding.why


def test_without_an_axis_it_is_the_line_through_the_ends() -> None:
    bare = found(plate(POINTS, LINES))
    assert bare.text == ("the half is open from p1 to p4: mirror it about the line through them "
                         "(M)")
    leaning = {name: (0.6 * x - 0.8 * y, 0.8 * x + 0.6 * y) for name, (x, y) in POINTS.items()}
    assert found(plate(leaning, LINES)).code == "half"


def test_where_the_part_has_an_axis_only_its_line_counts() -> None:
    points = {**POINTS, "far": (-40.0, -70.0), "up": (-40.0, 90.0)}
    aside = plate(points, {**LINES, "ax": ("far", "up")}, roles={"ax": "axis"})
    assert set(codes(looked_at(aside))) == {"open", "stray"}


def test_a_cut_out_on_the_axis_belongs_to_it() -> None:
    finding = found(half(c1=("q1", "q2"), c2=("q2", "q3")))
    assert finding.ids == ("p1", "p4")


def test_mirrored_it_is_sound() -> None:
    assert looked_at(half("ax")).sound


def test_an_arc_that_bulges_over_the_line_keeps_it_from_being_a_half() -> None:
    points = {"a": (0.0, 0.0), "b": (0.0, 60.0), "m": (30.0, 30.0)}
    beside = plate(points, {"a1": ("a", "b", "m", "cw")})
    over = plate(points, {"a1": ("a", "b", "m", "ccw")})
    assert {codes(looked_at(part))[0] for part in (beside, over)} == {"half"}  # each on one side
    corner = {**points, "c": (20.0, 0.0), "n": (10.0, 0.0)}
    looped = plate({**corner, "k": (0.0, 30.0)}, {"e": ("b", "c"), "a2": ("a", "c", "n", "ccw")})
    assert codes(looked_at(looped)) == ["half"]
    sunk = plate({"a": (0.0, 0.0), "b": (0.0, 60.0), "c": (2.0, 30.0), "m": (12.0, 14.0)},
                 {"a1": ("a", "c", "m", "cw"), "e": ("c", "b")})
    assert "half" not in codes(looked_at(sunk))  # its middle lies beyond the line


@pytest.mark.parametrize(("more", "code"), [
    ({"tail": ("p4", "far")}, "open"),        # on both sides of the line through the ends
    ({"tail": ("p4", "up")}, "open"),         # an edge along the line
    ({"tail": ("p3", "w")}, "open"),          # three ends in no line
])
def test_what_is_no_half_is_told_as_before(more: dict[str, tuple[str, str]], code: str) -> None:
    told = codes(looked_at(half(**more)))
    assert "half" not in told
    assert {code, "stray"} <= set(told)


def test_a_corner_astray_in_a_plate_is_no_half_of_it() -> None:
    points = {**POINTS, "a": (10.0, 10.0), "b": (20.0, 10.0), "c": (20.0, 20.0)}
    part = plate(points, {**LINES, "e4": ("p4", "p1"), "s": ("a", "b"), "t": ("b", "c")})
    assert set(codes(looked_at(part))) == {"open", "stray"}


def test_ends_that_nearly_meet_are_a_gap() -> None:
    part = plate({**POINTS, "n": (0.0, 0.02)}, {**LINES, "e4": ("p4", "n")})
    assert codes(looked_at(part)) == ["gap"]


def test_no_hole_is_left_off_the_sheet_unasked() -> None:
    inspection = looked_at(half())
    assert [finding.code for finding in left_out(inspection)] == ["half"]
    with pytest.raises(ExportError, match="half: the half is open"):
        release_sheet(inspection)
    release_sheet(inspection, {"half"})
    assert left_out(looked_at(plate(POINTS, LINES))) == ()  # no hole, nothing left out


def test_what_the_sheet_of_a_half_leaves_out_is_told_by_count_and_kind() -> None:
    part = half()
    assert undrawn(looked_at(part)) == "1 circle (Ø8 mm at (25, 30))"
    draft = Draft(part)
    for x in (30.0, 45.0):
        corners = [draft.point((x + dx, 10.0 + dy))
                   for dx, dy in ((0.0, 0.0), (6.0, 0.0), (6.0, 8.0), (0.0, 8.0))]
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
            draft.line(a, b)
    for x in (40.0, 60.0, 70.0):
        draft.circle((x, 50.0), 2.0)
    told = undrawn(looked_at(draft.done()))
    assert told == ("4 circles (Ø8 mm at (25, 30), Ø4 mm at (40, 50), Ø4 mm at (60, 50) and 1 more)"
                    " and 2 contours (6 x 8 mm at (33, 14), 6 x 8 mm at (48, 14))")
    # It is what the sheet shows: outline pieces that are neither of these are drawn.
    shown = {piece.id for piece in without_detached(whole(draft.done()))}
    assert {c for c in draft.done().curves if c not in shown} == {
        name for piece in looked_at(draft.done()).profile.detached for name in piece.ids}


def test_the_code_is_known() -> None:
    assert CODES["half"].mend.startswith("Take Mirror")
