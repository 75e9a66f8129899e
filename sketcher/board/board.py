"""The running program without Qt: the bench, the tool in hand and what is typed for it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from sketcher.board.preview import Pointer, Preview
from sketcher.board.readout.row import LABELS
from sketcher.board.settings import Settings
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.solver_cache import Solver, default_solver
from sketcher.board.toolkit.tool_base import Tool
from sketcher.board.toolkit.typed_rows import TypedRows
from sketcher.part.value import Part
from sketcher.registry import collect
from sketcher.solve.solve_report import SolveReport

PICKING = "pick"
"""Name of the tool that is in hand when no other is."""


def all_tools() -> Mapping[str, type[Tool]]:
    """Return the tools that the folder holds, by name."""
    return {tool.name: tool for tool in collect("sketcher.board.tools", "TOOL", "_tool")}


class Board:
    """What the window shows and where its events go.

    The part and its steps are on `bench`, what is typed in `typing`; the board has the tool in
    hand, forwards the events to it and lets it look again when the part changed under it.

    Parameters
    ----------
    part, settings, solver
        As for `Bench`.

    Examples
    --------
    >>> board = Board()
    >>> board.use("outline")
    >>> board.press(Pointer(0, 0))
    >>> board.press(Pointer(40, 0))
    >>> list(board.part.curves)
    ['e1']
    """

    def __init__(
        self, part: Part | None = None, settings: Settings | None = None,
        solver: Solver = default_solver,
    ) -> None:
        self.bench = Bench(part, settings, solver)
        self.bench.after_step = self._look_again
        self.tools = all_tools()
        self.pointer: Pointer | None = None
        self.tool: Tool = self.tools[PICKING](self.bench)
        self.typing = TypedRows(self)

    @property
    def part(self) -> Part:
        """The part as it stands."""
        return self.bench.part

    @property
    def report(self) -> SolveReport:
        """What the solver found out about it."""
        return self.bench.report

    @property
    def prompt(self) -> str:
        """What the status line says next: the next step, and where digits go."""
        entry = self.typing.entry
        if entry is not None:
            return entry.prompt
        lit = self.typing.lit
        return f"{self.tool.prompt} Digits: {LABELS.get(lit, lit.capitalize())}." if lit \
            else self.tool.prompt

    @property
    def preview(self) -> Preview:
        """What the scene shows of the work in progress."""
        return self.tool.preview

    def use(self, name: str) -> None:
        """Take another tool in hand; the same one again starts it afresh."""
        self.take(self.tools[name])

    def take(self, make: Callable[[Bench], Tool]) -> None:
        """Take a tool in hand that is made once the one before is put down."""
        with self.bench.notices.held():
            self.typing.begin_anew()
            with self.tool.at_work():
                self.tool.leave()
                self.bench.gesture.restore()
            if self.bench.message.severity in ("note", "error"):
                self.bench.say("")  # what the tool before missed or refused is over with it
            self.tool, self.bench.hover = make(self.bench), ()
            self.tool.begin()
            if not self.tool.keeps_selection:
                self.bench.select(())  # lit, it would look as if the tool were about to use it
            self.after()
            self.bench.notices.add("tool")

    def load(
        self, part: Part, path: Path | None = None, saved: bool = True, digest: str | None = None
    ) -> None:
        """Put another part on the bench as `Bench.load`, with picking in hand."""
        with self.bench.notices.held():
            self.tool.leave()
            self.typing.entry = None
            self.bench.load(part, path, saved, digest)
            self.pointer = None  # where it was on the part before says nothing on this one
            self.use(PICKING)

    # Events.

    def press(self, pointer: Pointer) -> None:
        """Forward a press of the main button."""
        if self.typing.settle():  # what is typed and not yet held counts for this place
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

    def _forward(self, event: Callable[[Pointer], None], pointer: Pointer) -> None:
        self.pointer = pointer
        with self.bench.notices.held():
            with self.tool.at_work():
                event(pointer)
            self.after()

    def key(self, name: str) -> bool:
        """Take a key by name (``"enter"``, ``"escape"``, ``"backspace"``, ``"tab"``, a letter).

        Returns
        -------
        bool
            Whether the board used it; if not, the window may have a use of its own.
        """
        with self.bench.notices.held():
            used = self._space(name) or self.typing.key(name) or self._tool_key(name)
            self.after()
        return used

    def choose(self, name: str) -> None:
        """Take one of the ways that the tool in hand offers."""
        with self.bench.notices.held():
            with self.tool.at_work():
                self.tool.choose_way(name)
            self.after()

    def _space(self, key: str) -> bool:
        """Go round the ways that the tool offers."""
        if key != "space" or self.typing.is_open:
            return False
        ways = [way for way in self.tool.ways() if way.usable]
        if not ways:
            return False
        at = next((n for n, way in enumerate(ways) if way.taken), -1)
        self.choose(ways[(at + 1) % len(ways)].name)
        return True

    def _tool_key(self, name: str) -> bool:
        with self.tool.at_work():
            if self.tool.type_key(name):
                return True
        if name != "escape":
            return False
        if self.tool.name != PICKING:
            self.use(PICKING)
            return True
        chosen = bool(self.bench.selection.ids)
        self.bench.select(())
        return chosen

    # After what was done: first the part, then the tool in hand; who listens hears of both.

    def after(self) -> None:
        """Put a tool down that has finished, and let the preview be shown."""
        if self.tool.finished:
            self.tool = self.tools[PICKING](self.bench)
            self.typing.entry = None
            self.bench.notices.add("tool")
        self.typing.follow()
        entry = self.typing.entry
        self.tool.typing = "" if entry is None else entry.text
        self.bench.notices.add("preview")

    def _look_again(self) -> None:
        if not self.tool.works:
            self.tool.refresh()
            self.after()
