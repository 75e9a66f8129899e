"""A tool: a state machine over plain events that shows a preview and makes edits."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import ClassVar

from sketcher.board.preview import Pointer, Preview
from sketcher.board.readout.row import Row
from sketcher.board.steps.bench import Bench


class Tool:
    """Base of all tools; events that a tool does not use do nothing.

    A tool reads the bench, changes the part through `bench.do` only, and sets `finished` when the
    board should go back to picking. `typing` is what is being typed for it at the moment.
    """

    name: ClassVar[str] = ""
    label: ClassVar[str] = ""
    hint: ClassVar[str] = ""
    key: ClassVar[str] = ""
    group: ClassVar[str] = "draw"

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.finished = False
        self.typing = ""
        self.works = False

    @contextmanager
    def at_work(self) -> Iterator[None]:
        """Mark what happens inside as the tool's own doing: it does not look again after it."""
        was, self.works = self.works, True
        try:
            yield
        finally:
            self.works = was

    @property
    def prompt(self) -> str:
        """What the tool wants next."""
        return self.hint

    @property
    def preview(self) -> Preview:
        """Everything to be shown of the work in progress."""
        return Preview()

    @property
    def first_row(self) -> str:
        """The row that typing goes to unless another is chosen; empty for the first that takes."""
        return ""

    def rows(self) -> tuple[Row, ...]:
        """Return the readout's rows while this tool works; empty leaves them to the board."""
        return ()

    def begin(self) -> None:
        """Take the tool in hand; the selection stands as it was."""

    def leave(self) -> None:
        """Put the tool down; work in progress that is not in the part is given up."""

    def press(self, pointer: Pointer) -> None:
        """Take a press of the main button."""

    def move(self, pointer: Pointer) -> None:
        """Take a motion of the pointer, with the button up or down."""

    def release(self, pointer: Pointer) -> None:
        """Take the release of the main button."""

    def double(self, pointer: Pointer) -> None:
        """Take a double press; it comes after press, release and press."""

    def is_blank(self, pointer: Pointer) -> bool:
        """Tell whether a double press there means the sheet as a whole and not the tool."""
        return False

    def type_key(self, name: str) -> bool:
        """Take a key; return whether the tool used it."""
        return False

    def hold(self, row: str, text: str) -> bool:
        """Hold a readout value at what was typed; return whether the tool has such a row.

        Raises
        ------
        QuantityError
            When the text cannot be understood.
        """
        return False

    def let_go(self, row: str) -> bool:
        """Let a held value follow the pointer again; return whether it was held."""
        return False

    def refresh(self) -> None:
        """Look again after the part changed under the tool."""
