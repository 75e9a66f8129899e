"""A page of the finished drawing on the screen, painted as the PDF is."""

from __future__ import annotations

import sys

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QWidget

from sketcher.desk.dialogs.page_picture import FEW, paint_crowded
from sketcher.desk.sliced_picture import SlicedPicture
from sketcher.drafting.page import DetailOnPage, Page
from sketcher.exchange.pdf import paint

MARGIN = 12.0  # pixels around the page
CLOSEST = 12.0


class PageView(QWidget):
    """Shows one page fitted to the widget; the wheel comes closer, the pointer pulls it along.

    A detail view that is pulled goes elsewhere on the page instead.

    Signals
    -------
    turned(int)
        Page Up or Page Down: -1 or 1.
    pulled(DetailOnPage, float, float)
        A detail was pulled to a place on the page, in mm from its lower left corner.
    """

    turned = Signal(int)
    pulled = Signal(object, float, float)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.page: Page | None = None
        self.closer = 1.0
        self.picture = SlicedPicture(self)
        self.picture.made.connect(self.update)
        self._middle = QPointF(0.5, 0.5)
        self._held: QPointF | None = None
        self._detail: DetailOnPage | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Page")
        self.setAccessibleDescription("The finished drawing. Plus and minus change its size.")
        self.setMinimumSize(160, 120)  # on the smallest screen it is a thumbnail

    def sizeHint(self) -> QSize:
        """Return a size at which lettering on A3 can be read."""
        return QSize(820, 600)

    def show_page(self, page: Page | None) -> None:
        """Show another page; the place on it stays."""
        if page is not self.page:
            self.picture.drop()
        self.page = page
        self.update()

    def zoom(self, factor: float) -> None:
        """Come closer by a factor, or go back to the whole page."""
        self.closer = min(CLOSEST, max(1.0, self.closer * factor))
        if self.closer == 1.0:
            self._middle = QPointF(0.5, 0.5)
        self.update()

    def place(self) -> tuple[QRectF, float]:
        """Return where the page lies on the widget, and pixels per millimetre."""
        assert self.page is not None
        wide, high = self.page.size
        scale = self.closer * min((self.width() - 2 * MARGIN) / wide,
                                  (self.height() - 2 * MARGIN) / high)
        left = 0.5 * self.width() - self._middle.x() * wide * scale
        top = 0.5 * self.height() - self._middle.y() * high * scale
        return QRectF(left, top, wide * scale, high * scale), scale

    def on_page(self, at: QPointF) -> tuple[float, float]:
        """Return a place of the widget in mm on the page, from its lower left corner."""
        box, scale = self.place()
        return ((at.x() - box.left()) / scale, (box.bottom() - at.y()) / scale)

    # Events.

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the page on its paper."""
        painter = QPainter(self)
        try:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            if self.page is not None:
                box, scale = self.place()
                painter.fillRect(box, QColor("#ffffff"))
                if len(self.page.items) > FEW:
                    paint_crowded(painter, self.picture, self.page, box, self.size(),
                                  self.devicePixelRatioF())
                else:
                    painter.translate(box.topLeft())
                    painter.scale(scale, scale)
                    paint(painter, self.page)
                if self._detail is not None and self._held is not None:
                    painter.resetTransform()
                    painter.setPen(QPen(self.palette().highlight().color(), 2.0))
                    reach = self._detail.circle().radius * scale
                    painter.drawEllipse(self._held, reach, reach)
        except Exception:  # noqa: BLE001 - an exception that leaves an override can end the process
            sys.excepthook(*sys.exc_info())
        finally:
            painter.end()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Come closer or go away."""
        self.zoom(1.25 ** (event.angleDelta().y() / 120.0))
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the page, or of a detail on it."""
        self._held = event.position()
        if self.page is not None:
            self._detail = self.page.detail_at(self.on_page(event.position()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Pull the page along."""
        if self._held is None or self.page is None:
            return
        if self._detail is not None:
            self._held = event.position()
            self.update()
            return
        box, _ = self.place()
        step = event.position() - self._held
        self._held = event.position()
        self._middle = QPointF(
            min(1.0, max(0.0, self._middle.x() - step.x() / box.width())),
            min(1.0, max(0.0, self._middle.y() - step.y() / box.height())))
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let the page go, or the detail where it is now."""
        self._held, detail, self._detail = None, self._detail, None
        if detail is not None and self.page is not None:
            at = self.on_page(event.position())
            if detail is not self.page.detail_at(at):
                self.pulled.emit(detail, *at)
            self.update()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Show the whole page again."""
        self.zoom(0.0)

    def event(self, event: object) -> bool:
        """Take the keys that change size and page."""
        from PySide6.QtCore import QEvent
        from PySide6.QtGui import QKeyEvent

        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            keys = {Qt.Key.Key_Plus: 1.25, Qt.Key.Key_Equal: 1.25, Qt.Key.Key_Minus: 0.8,
                    Qt.Key.Key_0: 0.0}
            turns = {Qt.Key.Key_PageUp: -1, Qt.Key.Key_PageDown: 1}
            key = Qt.Key(event.key())
            if key in keys:
                self.zoom(keys[key])
                return True
            if key in turns:
                self.turned.emit(turns[key])
                return True
        return super().event(event)  # type: ignore[arg-type]
