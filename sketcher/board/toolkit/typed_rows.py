"""Typing into the readout's rows, for the tool in hand or over what is selected."""

from __future__ import annotations

from typing import Protocol

from sketcher.board.places.zero import Zero
from sketcher.board.preview import Pointer
from sketcher.board.readout.entry import Entry
from sketcher.board.readout.readout_content import can_type, hold_selected, rows_at
from sketcher.board.readout.row import Row
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.tool_base import Tool
from sketcher.errors import SketcherError


class Hand(Protocol):
    """Who holds the tool that is typed for."""

    bench: Bench
    pointer: Pointer

    @property
    def tool(self) -> Tool:
        """The tool in hand."""

    def after(self) -> None:
        """Follow up on what the tool did, and show it."""


class TypedRows:
    """The row that typing goes to, and what is being typed there.

    Parameters
    ----------
    hand : Hand
        Holds the tool whose rows come first.
    """

    def __init__(self, hand: Hand) -> None:
        self._hand = hand
        self.entry: Entry | None = None
        self.row = ""
        self._first = ""  # the first row typed into for the place that is being asked for

    @property
    def is_open(self) -> bool:
        """True while an entry is open: then letters belong to it, not to shortcuts."""
        return self.entry is not None

    def begin_anew(self, closes: bool = True) -> None:
        """Let typing begin in the tool's first row; `closes` gives up what is being typed."""
        self.row = self._first = ""
        if closes:
            self.entry = None

    def rows(self) -> tuple[Row, ...]:
        """Return the rows of the readout: what is drawn, else what is selected or pointed at."""
        return self._hand.tool.rows() or rows_at(self._hand.bench, self._hand.pointer)

    def type_text(self, text: str) -> bool:
        """Take typed text; return whether there is a row that takes it."""
        if self.entry is None:
            row = self._row_to_type()
            if row is None or not starts_value(text):
                return False
            self.entry = Entry(row)
        self.entry = self.entry.plus(text)
        self._hand.after()
        return True

    def open_row(self, name: str, text: str = "") -> bool:
        """Start typing into a row of the readout; return whether it takes a value."""
        if not any(row.name == name and row.takes for row in self.rows()):
            return False
        self.row = name
        self.entry = Entry(name, text)
        self._hand.after()
        return True

    def hold(self, name: str, text: str) -> bool:
        """Hold a row at what was typed.

        A text that cannot be read, or that leads to an edit which is refused, is told where it was
        typed and holds nothing.
        """
        bench, tool = self._hand.bench, self._hand.tool
        with bench.notices.held():
            try:
                with bench.taking(lambda: tool.let_go(name)), tool.at_work():
                    done = tool.hold(name, text)
                done = done or hold_selected(bench, name, text)
            except SketcherError as error:
                if self.entry is not None:
                    self.entry = self.entry.failed(error)
                bench.say(str(error), "error", f"readout.{name}")
                return False
            self._hand.after()
        return done

    def let_go(self, name: str) -> bool:
        """Let a held row follow the pointer again."""
        with self._hand.bench.notices.held():
            done = self._hand.tool.let_go(name)
            self._hand.after()
        return done

    def halve(self) -> bool:
        """Halve what is being typed, or the held value; else let the zero halve the reading.

        The last is what a machinist does to find the middle of a width: touch one side, set zero,
        touch the other side, halve.
        """
        if self.entry is not None:
            if self.entry.text.strip():
                self.entry = Entry(self.entry.row, f"({self.entry.text.strip()})/2")
            self._hand.after()
            return True
        bench = self._hand.bench
        rows = {row.name: row for row in self.rows()}
        name = self.row if self.row in rows else next((n for n in rows if rows[n].held), "x")
        row = rows.get(name)
        if row is not None and row.held:
            return self.hold(name, f"({row.text})/2")
        if row is None or name not in ("x", "y") or row.value is None:
            bench.say("Choose X, Y or a held value to halve.")
            return False
        x, y = bench.zero.place(bench.part)
        half = 0.5 * row.value
        with bench.notices.held():
            bench.set_zero(Zero((x + half, y) if name == "x" else (x, y + half)))
            self._hand.after()
        return True

    def key(self, name: str) -> bool:
        """Take a key while an entry is open."""
        entry = self.entry
        if entry is None:
            return False
        if name == "escape":
            self.entry = None
        elif name == "backspace":
            self.entry = entry.shorter()
        elif name not in ("enter", "tab"):
            self.entry = entry.plus(name) if len(name) == 1 else entry
        elif not entry.text.strip():
            self.row = entry.row
            self.entry = Entry(self.row) if name == "tab" and self.next_row() else None
        else:
            first = not any(row.held for row in self.rows())
            if self.hold(entry.row, entry.text):
                self._held(entry.row, first, onward=name == "tab")
        return True

    def _held(self, row: str, first: bool, onward: bool) -> None:
        self.entry, self.row = None, row
        if first:
            holds = any(each.name == row and each.held for each in self.rows())
            self._first = row if holds else ""
        if onward:
            self.next_row()

    def next_row(self) -> bool:
        """Go on to the next row that takes a value; return whether there is one."""
        names = can_type(self.rows())
        if not names:
            return False
        at = names.index(self.row) + 1 if self.row in names else 0
        self.row = names[at % len(names)]
        return True

    def _row_to_type(self) -> str | None:
        rows = self.rows()
        if self._first and not any(row.held for row in rows):
            self.row, self._first = self._first, ""  # the place was taken: the next begins alike
        names = [row.name for row in rows if row.takes]
        for name in (self.row, self._hand.tool.first_row):
            if name in names:
                return name
        return names[0] if names else None


def starts_value(text: str) -> bool:
    """Tell whether text can begin a value: a digit, a sign, a point, a parenthesis or ``=``."""
    return text[:1] in set("0123456789.,-+(=")
