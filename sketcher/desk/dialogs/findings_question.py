"""What a part still has against it, and whether to go on all the same; not to is the default."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from sketcher.desk.dialogs.roomy import RoomyDialog, go_or_stay, lines_to_read

WIDTH, HEIGHT = 560, 320


class FindingsQuestion(RoomyDialog):
    """Lists every finding in words; only a press on `go` accepts.

    Parameters
    ----------
    title, opening : str
        Of the window, and the sentence above the list.
    lines : sequence of str
        The findings.
    yes : str
        The word on the button that goes on.
    parent : QWidget
    """

    def __init__(
        self, title: str, opening: str, lines: Sequence[str], yes: str, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        words = QLabel(opening, self)
        words.setWordWrap(True)
        self.findings = lines_to_read("Findings", lines, self)
        buttons, self.go, self.stay = go_or_stay(self, yes)
        self.go.setAutoDefault(False)
        self.stay.setDefault(True)
        self.stay.setFocus()
        outer = QVBoxLayout(self)
        for piece in (words, self.findings, buttons):
            outer.addWidget(piece)
        free = self.screen().availableGeometry().size() * 0.9
        self.resize(min(WIDTH, free.width()), min(HEIGHT, free.height()))
