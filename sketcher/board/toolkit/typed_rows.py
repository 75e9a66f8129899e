"""Typing into the readout's rows, for the tool in hand or over what is selected.

One law in every tool: digits go to the lit row, Tab walks all rows of the stage, Enter takes the
stage, Escape takes one thing back, and each stage begins in its first row.
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import replace
from typing import Protocol

from sketcher.board.places.zero import Zero
from sketcher.board.preview import Pointer
from sketcher.board.readout.entry import Entry
from sketcher.board.readout.readout_content import can_type, rows_at
from sketcher.board.readout.row import Row
from sketcher.board.readout.selected_dimension import first_row, hold_selected
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.tool_base import Tool
from sketcher.errors import SketcherError
from sketcher.quantity.parse import hyphen_joins


class Hand(Protocol):
    """Who holds the tool that is typed for."""

    bench: Bench
    pointer: Pointer | None

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
        self._mark: Hashable = None

    @property
    def is_open(self) -> bool:
        """True while an entry is open: then letters belong to it, not to shortcuts."""
        return self.entry is not None

    @property
    def keeps_tab(self) -> bool:
        """True while Tab walks the rows: something is typed, or a row takes a value."""
        return self.is_open or bool(can_type(self.rows()))

    @property
    def lit(self) -> str:
        """The row that digits go to; empty where none takes a value."""
        names = can_type(self.rows())
        if self.row in names or not names:
            return self.row if names else ""
        return names[0] if self._hand.tool.rows() else first_row(self._hand.bench, names)

    def begin_anew(self) -> None:
        """Give up what is being typed, and let typing begin in the tool's first row."""
        self.row, self.entry = "", None

    def follow(self) -> None:
        """Let typing begin in the first row of another stage, or of another selection."""
        tool = self._hand.tool
        mark = (id(tool), tool.stage_mark) if tool.rows() else self._hand.bench.selection.ids
        if mark == self._mark:
            return
        self._mark, self.row = mark, ""
        if self.entry is not None and self.entry.row not in can_type(self.rows()):
            self.entry = None

    def rows(self) -> tuple[Row, ...]:
        """Return the rows of the readout: what is drawn, else what is selected or pointed at."""
        tool = self._hand.tool
        rows = tool.rows()
        if rows:
            return rows
        rows = rows_at(self._hand.bench, self._hand.pointer)
        # What was selected for another tool would change unawares under what is typed for that.
        return rows if tool.types_selection else tuple(replace(row, takes=False) for row in rows)

    def type_text(self, text: str) -> bool:
        """Take typed text; return whether there is a row that takes it."""
        self.follow()  # a pane may have selected something else
        if self.entry is None:
            row = self.lit
            if not row or not starts_value(text):
                return False
            self.entry = Entry(row)
        self._read_back(self.entry.plus(text))
        self._hand.after()
        return True

    def select_all(self) -> bool:
        """Let what is typed next take the place of the open row's text; False without one."""
        if self.entry is None:
            return False
        self.entry = replace(self.entry, whole=True)
        self._hand.after()
        return True

    def _read_back(self, entry: Entry | None) -> None:
        """Show a text, and how it is read where a hyphen could be a minus."""
        if entry is not None and hyphen_joins(entry.text, self._hand.bench.part.unit):
            spaced = entry.text.replace("-", " ")
            entry = replace(entry, reading=f"{entry.text} is read as {spaced}; with spaces around "
                                           "it the hyphen subtracts.")
        self.entry = entry

    def open_row(self, name: str, text: str = "") -> bool:
        """Start typing into a row of the readout; return whether it takes a value."""
        self.follow()
        if not any(row.name == name and row.takes for row in self.rows()):
            return False
        self.settle()  # what was typed elsewhere counts; where it cannot, that was told
        self.row = name
        self.entry = Entry(name, text)
        self._hand.after()
        return True

    def settle(self) -> bool:
        """Hold what is being typed before something else is done; return whether that went well."""
        entry = self.entry
        if entry is None or not entry.text.strip():
            return True
        if not self.hold(entry.row, entry.text):
            return False
        self.entry = None
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
                done = done or (tool.types_selection and hold_selected(bench, name, text))
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
        """Take a key while an entry is open, and Tab wherever a row takes a value."""
        entry = self.entry
        if name in ("tab", "backtab"):
            return self._walk(1 if name == "tab" else -1)
        if entry is None:
            return False
        if name == "escape":
            self.entry = None
        elif name == "backspace":
            self._read_back(entry.shorter())
        elif name != "enter":
            self._read_back(entry.plus(name) if len(name) == 1 else entry)
        elif not entry.text.strip():
            self.entry = None
        elif self.settle():
            self._take(entry)
        return True

    def _take(self, entry: Entry) -> None:
        """Take the tool's stage, unless what was typed is a dimension of the selection.

        A refusal is told where the value was typed, and lets it go.
        """
        bench, tool, row = self._hand.bench, self._hand.tool, entry.row
        if not any(each.name == row for each in tool.rows()):
            return
        try:
            with bench.taking(lambda: tool.let_go(row)), tool.at_work():
                tool.take_typed()
        except SketcherError as error:
            self.row, self.entry = row, entry.failed(error)
            bench.say(str(error), "error", f"readout.{row}")

    def _walk(self, step: int) -> bool:
        """Hold what is typed and light the next row, or the one before."""
        self.follow()
        opened = self.entry is not None and not self.entry.text.strip()
        at = self.lit if self.entry is None else self.entry.row
        if not self.settle():
            return True
        names = can_type(self.rows())
        if not names:
            return False
        place = names.index(at) + step if at in names else 0
        self.row = names[place % len(names)]
        self.entry = Entry(self.row) if opened else None
        return True


def starts_value(text: str) -> bool:
    """Tell whether text can begin a value: a digit, a sign, a point, a parenthesis or ``=``."""
    return text[:1] in set("0123456789.,-+(=½¼¾⅛⅜⅝⅞")
