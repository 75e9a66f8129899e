"""A tool: a state machine over plain events that shows a preview and makes edits."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import ClassVar

from sketcher.board.preview import Pointer, Preview
from sketcher.board.readout.row import Row
from sketcher.board.steps.bench import Bench


@dataclass(frozen=True, slots=True)
class Way:
    """One of several ways to go on: its name, its word, whether it is taken, and can be."""

    name: str
    label: str
    taken: bool
    hint: str = ""
    usable: bool = True


class Tool:
    """Base of all tools; events that a tool does not use do nothing.

    A tool reads the bench, changes the part through `bench.do` only, and sets `finished` when the
    board should go back to picking. `typing` is what is being typed for it at the moment.
    """

    name: ClassVar[str] = ""
    label: ClassVar[str] = ""
    hint: ClassVar[str] = ""
    """What the tool does, for menus and tips."""
    ask: ClassVar[str] = ""
    """What it wants first, in one line; empty where the hint is that short."""
    key: ClassVar[str] = ""
    group: ClassVar[str] = "draw"
    types_selection: ClassVar[bool] = False
    """Whether digits go to the rows of what is selected; elsewhere those rows are only read."""
    lets_sheet_move: ClassVar[bool] = False
    """Whether the part may be fitted anew under it: no place of the pointer counts meanwhile."""

    keeps_selection: ClassVar[bool] = False
    """Whether the selection is still what the tool works on after it took what it can use of it."""

    @classmethod
    def word(cls) -> str:
        """Return the one word that stands below its drawing on the rack."""
        return cls.name.capitalize()

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
        """What the tool wants next, in one line: the readout's row is told behind it."""
        return self.opening

    @property
    def opening(self) -> str:
        """What the tool wants first."""
        return self.ask or self.hint

    @property
    def preview(self) -> Preview:
        """Everything to be shown of the work in progress."""
        return Preview()

    @property
    def columns(self) -> tuple[str, ...]:
        """Rows of all stages in the order in which they stand, so that none moves in between.

        A place may be empty. Typing begins in the first that the stage takes.
        """
        return ()

    @property
    def drawn_from(self) -> str:
        """The open end of the outline that is being drawn, a point; empty where none is."""
        return ""

    @property
    def stage_mark(self) -> Hashable:
        """What tells one stage of the work from the next: typing begins afresh in each."""
        return tuple(row.name for row in self.rows() if row.takes)

    def ways(self) -> tuple[Way, ...]:
        """Return what the next piece can be, for the readout to offer; Space goes round them."""
        return ()

    def choose_way(self, name: str) -> None:
        """Take one of the ways by name."""

    def rows(self) -> tuple[Row, ...]:
        """Return the readout's rows while this tool works; empty leaves them to the board."""
        return ()

    def begin(self) -> None:
        """Take the tool in hand; the selection still stands as it was."""

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
        """Take a key; return whether the tool used it.

        Enter takes the stage. Escape takes one thing back: the value held last, else the last
        stage; a tool that has neither does not use it and is put down.
        """
        return False

    def hold(self, row: str, text: str) -> bool:
        """Hold a readout value at what was typed; return whether the tool has such a row.

        Raises
        ------
        QuantityError
            When the text cannot be understood.
        """
        return False

    def take_typed(self) -> None:
        """Take the stage with what is held: Enter after a value."""
        self.type_key("enter")

    def let_go(self, row: str) -> bool:
        """Let a held value follow the pointer again; return whether it was held."""
        return False

    def refresh(self) -> None:
        """Look again after the part changed under the tool."""
