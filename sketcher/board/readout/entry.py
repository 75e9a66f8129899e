"""Text that is being typed into a row of the readout."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sketcher.board.readout.row import LABELS
from sketcher.errors import SketcherError

MOST = 200
CARET = "|"  # of the digits' own font: a sign of another one would change the height of the line


@dataclass(frozen=True, slots=True)
class Entry:
    """An open row: its name, the text so far, and why the last try was refused.

    `reading` says how the text is read where another reading is as near; `whole` tells that all of
    it is selected, so that what is typed next takes its place.
    """

    row: str
    text: str = ""
    error: str = ""
    reading: str = ""
    whole: bool = False

    @property
    def prompt(self) -> str:
        """What the status line says while it is open."""
        label = LABELS.get(self.row, self.row)
        if self.error:
            return f"{label}: type it anew, or Esc leaves it."  # why is said beside it
        if self.reading:
            return f"{label}: {self.reading}"
        return f"{label}: Enter takes it, Tab holds it and goes on to the next row, Esc leaves it."

    @property
    def shown(self) -> str:
        """The text with the caret at its end; with one at each end where all of it is selected."""
        return f"{CARET if self.whole else ''}{self.text}{CARET}"

    def plus(self, text: str) -> Entry:
        """Return it with more text; a leading ``=`` only opens the row."""
        joined = (("" if self.whole else self.text) + text).lstrip("=")[:MOST]
        return Entry(self.row, joined)

    def shorter(self) -> Entry | None:
        """Return it without its last character, or None when nothing is left."""
        return Entry(self.row, self.text[:-1]) if len(self.text) > 1 and not self.whole else None

    def failed(self, error: SketcherError) -> Entry:
        """Return it with the reason why it was refused."""
        return replace(self, error=error.reason)
