"""From an empty sheet to a bound, symmetric, sound part by events alone."""

from __future__ import annotations

from math import pi

import pytest

from sketcher.board.board import Board
from sketcher.board.preview import Pointer

REACH = 0.7


class Hand:
    """Moves, presses and types at a board."""

    def __init__(self) -> None:
        self.board = Board()

    def at(self, x: float, y: float) -> Hand:
        self.board.move(Pointer(x, y, REACH))
        self.board.press(Pointer(x, y, REACH))
        self.board.release(Pointer(x, y, REACH))
        return self

    def over(self, *places: tuple[float, float]) -> Hand:
        for x, y in places:
            self.board.move(Pointer(x, y, REACH))
        return self

    def hold(self, **values: str) -> Hand:
        for name, text in values.items():
            assert self.board.typing.open_row(name), name
            self.board.typing.type_text(text)
            self.board.key("tab")
        return self

    def enter(self) -> Hand:
        self.board.key("enter")
        return self


def test_a_strap_end_with_a_hole_is_drawn_bound_and_mirrored() -> None:
    """Half of a bar 90 long, 40 wide, with an R20 end, a hole in it and a row of two holes."""
    hand = Hand()
    board = hand.board
    board.use("axis")
    hand.at(0, 0).over((90, 0.1)).hold(length="100").enter()
    board.use("outline")
    hand.at(0, 0).over((0.2, 17)).hold(length="20").enter()
    hand.over((50, 20.2)).hold(length="70").enter()
    board.key("space")  # a tangent arc; it ends on the axis, square to it
    hand.over((80, 19), (86, 14)).hold(radius="20")
    hand.over((89.8, 0.2)).at(89.8, 0.2)
    assert board.bench.message.severity == "done"
    assert board.report.state == "bound", board.report.loose
    center = board.part.curves["a1"].center
    assert board.part.points[center] == pytest.approx((70, 0), abs=1e-9)

    board.use("circle")
    hand.at(*board.part.points[center]).over((78, 3)).hold(diameter="16").enter()
    hand.over((15, 0.1)).at(15, 0.1).over((19, 2)).hold(radius="4").enter()
    hole = board.part.curves["h2"].center
    board.use("pick")
    board.bench.select((hole,))
    assert board.typing.hold("x", "15")
    assert board.report.state == "bound", board.report.loose
    assert board.report.doubled == ()

    board.use("mirror")
    hand.over((45, 0.1)).at(45, 0.1).enter()
    assert "smoothly" in board.bench.message.text
    assert board.part.mirrors[0].axis == "x1"
    inspection = board.bench.derived.inspection()
    assert inspection.sound, [f.text for f in inspection.findings]
    area = 70 * 40 + 0.5 * pi * 20**2 - pi * 8**2 - pi * 4**2
    assert inspection.profile.moments.area == pytest.approx(area, rel=1e-12)
    assert all(abs(residual) <= 1e-9 * 100 for residual in board.report.residuals.values())

    # Every step goes back to the empty sheet, and forward to the very same part.
    last, steps = board.part, 0
    while board.bench.history.can_undo:
        board.bench.undo()
        steps += 1
    assert not board.part.points
    assert steps == 8  # axis, three pieces, two circles, the place of one, the mirror
    while board.bench.history.can_redo:
        board.bench.redo()
    assert board.part is last


def test_the_same_half_by_keys_alone() -> None:
    """Only typed values and Enter: the pointer never points."""
    board = Board()
    board.use("rectangle")
    board.typing.hold("x", "0")
    board.typing.hold("y", "0")
    board.key("enter")
    for text in ("60", "24"):
        board.typing.type_text(text)
        board.key("tab")
    board.key("enter")
    assert board.report.state == "bound"
    board.use("circle")
    for row, text in (("x", "30"), ("y", "12")):
        board.typing.hold(row, text)
    board.key("enter")
    board.typing.type_text("10")  # a circle opens on its diameter
    board.key("enter")
    assert board.report.state == "bound"
    inspection = board.bench.derived.inspection()
    assert inspection.sound
    assert inspection.profile.moments.area == pytest.approx(60 * 24 - 25 * pi, rel=1e-12)
