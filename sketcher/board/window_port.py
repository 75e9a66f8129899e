"""What actions ask of the window around the board."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from pathlib import Path
from typing import Literal, Protocol, TypeAlias

from sketcher.geometry.curves import XY

Answer: TypeAlias = Literal["save", "discard", "cancel"]
Take: TypeAlias = Callable[[Mapping[str, str]], object]
Follow: TypeAlias = Callable[[Mapping[str, str]], Mapping[str, str]]


STRONG = "! "
"""Begins a line to be read that stands out among the others."""


class Host(Protocol):
    """The window, or whatever stands in for it in a test.

    The `ask_...` methods return None (or ``"cancel"``) when the person thinks better of it.
    """

    def ask_path(
        self, title: str, save: bool, suffix: str, suggestion: str = ""
    ) -> Path | None:
        """Ask for a file to open, or to save to."""

    def ask_folder(self, title: str) -> Path | None:
        """Ask for a folder that is there, or that is made while asking."""

    def ask_choice(self, title: str, label: str, choices: Sequence[str]) -> str | None:
        """Ask for one of several."""

    def ask_form(
        self, title: str, fields: Sequence[tuple[str, str, str]], caution: str = "",
        take: Take | None = None, long: Collection[str] = (), follow: Follow | None = None,
    ) -> dict[str, str] | None:
        """Ask for several values: fields are (name, label, value as it stands).

        The fields named by `long` take several lines. What `follow` makes of the values goes into
        the fields of these names, with each letter that is typed.

        `take` uses the values while they can still be mended: a SketcherError that it raises is
        shown beside them, and they stay as they were typed.
        """

    def confirm(self, title: str, text: str, yes: str) -> bool:
        """Ask whether to go on; `yes` is the word on the button that does."""

    def ask_despite(self, title: str, opening: str, findings: Sequence[str], yes: str) -> bool:
        """Show findings in words and ask whether to go on all the same; not to is the default."""

    def ask_cutting(self, despite: Collection[str], take: Take) -> bool:
        """Show the page of a cut, with advice and cautions; return whether anything was exported.

        `despite` has the codes of findings with which the part is cut all the same. `take` exports
        by what the page's form holds: it says whether it did, and a SketcherError that it raises
        is shown on the page.
        """

    def ask_unsaved(self, name: str) -> Answer:
        """Ask what to do with changes that are not in a file."""

    def tell(self, title: str, text: str) -> None:
        """Show a text that has to be read."""

    def fill_clipboard(self, contents: Mapping[str, bytes]) -> None:
        """Put contents on the desktop's clipboard, each under its media type."""

    def clipboard(self, media: str) -> bytes | None:
        """Return what the desktop's clipboard holds of a media type; None where it has none."""

    def paste_place(self) -> XY:
        """Return where something pasted goes: the pointer, or the middle of the view."""

    def fit_part(self) -> None:
        """Show the whole part."""

    def fit_selection(self) -> None:
        """Show what is selected as large as fits."""

    def zoom(self, factor: float) -> None:
        """Zoom about the middle of the view."""

    def set_look(self, name: str) -> None:
        """Show another look."""

    def show_dialog(self, name: str) -> None:
        """Open a dialog by name: ``"preferences"``, ``"start"``, ``"export"``, ``"print"``."""

    def bring_in(self, path: Path) -> None:
        """Show a foreign drawing and what becomes of it; the part that is chosen is opened."""

    def close(self) -> None:
        """Close the window."""
