"""Opens the help at what is being done."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Slot

if TYPE_CHECKING:
    from sketcher.desk.help.help_window import HelpWindow
    from sketcher.desk.window import MainWindow

COLUMN = {"findings": ("finding", 0), "joints": ("joint", 1), "cutting": ("rule", 0)}
"""Of a section of the inspection what its rows are about, and in which column that stands."""


class Helping(QObject):
    """Knows what somebody is at, and has the window of the help.

    Parameters
    ----------
    window : MainWindow
    """

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self.window = window
        self.shown: HelpWindow | None = None

    @Slot()
    def show_help(self) -> None:
        """Open the help for the tool in hand, or for the row of the inspection that is chosen."""
        self.show_about(self.at_hand())

    def show_about(self, thing: str) -> None:
        """Open the help about a thing."""
        if self.shown is None:
            from sketcher.desk.help.help_window import HelpWindow

            self.shown = HelpWindow(self.window)
        self.shown.show_about(thing)

    def at_hand(self) -> str:
        """Return what the help should be about."""
        tool, row = self.window.board.tool.name, self._row()
        in_pane = self.window.inspection.isAncestorOf(self.window.focusWidget())
        if row and (in_pane or tool == "pick"):
            return row
        return f"tool:{tool}"

    def _row(self) -> str:
        """Return what the chosen row of the open section of the inspection is about."""
        pane = self.window.inspection
        for name, (kind, column) in COLUMN.items():
            table = pane.tables[name]
            index = table.currentIndex()
            if table is pane.box.currentWidget() and index.isValid():
                text = table.entry_at(index).cells[column].text.split(",")[0]
                return f"{kind}:{text}"
        return ""
