"""The menu of files that were open before."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QMenu, QMenuBar

from sketcher.desk.menus import Commands
from sketcher.desk.window_files import Filing


class RecentMenu(QMenu):
    """Lists what was opened or saved last and still is there; filled whenever it opens."""

    def __init__(self, filing: Filing, bar: QMenuBar) -> None:
        super().__init__("Open &recent", bar)
        self.filing = filing
        self.setToolTipsVisible(True)
        self.aboutToShow.connect(self.fill)
        self.fill()

    @Slot()
    def fill(self) -> None:
        """List the files, each with a digit as its key and its folder in the tip."""
        self.clear()
        for number, name in enumerate(self.filing.recent.there(), 1):
            path = Path(name)
            digit = f"&{number} " if number < 10 else ""
            made = self.addAction(f"{digit}{path.name.replace('&', '&&')}")
            made.setToolTip(str(path))
            made.triggered.connect(partial(self._open, path))
        if self.isEmpty():
            self.addAction("Nothing was opened yet").setEnabled(False)

    def _open(self, path: Path, checked: bool = False) -> None:
        self.filing.open_path(path)


def hang(menu: QMenu, after: str, commands: Commands, bar: QMenuBar) -> None:
    """Hang a menu into that of the menu bar which holds an action, right below that."""
    action = commands.made[after]
    for each in bar.actions():
        held = each.menu()
        if isinstance(held, QMenu) and action in held.actions():
            below = held.actions()[held.actions().index(action) + 1:]
            if below:
                held.insertMenu(below[0], menu)
            else:
                held.addMenu(menu)
