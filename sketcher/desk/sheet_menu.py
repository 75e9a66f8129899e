"""The menu that opens on the sheet: what can be bound, and what is done most."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMenu, QWidget

from sketcher.desk.menus import Commands
from sketcher.desk.panes.kind_bar import KindBar

OFTEN = ("edit.delete", "view.fit_selection", "view.fit")


def sheet_menu(parent: QWidget, kinds: KindBar, commands: Commands) -> QMenu:
    """Return the menu for what is selected; it deletes itself when it closes."""
    menu = QMenu(parent)
    menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    for button in kinds.actions_for(menu):
        menu.addAction(button)
    menu.addSeparator()
    for name in OFTEN:
        if name in commands.made:
            menu.addAction(commands.made[name])
    return menu
