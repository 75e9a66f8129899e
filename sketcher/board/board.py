"""The running program without Qt: the bench, the tool in hand and the readout's entry."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from sketcher.board.readout.entry import Entry
from sketcher.board.readout.readout_content import can_type, hold_selected, rows_at
from sketcher.board.readout.row import Row
from sketcher.board.readout.zero import Zero
from sketcher.board.registry import collect
from sketcher.board.settings import Settings
from sketcher.board.steps.bench import Bench, Edit
from sketcher.board.steps.outcome import Outcome
from sketcher.board.steps.solver_cache import Solver, default_solver
from sketcher.board.toolkit.preview import Pointer, Preview
from sketcher.board.toolkit.tool_base import Tool
from sketcher.errors import SketcherError
from sketcher.part.value import Part

PICKING = "pick"
"""Name of the tool that is in hand when no other is."""


def all_tools() -> Mapping[str, type[Tool]]:
    """Return the tools that the folder holds, by name."""
    return {tool.name: tool for tool in collect("sketcher.board.tools", "TOOL").values()}


class Board(Bench):
    """What the window shows and where its events go.

    Parameters
    ----------
    part, settings, solver
        As for `Bench`.

    Examples
    --------
    >>> board = Board()
    >>> board.use("chain")
    >>> board.press(Pointer(0, 0))
    >>> board.press(Pointer(40, 0))
    >>> list(board.part.curves)
    ['e1']
    """

    def __init__(
        self, part: Part | None = None, settings: Settings | None = None,
        solver: Solver = default_solver,
    ) -> None:
        super().__init__(part, settings, solver)
        self.tools = all_tools()
        self.pointer = Pointer(0.0, 0.0)
        self.entry: Entry | None = None
        self.row = ""
        self._typed = ""  # the first row typed into for the place that is being asked for
        self._in_tool = False
        self._taking = ""  # the row whose typed value is being taken
        self.tool: Tool = self.tools[PICKING](self)

    @property
    def prompt(self) -> str:
        """What the status line says next."""
        if self.entry is not None:
            return self.entry.prompt
        return self.tool.prompt

    @property
    def preview(self) -> Preview:
        """What the scene shows of the work in progress."""
        return self.tool.preview

    @property
    def is_typing(self) -> bool:
        """True while an entry is open: then letters belong to it, not to shortcuts."""
        return self.entry is not None

    # Tools.

    def use(self, name: str) -> None:
        """Take another tool in hand; the same one again starts it afresh."""
        with self.notices.held():
            self.entry = None
            self.row = self._typed = ""
            self.tool.leave()
            super().restore()
            self.tool = self.tools[name](self)
            self.tool.begin()
            self._after()
            self._notify("tool")

    def press(self, pointer: Pointer) -> None:
        """Forward a press of the main button."""
        self._forward(self.tool.press, pointer)

    def move(self, pointer: Pointer) -> None:
        """Forward a motion of the pointer."""
        self._forward(self.tool.move, pointer)

    def release(self, pointer: Pointer) -> None:
        """Forward the release of the main button."""
        self._forward(self.tool.release, pointer)

    def double(self, pointer: Pointer) -> None:
        """Forward a double press."""
        self._forward(self.tool.double, pointer)

    def key(self, name: str) -> bool:
        """Take a key by name (``"enter"``, ``"escape"``, ``"backspace"``, ``"tab"``, a letter).

        Returns
        -------
        bool
            Whether the board used it; if not, the window may have a use of its own.
        """
        with self.notices.held():
            used = self._entry_key(name) if self.entry is not None else self._tool_key(name)
            self._after()
        return used

    def type_text(self, text: str) -> bool:
        """Take typed text for the readout; return whether there is a row that takes it."""
        if self.entry is None:
            row = self._typing_row()
            if row is None or not starts_value(text):
                return False
            self.entry = Entry(row)
        self.entry = self.entry.plus(text)
        self._after()
        return True

    # Readout.

    def rows(self) -> tuple[Row, ...]:
        """Return the rows of the readout: what is drawn, else what is selected or pointed at."""
        return self.tool.rows() or rows_at(self, self.pointer)

    def open_row(self, name: str, text: str = "") -> bool:
        """Start typing into a row of the readout; return whether it takes a value."""
        if not any(row.name == name and row.takes for row in self.rows()):
            return False
        self.row = name
        self.entry = Entry(name, text)
        self._after()
        return True

    def hold(self, name: str, text: str) -> bool:
        """Hold a row at what was typed.

        A text that cannot be read, or that leads to an edit which is refused, is told where it was
        typed and holds nothing.
        """
        with self.notices.held():
            try:
                with self._tool_at_work(taking=name):
                    done = self.tool.hold(name, text)
                done = done or hold_selected(self, name, text)
            except SketcherError as error:
                if self.entry is not None:
                    self.entry = self.entry.failed(error)
                self.say(str(error), "error", f"readout.{name}")
                return False
            self._after()
        return done

    def let_go(self, name: str) -> bool:
        """Let a held row follow the pointer again."""
        with self.notices.held():
            done = self.tool.let_go(name)
            self._after()
        return done

    def halve(self) -> bool:
        """Halve what is being typed, or the held value; else let the zero halve the reading.

        The last is what a machinist does to find the middle of a width: touch one side, set zero,
        touch the other side, halve.
        """
        if self.entry is not None:
            if self.entry.text.strip():
                self.entry = Entry(self.entry.row, f"({self.entry.text.strip()})/2")
            self._after()
            return True
        rows = {row.name: row for row in self.rows()}
        name = self.row if self.row in rows else next((n for n in rows if rows[n].held), "x")
        row = rows.get(name)
        if row is not None and row.held:
            return self.hold(name, f"({row.text})/2")
        if row is None or name not in ("x", "y") or row.value is None:
            self.say("Choose X, Y or a held value to halve.")
            return False
        x, y = self.zero.place(self.part)
        half = 0.5 * row.value
        with self.notices.held():
            self.set_zero(Zero((x + half, y) if name == "x" else (x, y + half)))
            self._after()
        return True

    # Steps: first the part, then the tool in hand; who listens hears of it after both.

    def do(self, name: str, edit: Edit, merge: str | None = None) -> Outcome:
        """Make a step as `Bench.do`; while a typed value is taken, raise why it is refused."""
        if not self._taking:
            return super().do(name, edit, merge)
        outcome = self.attempt(name, edit, merge)
        if outcome.error is not None:
            self.tool.let_go(self._taking)
            raise outcome.error
        return outcome

    def attempt(self, name: str, edit: Edit, merge: str | None = None) -> Outcome:
        """Apply an edit as `Bench.attempt`; a tool whose own edit it is not looks again."""
        with self.notices.held():
            outcome = super().attempt(name, edit, merge)
            if outcome and not self._in_tool:
                self._look_again()
        return outcome

    def undo(self) -> bool:
        """Go one step back and let the tool look again."""
        with self.notices.held():
            done = super().undo()
            self._look_again()
        return done

    def redo(self) -> bool:
        """Go one step forward and let the tool look again."""
        with self.notices.held():
            done = super().redo()
            self._look_again()
        return done

    def restore(self) -> bool:
        """Go back to where a gesture began and let the tool look again."""
        with self.notices.held():
            done = super().restore()
            if done and not self._in_tool:
                self._look_again()
        return done

    def load(
        self, part: Part, path: Path | None = None, saved: bool = True, digest: str | None = None
    ) -> None:
        """Put another part on the bench, with picking in hand."""
        with self.notices.held():
            self.tool.leave()
            self.entry = None
            super().load(part, path, saved, digest)
            self.use(PICKING)

    def _look_again(self) -> None:
        self.tool.refresh()
        self._after()

    # Inside.

    def _forward(self, event: Callable[[Pointer], None], pointer: Pointer) -> None:
        self.pointer = pointer
        first = self.tool.first_row
        with self.notices.held():
            with self._tool_at_work():
                event(pointer)
            if self.tool.first_row != first:
                self.row = self._typed = ""  # something else is asked for: it has its own row
            self._after()

    @contextmanager
    def _tool_at_work(self, taking: str = "") -> Iterator[None]:
        """Mark what happens inside as the tool's own doing; `taking` is a row that was typed."""
        was = self._in_tool, self._taking
        self._in_tool, self._taking = True, taking
        try:
            yield
        finally:
            self._in_tool, self._taking = was

    def _after(self) -> None:
        if self.tool.finished:
            self.tool = self.tools[PICKING](self)
            self.entry = None
            self._notify("tool")
        self._notify("preview")

    def _typing_row(self) -> str | None:
        rows = self.rows()
        if self._typed and not any(row.held for row in rows):
            self.row, self._typed = self._typed, ""  # the place was taken: the next begins alike
        names = [row.name for row in rows if row.takes]
        for name in (self.row, self.tool.first_row):
            if name in names:
                return name
        return names[0] if names else None

    def _tool_key(self, name: str) -> bool:
        with self._tool_at_work():
            if self.tool.type_key(name):
                return True
        if name == "tab":
            return self._next_row()
        if name == "escape":
            if self.tool.name != PICKING:
                self.use(PICKING)
            else:
                self.select(())
            return True
        return False

    def _next_row(self) -> bool:
        names = can_type(self.rows())
        if not names:
            return False
        at = names.index(self.row) + 1 if self.row in names else 0
        self.row = names[at % len(names)]
        return True

    def _entry_key(self, name: str) -> bool:
        assert self.entry is not None
        if name == "escape":
            self.entry = None
        elif name == "backspace":
            self.entry = self.entry.shorter()
        elif name in ("enter", "tab"):
            return self._commit_entry(name == "tab")
        elif len(name) == 1:
            self.entry = self.entry.plus(name)
        return True

    def _commit_entry(self, onward: bool) -> bool:
        entry = self.entry
        assert entry is not None
        if not entry.text.strip():
            self.row = entry.row
            self.entry = Entry(self.row) if onward and self._next_row() else None
            return True
        first = not any(row.held for row in self.rows())
        if self.hold(entry.row, entry.text):
            self.entry = None
            self.row = entry.row
            if first:
                holds = any(row.name == entry.row and row.held for row in self.rows())
                self._typed = entry.row if holds else ""
            if onward:
                self._next_row()
        return True


def starts_value(text: str) -> bool:
    """Tell whether text can begin a value: a digit, a sign, a point, a parenthesis or ``=``."""
    return text[:1] in set("0123456789.,-+(=")
