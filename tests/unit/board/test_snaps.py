"""Every snap: the place that it finds, its word, and the binding that it becomes."""

from __future__ import annotations

from math import cos, hypot, radians, sin, sqrt

import pytest

from sketcher.board.board import Board
from sketcher.board.places.snap_choice import snaps
from sketcher.board.preview import Pointer
from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import measure
from sketcher.part.value import Mirror, Part
from tests.hands import BoardHands

REACH = 1.0


def scene() -> Part:
    """A sloping line, a circle, an arc, a plumb axis and a line that is reflected about it."""
    draft = Draft(Part())
    draft.line((10, 10), (50, 30))  # e1, p1 p2
    draft.circle((80, 20), 10.0)  # h1, p3
    draft.arc((120, 0), (140, 20), (120, 20))  # a1: p4 p5 about p6
    axis = draft.line((0, -10), (0, 60), "axis")  # x1, p7 p8
    draft.line((10, 50), (30, 55))  # e2, p9 p10
    draft.set_mirrors((Mirror(axis),))
    return draft.done()


def spot_of(board: Board, at: tuple[float, float], keys: frozenset[str] = frozenset()):
    board.move(Pointer(*at, REACH, keys))
    return board.tool.spot


def drawing(tool: str, *places: tuple[float, float]) -> Board:
    board = Board(scene())
    board.use(tool)
    for place in places:
        board.move(Pointer(*place, REACH))
        board.press(Pointer(*place, REACH))
    return board


def angle_from_start(direction: float, start: tuple[float, float], size: float):
    turn = radians(direction)
    return (start[0] + size * cos(turn), start[1] + size * sin(turn))


def touch(board: Board, at: tuple[float, float]) -> None:
    """Point at a curve on the way, so that it counts as touched."""
    board.move(Pointer(*at, REACH))


SLOPE = sqrt(0.8), sqrt(0.2)  # direction of e1: 40 by 20


def test_end() -> None:
    board = drawing("line")
    spot = spot_of(board, (50.4, 30.3))
    assert (spot.point, spot.word, spot.at) == ("p2", "end p2", (50, 30))


def test_center() -> None:
    board = drawing("line")
    spot = spot_of(board, (80.4, 19.7))
    assert (spot.point, spot.word) == ("p3", "center of h1")


def test_middle() -> None:
    board = drawing("line", (33, 3))
    spot = spot_of(board, (30.3, 20.4))
    assert spot.word == "midpoint of e1"
    board.press(Pointer(30.3, 20.4, REACH))
    kinds = [(b.kind, b.of) for b in board.part.bindings.values()]
    assert ("middle", ("p12", "e1")) in kinds


def test_quadrant() -> None:
    board = drawing("line", (85, 60))
    spot = spot_of(board, (80.3, 30.4))
    assert spot.word == "quadrant of h1"
    assert spot.at == pytest.approx((80, 30))
    board.press(Pointer(80.3, 30.4, REACH))
    kinds = sorted(b.kind for b in board.part.bindings.values())
    assert kinds == ["on", "plumb"]


def test_crossing() -> None:
    board = drawing("line", (40, 15), (20, 35))  # crosses e1
    place = (100 / 3, 65 / 3)  # y = 5 + x/2 and y = 55 - x
    board.use("line")
    spot = spot_of(board, (place[0] + 0.3, place[1]))
    assert spot.word.startswith("crossing of")
    assert spot.at == pytest.approx(place, abs=1e-9)
    assert [tie.kind for tie in spot.ties] == ["on", "on"]


def test_on_a_curve_and_on_the_axis() -> None:
    board = drawing("line")
    spot = spot_of(board, (20.3, 15.3))
    assert spot.word == "on e1"
    assert spot.ties[0].of == ("@", "e1")
    assert spot_of(board, (0.4, 33)).word == "on the axis x1"


def test_on_the_image_of_a_curve() -> None:
    board = drawing("line")
    spot = spot_of(board, (-25.0, 17.6))
    assert spot.word == "on the image of e1"
    assert spot.ties == ()


def test_image_of_an_end() -> None:
    board = drawing("line", (-33, 3))
    spot = spot_of(board, (-50.3, 30.3))
    assert spot.word == "image of p2"
    board.press(Pointer(-50.3, 30.3, REACH))
    kinds = [(b.kind, b.of) for b in board.part.bindings.values()]
    assert ("reflected", ("p2", "p12", "x1")) in kinds


def test_tangent_foot() -> None:
    start = (60.0, 50.0)
    board = drawing("line", start)
    # Thales: the foot is where the circle about the half way to the center meets the round.
    away = hypot(20, 30)
    along, aside = 100 / away, 10 * sqrt(1 - 100 / away**2)
    ux, uy = -20 / away, 30 / away
    feet = [(80 + along * ux - s * aside * uy, 20 + along * uy + s * aside * ux) for s in (1, -1)]
    for foot in feet:
        spot = spot_of(board, (foot[0] + 0.2, foot[1] + 0.1))
        assert spot.word == "tangent to h1"
        assert spot.at == pytest.approx(foot, abs=1e-9)
    board.press(Pointer(feet[1][0], feet[1][1], REACH))
    assert sorted(b.kind for b in board.part.bindings.values()) == ["on", "tangent"]
    assert all(abs(measure(board.part, b)) < 1e-9 for b in board.part.bindings.values())


def test_square_foot() -> None:
    board = drawing("line", (20, 40))  # foot on e1: t = (10*40 + 30*20)/2000 = 1/2
    spot = spot_of(board, (29.7, 20.2))
    assert spot.word in ("square to e1", "midpoint of e1")
    board = drawing("line", (16, 38))
    foot = (10 + 40 * 0.4, 10 + 20 * 0.4)
    spot = spot_of(board, (foot[0] + 0.3, foot[1] - 0.2))
    assert spot.word == "square to e1"
    assert spot.at == pytest.approx(foot, abs=1e-9)
    assert {tie.kind for tie in spot.ties} == {"on", "square"}


@pytest.mark.parametrize(("direction", "word"), [(0.7, "level"), (90.6, "plumb"), (180.5, "level")])
def test_level_and_plumb(direction: float, word: str) -> None:
    start = (60.0, 80.0)
    board = drawing("line", start)
    spot = spot_of(board, angle_from_start(direction, start, 12))
    assert spot.word == word
    assert [tie.kind for tie in spot.ties] == [word]
    assert spot.ties[0].of == ("@curve",)


@pytest.mark.parametrize(("turn", "word"), [(0.0, "parallel to e1"), (90.0, "square to e1")])
def test_parallel_and_square_to_what_was_touched(turn: float, word: str) -> None:
    start = (60.0, 80.0)
    board = drawing("line", start)
    touch(board, (22.0, 16.1))
    slope = 26.56505117707799
    spot = spot_of(board, angle_from_start(slope + turn + 0.5, start, 15))
    assert spot.word == word
    assert spot.ties[0].of == ("@curve", "e1")


@pytest.mark.parametrize(("at", "word"), [((71.0, 30.3), "level with p2"),
                                          ((50.3, 77.0), "plumb with p2")])
def test_level_and_plumb_with_a_touched_point(at: tuple[float, float], word: str) -> None:
    board = drawing("line", (90, 60))
    touch(board, (50.1, 30.1))
    spot = spot_of(board, at)
    assert spot.word == word
    assert "@" in spot.ties[0].of


def test_straight_on_after_an_arc_is_tangent() -> None:
    board = Board(scene())
    board.use("outline")
    board.move(Pointer(140, 20, REACH))
    board.press(Pointer(140, 20, REACH))  # the arc ends there going plumb
    spot = spot_of(board, (140.2, 45))
    assert "tangent to a1" in spot.word
    assert spot.at[0] == pytest.approx(140.0, abs=1e-9)


def test_zero_fixes_the_first_point_only() -> None:
    board = Board()
    board.use("line")
    spot = spot_of(board, (0.4, -0.3))
    assert (spot.word, spot.at) == ("zero", (0.0, 0.0))
    board.press(Pointer(0.4, -0.3, REACH))
    board.press(Pointer(30, 11, REACH))
    assert [b.kind for b in board.part.bindings.values()] == ["fixed"]
    assert spot_of(board, (0.2, 0.2)).point == "p1"


def test_two_directions_cross() -> None:
    board = drawing("line", (90, 60))
    touch(board, (50.1, 30.1))
    spot = spot_of(board, (50.2, 60.3))
    assert spot.at == pytest.approx((50, 60), abs=1e-9)
    assert {tie.kind for tie in spot.ties} == {"level", "plumb"}


def test_every_snap_is_tested_here() -> None:
    tested = {"end", "center", "middle", "quadrant", "crossing", "on", "image", "tangent",
              "square", "level", "plumb", "parallel", "square from", "level with", "plumb with",
              "straight on", "zero"}
    assert tested == set(snaps())
    assert all(snap.word and snap.hint for snap in snaps().values())


def test_ctrl_holds_snaps_off_and_shift_holds_a_direction() -> None:
    board = drawing("line", (60, 80))
    assert spot_of(board, (80.3, 19.9), frozenset({"ctrl"})).word == ""
    spot_of(board, (75, 80.3))
    held = spot_of(board, (79, 91), frozenset({"shift"}))
    assert held.word == "level"
    assert held.at == pytest.approx((79, 80), abs=1e-9)


def test_snaps_that_show_can_stay_without_binding() -> None:
    board = Board(scene())
    board.bench.set_setting("bind_drawn", False)
    board.use("line")
    for place in ((33, 3), (30.3, 20.4)):
        board.move(Pointer(*place, REACH))
        board.press(Pointer(*place, REACH))
    assert not board.part.bindings
    assert board.part.points["p12"] == pytest.approx((30, 20))


def test_a_binding_that_says_nothing_new_is_left_out() -> None:
    board = Board()
    board.use("rectangle")
    for place in ((5, 5), (45, 25)):
        board.move(Pointer(*place, REACH))
        board.press(Pointer(*place, REACH))
    before = len(board.part.bindings)
    board.use("line")  # a level line between two corners that are level already
    board.bench.set_setting("snap_direction", 5.0)
    for place in ((5, 25), (45, 25)):
        board.move(Pointer(*place, REACH))
        board.press(Pointer(*place, REACH))
    assert len(board.part.curves) == 5
    assert len(board.part.bindings) == before
    assert not board.report.doubled


def test_resting_on_a_point_says_that_places_line_up_until_it_is_known() -> None:
    draft = Draft(Part())
    draft.line((0.0, 0.0), (20.0, 0.0))
    draft.line((20.0, 0.0), (20.0, 15.0))
    hands = BoardHands(Board(draft.done()), 0.8)
    board = hands.board
    hands.tool("line")
    for turn in range(4):
        hands.point((20.0, 15.0))
        said = [word.text for word in board.preview.words]
        assert any("line up" in text for text in said) is (turn < 3), turn
        hands.point((35.0 + turn, 15.1))
        assert (20.0, 15.0) in [m.at for m in board.preview.marks if m.shape == "awake"]
        assert any("level with" in word.text for word in board.preview.words)
        hands.click((35.0 + turn, 15.1), (35.0 + turn, 30.0 + 3.0 * turn))
    assert board.bench.lined_up == 4
