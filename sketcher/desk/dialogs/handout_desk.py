"""The whole sheet of a problem, large, beside the window."""

from __future__ import annotations

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QDialogButtonBox, QPushButton, QVBoxLayout, QWidget

from sketcher.desk.dialogs.page_view import PageView
from sketcher.desk.dialogs.roomy import RoomyDialog
from sketcher.drafting.page import Page


class HandoutDesk(RoomyDialog):
    """Shows a page that can be kept open while the part is drawn.

    Parameters
    ----------
    title : str
    page : Page
    parent : QWidget
    """

    def __init__(self, title: str, page: Page, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setModal(False)
        outer = QVBoxLayout(self)
        self.view = PageView(self)
        self.view.show_page(page)
        outer.addWidget(self.view, 1)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close, self)
        self.larger = QPushButton("&Larger", self)
        self.smaller = QPushButton("&Smaller", self)
        for button, slot in ((self.larger, self._larger), (self.smaller, self._smaller)):
            button.setAutoDefault(False)
            button.clicked.connect(slot)
            buttons.addButton(button, QDialogButtonBox.ButtonRole.ActionRole)
        buttons.rejected.connect(self.reject)
        outer.addWidget(buttons)
        self.resize(820, 640)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)

    @Slot()
    def _larger(self) -> None:
        self.view.zoom(1.25)

    @Slot()
    def _smaller(self) -> None:
        self.view.zoom(0.8)
