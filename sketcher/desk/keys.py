"""Names for Qt's keys and held keys, as the board speaks of them."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

NAMES = {
    Qt.Key.Key_Return: "enter", Qt.Key.Key_Enter: "enter", Qt.Key.Key_Escape: "escape",
    Qt.Key.Key_Backspace: "backspace", Qt.Key.Key_Delete: "delete", Qt.Key.Key_Tab: "tab",
    Qt.Key.Key_Backtab: "backtab",
    Qt.Key.Key_Space: "space", Qt.Key.Key_Home: "home", Qt.Key.Key_End: "end",
    Qt.Key.Key_Insert: "insert", Qt.Key.Key_Left: "left", Qt.Key.Key_Right: "right",
    Qt.Key.Key_Up: "up", Qt.Key.Key_Down: "down",
}
ARROWS = {"left": (-1, 0), "right": (1, 0), "up": (0, 1), "down": (0, -1)}


def held(modifiers: Qt.KeyboardModifier) -> frozenset[str]:
    """Return which of shift, ctrl and alt are held."""
    table = (
        (Qt.KeyboardModifier.ShiftModifier, "shift"),
        (Qt.KeyboardModifier.ControlModifier, "ctrl"),
        (Qt.KeyboardModifier.AltModifier, "alt"),
    )
    return frozenset(name for flag, name in table if modifiers & flag)


def is_typed(event: QKeyEvent) -> bool:
    """Tell whether a key types a character, the space left out: it presses and it pans."""
    text = event.text()
    return len(text) == 1 and text.isprintable() and text != " "


def begins_typing(event: QKeyEvent) -> bool:
    """Tell whether a key begins to type into a cell, or empties it."""
    return is_typed(event) or event.key() == Qt.Key.Key_Backspace


def name_of(event: QKeyEvent) -> str:
    """Return the name of a key: ``enter``, ``left``, ..., or the character that it types."""
    named = NAMES.get(Qt.Key(event.key()))
    return named if named else event.text().lower()
