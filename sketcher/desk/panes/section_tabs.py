"""The words on the tabs of the inspection, and the tone in which they stand."""

from __future__ import annotations

from typing import Literal, TypeAlias

from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QAbstractButton, QToolBox

from sketcher.desk.looks import Look

Tone: TypeAlias = Literal["plain", "faint", "bad"]
TAB = "qt_toolbox_toolboxbutton"
"""Name that Qt gives the tabs of its box; it offers no other way to their colour."""


class SectionTabs:
    """Sets words and tone of the tabs of a box.

    Parameters
    ----------
    box : QToolBox
        With all its sections.
    look : Look
        For the colours.
    """

    def __init__(self, box: QToolBox, look: Look) -> None:
        self._box = box
        self._look = look
        self._tones: dict[int, Tone] = {}

    def say(self, place: int, words: str, tone: Tone = "plain") -> None:
        """Put words on a tab."""
        self._box.setItemText(place, words)
        if self._tones.get(place, "plain") != tone:
            self._tones[place] = tone
            self._colour(place)

    def words(self, place: int) -> str:
        """Return the words on a tab."""
        return self._box.itemText(place)

    def tone(self, place: int) -> Tone:
        """Return the tone of a tab."""
        return self._tones.get(place, "plain")

    def wear(self, look: Look) -> None:
        """Show the tones in the colours of another look."""
        self._look = look
        for place in self._tones:
            self._colour(place)

    def _colour(self, place: int) -> None:
        tab = self._box.findChildren(QAbstractButton, TAB)[place]
        colours = QPalette()
        tone = self._tones[place]
        if tone != "plain":
            colour = QColor(self._look.bad if tone == "bad" else self._look.faint)
            colours.setColor(QPalette.ColorRole.ButtonText, colour)
        tab.setPalette(colours)
