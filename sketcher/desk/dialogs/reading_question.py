"""What has to be read before something is done that was asked for; to do it is the default."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QListWidget, QVBoxLayout, QWidget

from sketcher.board.window_port import STRONG
from sketcher.desk.dialogs.roomy import RoomyDialog, go_or_stay, lines_to_read, scrolled

WIDTH, SHOWN = 600, 7


class ReadingQuestion(RoomyDialog):
    """Lists lines, where there are any, above cautions; asks whether to go on.

    Parameters
    ----------
    title, opening : str
        Of the window, and the sentence above the lines.
    lines, cautions : sequence of str
        The lines scroll where they are many. Where some are indented, the others are headings.
    yes : str
        The word on the button that goes on.
    parent : QWidget
    """

    def __init__(
        self, title: str, opening: str, lines: Sequence[str], cautions: Sequence[str], yes: str,
        parent: QWidget,
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        outer = QVBoxLayout(self)
        self.lines = lines_to_read("Lines", lines, self)
        if any(line[:1].isspace() for line in lines):
            strengthen(self.lines)
        self.lines.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.opening = QLabel(opening, self)
        self.opening.setWordWrap(True)
        for piece in (self.opening, self.lines):
            piece.setVisible(bool(lines))
            outer.addWidget(piece)
        row = self.lines.sizeHintForRow(0) if lines else 0
        high = row * (min(len(lines), SHOWN) + 1)  # one more, for a line that takes two
        self.lines.setMinimumHeight(min(high, 2 * row))
        self.lines.setMaximumHeight(high)
        body = QWidget(self)
        words = QVBoxLayout(body)
        words.setContentsMargins(0, 0, 0, 0)
        self.cautions = QLabel("\n\n".join(cautions), body)
        self.cautions.setWordWrap(True)
        words.addWidget(self.cautions)
        words.addStretch(1)
        outer.addWidget(scrolled(body, "Cautions", self), 1)
        buttons, self.go, self.stay = go_or_stay(self, yes)
        self.go.setDefault(True)
        self.go.setFocus()
        outer.addWidget(buttons)
        tall = self.cautions.heightForWidth(WIDTH - 60) + 70
        tall += high + self.opening.heightForWidth(WIDTH - 40) + 12 if lines else 0
        free = self.screen().availableGeometry().size() * 0.9
        self.resize(min(WIDTH, free.width()), min(tall, free.height()))


def strengthen(lines: QListWidget) -> None:
    """Letter headings, and what is strong below them, in bold."""
    font = lines.font()
    font.setBold(True)
    for item in map(lines.item, range(lines.count())):
        text = item.text()
        if not text[:1].isspace() or text.strip().startswith(STRONG):
            item.setFont(font)
