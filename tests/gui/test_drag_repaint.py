"""While a drag goes on only what moves is painted, and the window shows what a full paint gives."""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QObject, QPoint, QRect
from PySide6.QtGui import QImage, QPaintEvent
from PySide6.QtTest import QTest

from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import bind
from sketcher.part.value import Mirror, Part
from tests.gui.driver import LEFT, wait_until


def crowd(curves: int, mirrored: bool, dimensioned: bool) -> Part:
    """Loose zigzag lines with circles beside an axis, some of it crossed by others."""
    draft, points = Draft(Part()), []
    axis = draft.line(draft.point((0.0, -60.0)), draft.point((0.0, 60.0)), "axis")
    for n in range(curves // 2 + 1):
        angle = pi * n / curves * 2 - pi / 2
        radius = 50.0 if n % 2 else 40.0
        points.append(draft.point((12.0 + radius * cos(angle), radius * sin(angle))))
    for n in range(curves // 2):
        draft.line(points[n], points[n + 1])
        draft.circle((10.0 + 3.0 * (n % 7), 4.0 * (n % 11) - 20.0), 2.0 + n % 3)
    part = draft.done()
    if mirrored:
        part = part.having(mirrors=(Mirror(axis, "outline"),))
    if dimensioned:
        lines = [name for name, c in part.curves.items() if c.kind == "line"][1:]
        for name, kind, of in (("d1", "distance", lines[4]), ("d2", "distance", lines[9]),
                               ("g1", "level", lines[2])):
            value = None if kind == "level" else "12"
            part = part.having(bindings={**part.bindings, name: bind(part, kind, (of,), value)})
    return part


class Painted(QObject):
    """Notes how much of the viewport each paint event asks for."""

    def __init__(self, widget) -> None:
        super().__init__(widget)
        self.areas: list[int] = []
        widget.installEventFilter(self)

    def eventFilter(self, watched, event) -> bool:
        if event.type() == QEvent.Type.Paint and isinstance(event, QPaintEvent):
            self.areas.append(sum(r.width() * r.height() for r in event.region()))
        return False


def pixels(image: QImage) -> np.ndarray:
    image = image.convertToFormat(QImage.Format.Format_RGB32)
    data = np.frombuffer(image.constBits(), np.uint8)
    return data.reshape(image.height(), image.bytesPerLine())[:, : 4 * image.width()].astype(int)


def on_screen(view) -> np.ndarray:
    """What the window holds at this moment, without painting."""
    corner = view.viewport().mapTo(view.window(), QPoint(0, 0))
    shot = view.screen().grabWindow(view.window().winId())
    return pixels(shot.toImage().copy(QRect(corner, view.viewport().size())))


@pytest.mark.parametrize(("curves", "mirrored", "dimensioned"),
                         [(60, False, False), (60, True, False), (30, True, True)])
def test_the_window_shows_what_a_full_paint_gives(driver, curves, mirrored, dimensioned) -> None:
    driver.new()
    driver.board.load(crowd(curves, mirrored, dimensioned), None)
    driver.settle()
    view, board = driver.view, driver.board
    lines = [curve for curve in board.part.curves.values() if curve.kind == "line"]
    name = lines[8].ends[1]
    x, y = board.part.points[name]
    QTest.mousePress(view.viewport(), LEFT, pos=driver.pixel(x, y))
    painted = Painted(view.viewport())
    # away from other points: near one the mark that they would join is painted with the whole
    for n in range(8):
        QTest.mouseMove(view.viewport(), driver.pixel(x - 2.0 * n - 3.0, y - 0.4 * n))
        driver.app.processEvents()
        shown = on_screen(view)
        whole = pixels(view.viewport().grab().toImage())
        assert shown.shape == whole.shape
        # a dash that is cut by a clip is computed from another start: one step of the coverage
        off = np.abs(shown - whole)
        # Qt counts dashes from the edge of the clip and rasters in 1/64 of a pixel: at the edge of
        # a dash a pixel may differ by some of 255 steps; a line that is missing differs by 50
        assert off.max() <= 8
        assert (off > 3).sum() <= 4
    frame = view.viewport().width() * view.viewport().height()
    assert board.part.points[name] != (x, y)
    assert sum(area < 0.2 * frame for area in painted.areas) >= 5
    QTest.mouseRelease(view.viewport(), LEFT, pos=driver.pixel(x - 17.0, y + 10.5))
    driver.settle()
    rest, grabbed = on_screen(view), pixels(view.viewport().grab().toImage())
    view.viewport().repaint()
    assert (rest == on_screen(view)).all()
    # a grab is painted from its own corner, the window from that of the window: in coordinates that
    # are rounded otherwise the edge of a dash can differ by one step, of any full paint as well
    assert np.abs(rest - grabbed).max() <= 1


def test_panes_catch_up_while_a_drag_is_held_still(driver) -> None:
    driver.new()
    draft = Draft(Part())
    draft.circle((0.0, 0.0), 10.0)
    driver.board.load(draft.done(), None)
    driver.settle()
    view, window = driver.view, driver.window
    QTest.mousePress(view.viewport(), LEFT, pos=driver.pixel(10.0, 0.0))
    for x in (11.0, 12.5, 14.0):
        QTest.mouseMove(view.viewport(), driver.pixel(x, 0.0))
        driver.app.processEvents()
    assert window.inspection.verdict.text() == "\N{HORIZONTAL ELLIPSIS}"
    assert "\N{HORIZONTAL ELLIPSIS}" in window.state.text()
    (circle,) = driver.board.part.curves.values()
    assert circle.radius == pytest.approx(14.0, abs=0.3)
    said = f"It measures {2.0 * circle.radius:.6g} now"
    wait_until(lambda: said in window.ledger.kinds.buttons["diameter"].toolTip())
    wait_until(lambda: "finding" in window.state.text())
    QTest.mouseRelease(view.viewport(), LEFT, pos=driver.pixel(14.0, 0.0))
