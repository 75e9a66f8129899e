"""The tree that a screen reader reads, taken from Qt itself."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QWidget

ROLES = QAccessible.Role
WORKED = frozenset({
    ROLES.Button, ROLES.ButtonMenu, ROLES.ButtonDropDown, ROLES.CheckBox, ROLES.RadioButton,
    ROLES.EditableText, ROLES.ComboBox, ROLES.SpinBox, ROLES.Slider, ROLES.Table, ROLES.List,
    ROLES.Tree, ROLES.MenuItem, ROLES.PageTab, ROLES.ProgressBar, ROLES.ListItem, ROLES.ToolBar,
    ROLES.ColumnHeader, ROLES.Dialog, ROLES.Window, ROLES.Grip,
})
"""Roles of what a person works with: each needs a name."""
MOST_ROWS = 300


class Node(NamedTuple):
    """A node of the tree: its way from the root, role, name and the object behind it."""

    way: str
    role: QAccessible.Role
    name: str
    object: Any
    focusable: bool


def tree(root: QWidget) -> Iterator[Node]:
    """Yield every visible node below a widget, the widget first."""
    yield from _below(QAccessible.queryAccessibleInterface(root), "")


def _below(at: Any, way: str) -> Iterator[Node]:
    if at is None or not at.isValid() or at.state().invisible:
        return
    name = at.text(QAccessible.Text.Name)
    way = f"{way}/{at.role().name} {name!r}"
    yield Node(way, at.role(), name, at.object(), bool(at.state().focusable))
    for number in range(min(at.childCount(), MOST_ROWS)):
        yield from _below(at.child(number), way)


def nameless(root: QWidget) -> list[str]:
    """Return the ways to what a person works with, or can put the keyboard on, without a name."""
    return [node.way for node in tree(root)
            if (node.role in WORKED or (node.focusable and isinstance(node.object, QWidget)))
            and not node.name.strip()]
