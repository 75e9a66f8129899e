"""The menu of the sheet: about what lies under the pointer, with what can be done to it now."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, Qt, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QMenu, QWidget

from sketcher.board.board import PICKING
from sketcher.board.files.clipboard import PIECE
from sketcher.board.tools.pick_tool import PickTool
from sketcher.desk.desktop_clipboard import held
from sketcher.desk.menus import Commands
from sketcher.desk.panes.kind_bar import KindBar
from sketcher.desk.scene.scene_view import SceneView

OFTEN = (
    ("bind.join",),
    ("edit.cut", "edit.copy", "edit.paste", "edit.delete", "edit.delete_heal"),
    ("shape.outline", "shape.layout", "shape.axis"),
    ("readout.hole_zero", "readout.hole_along"),
    ("edit.undo", "view.fit_selection", "view.fit"),
)


class SheetMenu(QObject):
    """Opens the menu at a right press, with the Menu key or with Shift+F10."""

    def __init__(
        self, view: SceneView, kinds: KindBar, commands: Commands, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.view = view
        self.kinds = kinds
        self.commands = commands
        self.window = parent
        self.menu: QMenu | None = None
        view.menu_asked.connect(self.press)
        view.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take the keys for the menu while the sheet has the keyboard."""
        if not isinstance(event, QKeyEvent) or event.type() != QEvent.Type.KeyPress:
            return False
        shifted = event.modifiers() == Qt.KeyboardModifier.ShiftModifier
        if event.key() != Qt.Key.Key_Menu and not (event.key() == Qt.Key.Key_F10 and shifted):
            return False
        if not self.view.only_looks:
            self.by_keys()
        return True

    @Slot(QPoint)
    def press(self, at: QPoint) -> None:
        """Open the menu about what lies at a place on the screen."""
        self._choose(QPointF(self.view.viewport().mapFromGlobal(at)))
        self._open(at)

    def by_keys(self) -> None:
        """Open the menu about the keyboard's pointer; without one, about the selection."""
        sheet = self.view.sheet
        place = QPointF(*sheet.camera.to_screen(sheet.cursor or sheet.camera.center))
        if sheet.cursor is not None:
            self._choose(place)
        self._open(self.view.viewport().mapToGlobal(place.toPoint()))

    def _choose(self, pixel: QPointF) -> None:
        """Select what lies at a pixel, unless it is selected; nothing where nothing lies."""
        board = self.view.board
        if board.tool.name != PICKING or not isinstance(board.tool, PickTool):
            return
        found = board.tool.meant(self.view.pointer_at(pixel, Qt.KeyboardModifier.NoModifier))
        if not found or any(name not in board.bench.selection for name in found):
            board.bench.select(found)

    def _open(self, at: QPoint) -> None:
        menu = QMenu(self.window)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.setAccessibleName("What can be done here")
        menu.setToolTipsVisible(True)
        self.commands.refresh()
        for button in self.kinds.actions_for(menu):
            menu.addAction(button)
        for group in OFTEN:
            menu.addSeparator()
            for name in group:
                made = self.commands.made.get(name)
                if made is not None and made.isEnabled() \
                        and (name != "edit.paste" or held(PIECE) is not None):
                    menu.addAction(made)
        self.menu = menu
        menu.popup(at)
