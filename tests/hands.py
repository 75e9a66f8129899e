"""Hands at the board: the events that a person makes with mouse and keyboard, counted."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from sketcher.board.action_table import all_actions, perform
from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from tests.hosts import AnsweringHost

XY = tuple[float, float]


class Hands(Protocol):
    """What a script of drawing asks for; places are in part units."""

    board: Board
    clicks: int
    keys: int

    def point(self, at: XY) -> None:
        """Move the pointer."""

    def click(self, *places: XY) -> None:
        """Press and let go at each place."""

    def double(self, at: XY) -> None:
        """Press twice."""

    def sweep(self, *places: XY) -> None:
        """Press, move through the places, let go."""

    def tool(self, name: str) -> None:
        """Take a tool by its key."""

    def type(self, text: str) -> None:
        """Type into the readout; a tab goes on to the next row, a line feed is Enter."""

    def press(self, key: str) -> None:
        """Press one key by name."""


class BindingHands(Hands, Protocol):
    """Hands that also press the buttons of the binding kinds."""

    def click(self, *places: XY, keys: Iterable[str] = ()) -> None:
        """Press and let go at each place, with keys held."""

    def sweep(self, *places: XY, keys: Iterable[str] = ()) -> None:
        """Press, move through the places, let go, with keys held."""

    def bind(self, kind: str) -> None:
        """Press the button that binds the selection."""


class BoardHands:
    """Hands on a board without a window.

    Parameters
    ----------
    board : Board
        The board.
    reach : float
        How near the pointer must come, in the part's unit.
    """

    def __init__(self, board: Board, reach: float) -> None:
        self.board = board
        self.reach = reach
        self.clicks = self.keys = 0

    def _at(self, at: XY, keys: Iterable[str] = ()) -> Pointer:
        return Pointer(*at, self.reach, frozenset(keys))

    def point(self, at: XY, *keys: str) -> None:
        self.board.move(self._at(at, keys))

    def click(self, *places: XY, keys: Iterable[str] = ()) -> None:
        for at in places:
            self.clicks += 1
            self.keys += len(tuple(keys))
            for event in (self.board.move, self.board.press, self.board.release):
                event(self._at(at, keys))

    def double(self, at: XY) -> None:
        self.click(at)
        self.clicks += 1
        self.board.press(self._at(at))
        self.board.double(self._at(at))
        self.board.release(self._at(at))

    def sweep(self, *places: XY, keys: Iterable[str] = ()) -> None:
        self.clicks += 1
        self.board.move(self._at(places[0], keys))
        self.board.press(self._at(places[0], keys))
        for at in between(places):
            self.board.move(self._at(at, keys))
        self.board.release(self._at(places[-1], keys))

    def tool(self, name: str) -> None:
        action = all_actions()[f"tool.{name}"]
        keys = action.keys[0].lower()
        self.keys += len(keys.split("+"))
        # The tool in hand has its letters first, as in the window.
        assert "+" in keys or not self.board.key(keys), (name, self.board.tool.name)
        assert perform(action.name, self.board, AnsweringHost())

    def type(self, text: str) -> None:
        for letter in text:
            self.keys += 1
            if letter in "\t\n":
                assert self.board.key("tab" if letter == "\t" else "enter")
            else:
                assert self.board.typing.type_text(letter), (text, self.board.prompt)

    def press(self, key: str) -> None:
        self.keys += 1
        used = self.board.key(key)  # Esc with nothing to leave is the window's
        assert used or key == "escape", (key, self.board.prompt)

    def bind(self, kind: str) -> None:
        self.clicks += 1
        assert perform(f"bind.{kind}", self.board, AnsweringHost())


def between(places: Iterable[XY], steps: int = 40) -> Iterable[XY]:
    """Yield the way through places in small steps, as a hand moves."""
    before: XY | None = None
    for at in places:
        if before is not None:
            for step in range(1, steps + 1):
                t = step / steps
                yield (before[0] + t * (at[0] - before[0]), before[1] + t * (at[1] - before[1]))
        before = at
