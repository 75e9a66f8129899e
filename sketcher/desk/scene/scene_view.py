"""The sheet on the screen: five layers and a preview under one camera; forwards what is done."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt, Signal, Slot
from PySide6.QtGui import (
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGraphicsScene, QGraphicsView, QWidget

from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.board.steps.notices import Change
from sketcher.desk import keys
from sketcher.desk.gate import PASSES
from sketcher.desk.looks import Look
from sketcher.desk.scene.fitting import ShownWhole
from sketcher.desk.scene.focus_mark import FocusMark
from sketcher.desk.scene.key_pointer import following, key_pointer, taken_by_arrow
from sketcher.desk.scene.panning import Panning
from sketcher.desk.scene.pinch_zoom import PinchZoom
from sketcher.desk.scene.repaint import Repaint
from sketcher.desk.scene.scene_state import SceneState
from sketcher.desk.scene.sheet_layers import scene_of, sheet_layers
from sketcher.desk.scene.stillness import Stillness
from sketcher.desk.scene.way_back import WayBack
from sketcher.geometry.curves import XY

WHEEL_STEP = 1.25
LAID_OUT = 50
"""Pixels of width that the sheet is narrower than until it has its first place in the window."""


class SceneView(QGraphicsView):
    """Shows the part and hands pointer and keys to the board.

    Signals
    -------
    letter(str)
        A key that neither readout nor tool has used; an action may have it.
    refused()
        Something was pressed or typed while a job is waited for.
    edit_asked(str)
        A binding's id whose value is to be edited in place.
    menu_asked(QPoint)
        Where a context menu is wanted, in global pixels.
    pointed(object)
        The pointer's place in part units.
    """

    letter = Signal(str)
    refused = Signal()
    edit_asked = Signal(str)
    menu_asked = Signal(QPoint)
    pointed = Signal(object)

    def __init__(self, board: Board, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.board = board
        self.sheet = SceneState(board, look, self.font())
        self.changes = Repaint(self.sheet)
        self.only_looks = False  # while a job is waited for: pan and zoom, and nothing else
        self.takes_key: Callable[[QKeyEvent], bool] | None = None  # of what plays here
        self._pan = Panning(self, self.sheet, self._moved)
        self._keyed = False  # a key came since the last press
        self._still = Stillness(self.sheet, self._rested, self)
        self.way_back = WayBack(self)
        self._fitted = False
        self._whole = ShownWhole(self.sheet)
        self.layers, self.loupe = sheet_layers(self.sheet, self.viewport().update)
        self.setScene(scene_of(self.layers, self.loupe, QGraphicsScene(self)))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.FullViewportUpdate)
        self.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setMouseTracking(True)
        self.viewport().setMouseTracking(True)
        pinch = PinchZoom(self)
        pinch.zoomed.connect(self.zoom)
        self.viewport().installEventFilter(pinch)
        self.viewport().setCursor(Qt.CursorShape.CrossCursor)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setProperty(PASSES, True)
        FocusMark(self)
        for piece in (self, self.viewport()):
            piece.setAccessibleName("Sheet")
        self.setAccessibleDescription(
            "The part. Arrow keys move the pointer, with Shift from thing to thing; Enter presses, "
            "digits go to the readout."
        )

    # What the window asks.

    @Slot(object)
    def refresh(self, change: Change | None = None) -> None:
        """Take over the board's state and repaint what differs."""
        if change is not None and change.reason == "load":
            self.sheet.cursor, self.sheet.went = None, ""  # it stood on the part before
        self.sheet.refresh()
        region = self.changes.region(self.loupe.loupe)
        if region is None:
            self.viewport().update()
        elif not region.isEmpty():
            self.viewport().update(region)

    def stand_still(self) -> None:
        """Make what was too slow to follow every motion, and paint it when it is there."""
        self._still.start()
        if self.board.part.curves and self.sheet.shows("centers"):
            self.board.bench.derived.know_center_lines(self.viewport().update)
            self.viewport().update()  # dashes as one paint gives them, not pieced together

    def wear(self, look: Look) -> None:
        """Change the look."""
        self.sheet.look = look
        self.sheet.font = self.font()
        self.sheet.font.setPixelSize(int(self.board.bench.settings["text_size"]))
        self.stand_still()
        self.viewport().update()

    def light(self, names: tuple[str, ...]) -> None:
        """Light up what a pane points at."""
        if names != self.sheet.lit:
            self.sheet.lit = names
            self.viewport().update()

    def fit(self, names: tuple[str, ...] = ()) -> None:
        """Show the whole part, or only the named curves and points, as large as fits."""
        self._fitted = self.viewport().width() > LAID_OUT
        self.sheet.refresh()
        self._whole.fit(names)
        self._moved()

    def zoom_to(self, at: XY, window: float) -> None:
        """Show a place with `window` part units across."""
        (x, y), half = at, window / 2
        self.sheet.camera = self.sheet.camera.fitting((x - half, y - half, x + half, y + half), 0.0)
        self._moved()

    def see(self, scale: float, center: XY) -> None:
        """Show a place at a scale, whatever size the sheet has or comes to have."""
        self._fitted = True
        self.sheet.camera = self.sheet.camera.seeing(scale, center)
        self._moved()

    def zoom(self, factor: float, about: QPointF | None = None) -> None:
        """Zoom about a pixel; about the keyboard's pointer or the middle when None."""
        if about is None:
            camera, at = self.sheet.camera, self.sheet.cursor
            pixel = camera.to_screen(at) if at else (camera.width / 2, camera.height / 2)
        else:
            pixel = (about.x(), about.y())
        self.sheet.camera = self.sheet.camera.zoomed(factor, pixel)
        self._moved()

    def pointer_at(self, pixel: QPointF, modifiers: Qt.KeyboardModifier) -> Pointer:
        """Return the board's pointer for a pixel."""
        return self._pointer(self.sheet.camera.to_part((pixel.x(), pixel.y())),
                             keys.held(modifiers))

    def _pointer(self, at: XY, held: frozenset[str]) -> Pointer:
        return Pointer(*at, self.board.bench.settings["reach"] / self.sheet.camera.scale, held)

    def _moved(self) -> None:
        self.viewport().update()
        self._still.start()

    def _rested(self) -> None:
        """Paint the dimensions as they stand at rest, all in view where the part was fitted."""
        if self._whole.rest():
            self._still.start()
        self.viewport().update()

    # Events. Nothing may leave an override; see the guide.

    def _guarded(self, work: Callable[[], object]) -> None:
        try:
            work()
        except Exception:  # noqa: BLE001
            sys.excepthook(*sys.exc_info())

    def _hand(self, event: QMouseEvent, take: Callable[[Pointer], object]) -> None:
        self._guarded(lambda: take(self.pointer_at(event.position(), event.modifiers())))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the scene as large as the viewport; a part that was fitted is so again."""
        wide, high = self.viewport().width(), self.viewport().height()
        self.setSceneRect(0.0, 0.0, wide, high)
        if self._whole.resize(wide, high):
            self._fitted = False

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint; the layers leave out what lies outside of what is asked for."""
        with self.board.bench.worker.standing():
            if not self._fitted and self.viewport().width() > LAID_OUT:
                self._guarded(self.fit)
            self._guarded(partial(self.sheet.expose, event.region()))
            super().paintEvent(event)
            self._guarded(partial(self.sheet.expose, None))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin to pan with the middle button or space, else press."""
        self.sheet.cursor, self.sheet.went = None, ""
        self.loupe.loupe = None
        self._keyed = False
        if self._pan.begin(event):
            pass
        elif self.only_looks:
            self.refused.emit()
        elif event.button() == Qt.MouseButton.LeftButton:
            self._hand(event, self.board.press)
        elif event.button() == Qt.MouseButton.RightButton:
            self.menu_asked.emit(event.globalPosition().toPoint())
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Pan, or move the board's pointer."""
        if not self._pan.go_on(event) and not self.only_looks:
            self._hand(event, self.board.move)
            self.pointed.emit(self.pointer_at(event.position(), event.modifiers()).at)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End the pan or release."""
        if self._pan.end():
            return
        if event.button() == Qt.MouseButton.LeftButton and not self.only_looks:
            self._hand(event, self.board.release)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Edit the dimension under the pointer, show all where nothing is, or tell the tool."""
        if event.button() != Qt.MouseButton.LeftButton or self.only_looks:
            return
        if self._keyed:  # what was typed between two quick presses parts them
            self.mousePressEvent(event)
            return
        pointer = self.pointer_at(event.position(), event.modifiers())
        name = self.sheet.binding_at(pointer)
        if name is not None:
            self.edit_asked.emit(name)
        elif self.board.tool.is_blank(pointer):
            self._guarded(self.fit)
        else:
            self._guarded(lambda: self.board.double(pointer))

    def leaveEvent(self, event: QEvent) -> None:
        """Let the hover go."""
        super().leaveEvent(event)
        self.light(())

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom with a wheel; pan with a touchpad, zoom there with Ctrl."""
        if not self._pan.glide(event):
            notches = event.angleDelta().y() / 120.0
            self.zoom(WHEEL_STEP**notches, event.position())
        event.accept()

    def focusNextPrevChild(self, onward: bool) -> bool:
        """Leave Tab to the readout where a tool in hand takes values; else to the next control."""
        if self.board.typing.keeps_tab and not self.only_looks:
            return False
        return super().focusNextPrevChild(onward)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move the pointer with arrows, press with Enter, type values into the readout."""
        if self.takes_key is not None and self.takes_key(event):
            return
        self._keyed = True
        name, held = keys.name_of(event), keys.held(event.modifiers())
        text, typing = event.text(), self.board.typing
        plain = bool(name) and "ctrl" not in held and "alt" not in held
        try:
            if self.only_looks and not is_looking(event, name, held):
                self.refused.emit()
            elif name == "backspace" and event.isAutoRepeat() and not typing.is_open:
                pass  # held down to empty a value: what it would take back then is something else
            elif plain and text.isprintable() and text and typing.is_open and not self.only_looks:
                typing.type_text(text)
            elif name == "enter" and self.sheet.went and plain and not typing.is_open:
                self._press_at_cursor(held)
            elif plain and name == "escape" and self.way_back.go():
                pass
            elif name == "space":
                self._pan.space_down()
            elif name in keys.ARROWS:
                self._arrow(*keys.ARROWS[name], held)
            elif event.key() in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
                self.zoom(WHEEL_STEP if event.key() == Qt.Key.Key_PageUp else 1 / WHEEL_STEP)
            elif not (plain and len(name) == 1 and typing.type_text(text)) \
                    and (not plain or not self.board.key(name)):
                self._unused(event, name, held)
        except Exception:  # noqa: BLE001
            sys.excepthook(*sys.exc_info())

    def _unused(self, event: QKeyEvent, name: str, held: frozenset[str]) -> None:
        """Press at the keyboard's pointer, take the keyboard, or offer the key to the window."""
        if name == "enter" and self.sheet.cursor is not None and "ctrl" not in held:
            self._press_at_cursor(held)
        elif name == "escape" and not held:  # out of a pane, once there is nothing else to leave
            self.setFocus()
        elif name and "ctrl" not in held and "alt" not in held:
            self.letter.emit(f"shift+{name}" if "shift" in held else name)
        else:
            event.ignore()

    def _press_at_cursor(self, held: frozenset[str]) -> None:
        """Press where the keys have put the pointer; the next Enter may be the tool's."""
        pointer = key_pointer(self.sheet, held)
        self.sheet.went = ""
        self.board.press(pointer)
        self.board.release(pointer)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Let space go: tapped without a pan it is a key of the tool."""
        let_go = event.key() == Qt.Key.Key_Space and not event.isAutoRepeat()
        if let_go and self._pan.space_up() and not self.only_looks:
            self._guarded(partial(self.board.key, "space"))

    def _arrow(self, right: int, up: int, held: frozenset[str]) -> None:
        """Move the keyboard's pointer; Alt by little, Shift to the next thing, Ctrl pans."""
        camera = self.sheet.camera
        if "ctrl" in held:
            self.sheet.camera = camera.panned(-right * 60.0, up * 60.0)
            self._moved()
            return
        cursor = taken_by_arrow(self.sheet, right, up, held)
        if cursor is None:
            return
        self.sheet.cursor, self.sheet.went = cursor, "to it" if "shift" in held else "by step"
        self.sheet.camera = following(camera, cursor)
        self.board.move(key_pointer(self.sheet, held - {"alt", "shift"}))
        self.pointed.emit(self.sheet.cursor)
        self._moved()


def is_looking(event: QKeyEvent, name: str, held: frozenset[str]) -> bool:
    """Tell whether a key only moves the sheet under the window: pans, zooms, holds to pan."""
    return name == "space" or (name in keys.ARROWS and "ctrl" in held) \
        or event.key() in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)
