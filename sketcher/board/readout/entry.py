"""Text that is being typed into a row of the readout."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sketcher.board.readout.row import LABELS
from sketcher.errors import SketcherError

MOST = 200


@dataclass(frozen=True, slots=True)
class Entry:
    """An open row: its name, the text so far, and why the last try was refused."""

    row: str
    text: str = ""
    error: str = ""

    @property
    def prompt(self) -> str:
        """What the status line says while it is open."""
        label = LABELS.get(self.row, self.row)
        if self.error:
            return f"{label}: {self.error}"
        return f"{label}: Enter takes it, Tab holds it and goes on to the next row, Esc leaves it."

    def plus(self, text: str) -> Entry:
        """Return it with more text; a leading ``=`` only opens the row."""
        joined = (self.text + text).lstrip("=")[:MOST]
        return replace(self, text=joined, error="")

    def shorter(self) -> Entry | None:
        """Return it without its last character, or None when nothing is left."""
        return replace(self, text=self.text[:-1], error="") if len(self.text) > 1 else None

    def failed(self, error: SketcherError) -> Entry:
        """Return it with the reason why it was refused."""
        return replace(self, error=error.reason)
