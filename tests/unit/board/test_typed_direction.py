"""A typed angle with an extent, in every tool that has both: what is shown is what is taken.

Paper prints "55 degrees, run 14" and shows the way in the picture. The places are computed here by
trigonometry alone (tan 55 = rise / run), without the program's own geometry.
"""

from __future__ import annotations

from math import atan2, cos, degrees, dist, hypot, radians, sin, tan

import pytest

from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.geometry.curves import Line
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from tests.hands import BoardHands

XY = tuple[float, float]
TURN = radians(55.0)
ENDS = {"run": (14.0, 14.0 * tan(TURN)), "rise": (14.0 / tan(TURN), 14.0),
        "length": (14.0 * cos(TURN), 14.0 * sin(TURN)),
        "distance": (14.0 * cos(TURN), 14.0 * sin(TURN))}
QUADRANTS = ((1, 1), (-1, 1), (-1, -1), (1, -1))
LINES = ("outline", "line", "layout line", "axis", "line at angle")
START = (40.0, 30.0)


def plumb_edge() -> Part:
    """A bound plumb edge that ends at `START`."""
    draft = Draft(Part())
    edge = draft.line((40, 0), START)
    draft.bind("fixed", ("p1",))
    draft.bind("plumb", (edge,))
    draft.bind("distance", (edge,), "30")
    return draft.done()


def begun(tool: str, pointer: XY) -> BoardHands:
    """The tool begun at the upper end of a plumb edge, with the pointer off to one side."""
    hands = BoardHands(Board(plumb_edge()), 0.5)
    if tool in ("move", "copy"):
        hands.board.bench.select(("e1",))
    hands.board.use(tool)
    hands.click(START)
    hands.point((START[0] + pointer[0], START[1] + pointer[1]))
    return hands


def into(hands: BoardHands, row: str, text: str) -> None:
    assert hands.board.typing.open_row(row)
    hands.type(text)


def shown(board: Board) -> XY:
    """Where the line that is shown ends, or where the upper end of what is carried would be."""
    if board.tool.name in ("move", "copy"):
        return board.tool.spot.at
    lines = [g.curve for g in board.preview.curves if isinstance(g.curve, Line)]
    (line,) = [c for c in lines if START in (c.start, c.end)]
    return line.end if line.start == START else line.start


def landed(board: Board) -> XY:
    """Where it ended."""
    part = board.part
    if board.tool.name == "move" or "p3" not in part.points:
        return part.points["p2"]
    if len(part.points) == 3:
        return part.points["p3"]
    return next(at for name, at in part.points.items() if name == "p4")


def driving(board: Board, before: Part) -> dict[str, str | None]:
    return {b.kind: b.value for name, b in board.part.bindings.items()
            if name not in before.bindings and b.drives and b.value not in (None, "30")}


@pytest.mark.parametrize("order", ["angle first", "extent first"])
@pytest.mark.parametrize("quadrant", QUADRANTS)
@pytest.mark.parametrize(("tool", "row"), [
    *((tool, row) for tool in LINES for row in ("run", "rise", "length")),
    *((tool, row) for tool in ("move", "copy") for row in ("run", "rise", "distance")),
])
def test_the_pointer_chooses_the_way_of_a_typed_angle(
    tool: str, row: str, quadrant: XY, order: str
) -> None:
    (sx, sy), (dx, dy) = quadrant, ENDS[row]
    hands = begun(tool, (sx * 9.0, sy * 8.0))
    if tool in ("move", "copy"):  # a direction to go in: 55 is counter-clockwise from level
        sx = sy = 1
    wanted = (START[0] + sx * dx, START[1] + sy * dy)
    before = hands.board.part
    first, then = (("angle", "55"), (row, "14"))[:: 1 if order == "angle first" else -1]
    into(hands, *first)
    hands.type("\t")
    into(hands, *then)
    hands.board.key("tab")
    assert shown(hands.board) == pytest.approx(wanted, abs=1e-9)
    assert hands.board.key("enter")
    place = landed(hands.board)
    assert place == pytest.approx(wanted, abs=1e-9)
    if tool != "move":
        kind = "distance" if row == "length" else row
        assert driving(hands.board, before) == {"angle": "55", kind: "14"}
        assert not hands.board.report.clashes
        assert hands.board.report.freedoms == 0


@pytest.mark.parametrize("tool", LINES)
@pytest.mark.parametrize(("angle", "said", "turn"), [
    ("125", ("125", "55"), 125.0), ("-55", ("55",), -55.0), ("+55", ("55",), 55.0),
    ("235", ("125", "55"), 235.0), ("180-55", ("180-55",), 125.0),
])
def test_a_signed_angle_or_one_over_a_right_angle_is_a_direction(
    tool: str, angle: str, said: tuple[str, ...], turn: float
) -> None:
    for sx, sy in QUADRANTS:
        hands = begun(tool, (sx * 9.0, sy * 8.0))
        before = hands.board.part
        into(hands, "angle", angle)
        hands.type("\t")
        into(hands, "length", "14\n")
        wanted = (START[0] + 14.0 * cos(radians(turn)), START[1] + 14.0 * sin(radians(turn)))
        assert dist(landed(hands.board), wanted) < 1e-9, (sx, sy, landed(hands.board))
        made = driving(hands.board, before)
        assert made["distance"] == "14"
        assert made["angle"] in said
        assert (hands.board.report.freedoms, hands.board.report.clashes) == (0, ())


@pytest.mark.parametrize("tool", LINES)
def test_a_signed_run_outweighs_the_pointer(tool: str) -> None:
    for text, sx in (("-14", -1.0), ("+14", 1.0)):
        hands = begun(tool, (-sx * 9.0, 8.0))  # on the other side
        before = hands.board.part
        into(hands, "angle", "55")
        hands.type("\t")
        into(hands, "run", f"{text}\n")
        dx, dy = ENDS["run"]
        assert landed(hands.board) == pytest.approx((START[0] + sx * dx, START[1] + dy), abs=1e-9)
        assert driving(hands.board, before) == {"angle": "55", "run": "14"}


def test_the_way_follows_the_pointer_after_both_are_typed() -> None:
    hands = begun("line", (9.0, 8.0))
    into(hands, "angle", "55")
    hands.type("\t")
    into(hands, "run", "14")
    hands.type("\t")
    dx, dy = ENDS["run"]
    for sx, sy in QUADRANTS:
        hands.point((START[0] + sx * 9.0, START[1] + sy * 8.0))
        assert shown(hands.board) == pytest.approx((START[0] + sx * dx, START[1] + sy * dy))


def test_a_direction_with_a_run_to_the_other_side_says_which_of_them_stands() -> None:
    hands = begun("line", (9.0, 8.0))
    into(hands, "angle", "125")
    hands.type("\t")
    into(hands, "run", "+14")
    hands.type("\t")
    assert "instead of Angle 125" in hands.board.bench.message.text
    assert hands.board.tool.spot.at[0] == pytest.approx(START[0] + 14.0)


def test_values_alone_go_counter_clockwise_where_the_pointer_never_was() -> None:
    board = Board()
    board.use("line")
    hands = BoardHands(board, 0.5)
    hands.type("50\t40\n")
    into(hands, "length", "10\t")
    into(hands, "angle", "30\n")
    assert board.part.points["p2"] == pytest.approx((50 + 10 * cos(radians(30)), 45.0)) or \
        board.part.points["p3"] == pytest.approx((50 + 10 * cos(radians(30)), 45.0))


def test_an_angle_that_follows_is_told_whichever_way_it_goes() -> None:
    board = begun("line", (-9.0, 8.0)).board
    hands = BoardHands(board, 0.5)
    into(hands, "run", "14")
    hands.type("\t")
    into(hands, "length", "28")
    hands.type("\t")
    into(hands, "angle", "60")  # cos 60 = 14 / 28
    hands.type("\t")
    assert "Angle 60 follows from Run 14 and Length 28" in board.bench.message.text
    board.move(Pointer(START[0] - 9.0, START[1] + 8.0, 0.5))
    assert board.tool.spot.at == pytest.approx((START[0] - 14.0, START[1] + 28 * sin(radians(60))))


@pytest.mark.parametrize("tool", ["line", "outline", "layout line", "axis", "line at angle"])
@pytest.mark.parametrize("off", [(-0.3, 0.3), (-0.3, -0.3), (0.0, 0.0)])
def test_a_pointer_that_rests_on_the_start_chooses_nothing(tool: str, off: XY) -> None:
    hands = begun(tool, off)
    into(hands, "angle", "55")
    hands.type("\t")
    into(hands, "length", "14\n")
    dx, dy = ENDS["length"]
    assert landed(hands.board) == pytest.approx((START[0] + dx, START[1] + dy), abs=1e-9)


@pytest.mark.parametrize("off", [(-0.3, 0.3), *((9.0 * sx, 8.0 * sy) for sx, sy in QUADRANTS)])
def test_the_ends_of_a_curved_slot_stand_at_their_directions(off: XY) -> None:
    # The 60 and 120 degrees of a drawing are counted round the center, wherever the pointer is.
    hands = BoardHands(Board(), 0.5)
    hands.board.use("curved slot")
    hands.click((0.0, 0.0))
    hands.point(off)
    hands.type("30\t60\n")
    hands.type("120\n")
    hands.type("6\n")
    part, centers = hands.board.part, set()
    for x, y in part.points.values():
        if abs(hypot(x, y) - 30.0) < 1e-9:
            centers.add(round(degrees(atan2(y, x)), 9))
    assert centers == {60.0, 120.0}
    assert (hands.board.report.state, hands.board.report.freedoms) == ("bound", 0)
