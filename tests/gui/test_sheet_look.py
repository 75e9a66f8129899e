"""What lies over what on the sheet, and how little the keyboard's focus takes of it."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QFrame

from sketcher.geometry.evaluate import point_at
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from tests.gui.driver import Driver


def shot(driver: Driver) -> QImage:
    driver.settle(300)
    return driver.view.viewport().grab().toImage()


def along_outline(driver: Driver) -> list[QPoint]:
    """Pixels in the middle of the half's outline, away from its marked ends."""
    pieces = driver.board.bench.derived.pieces()
    found = []
    for piece in pieces.all:
        if piece.role == "outline" and piece.id in driver.board.part.curves:
            found += [driver.pixel(*point_at(piece.curve, k / 40.0)) for k in range(3, 38)]
    return found


def test_no_dimension_blots_the_outline(driver: Driver) -> None:
    """With the sheet small and its words large, numbers and lines lie all over the part."""
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.window.resize(900, 620)
    driver.board.bench.set_setting("text_size", 26)
    driver.board.bench.set_setting("show_centers", False)
    places = along_outline(driver)
    with_them = shot(driver)
    driver.board.bench.set_setting("show_dimensions", False)
    places, without = along_outline(driver), shot(driver)
    assert with_them != without
    assert len(places) > 300
    ink = QColor(driver.window.look.ink)

    def far(image: QImage, at: QPoint) -> int:
        there = image.pixelColor(at)
        return abs(there.red() - ink.red()) + abs(there.green() - ink.green()) \
            + abs(there.blue() - ink.blue())

    blots = [at for at in places if far(with_them, at) > far(without, at) + 60]
    assert blots == []


def test_focus_is_a_thin_line_at_the_foot_of_the_sheet(driver: Driver) -> None:
    driver.new()
    port = driver.view.viewport()
    mark = port.findChild(QFrame, "focus_mark")
    driver.view.setFocus()
    driver.settle()
    room = port.size()
    assert mark.isVisible()
    assert mark.height() == 2
    assert (mark.width(), mark.geometry().bottom()) == (port.width(), port.height() - 1)
    driver.window.ledger.table.setFocus()
    driver.settle()
    assert not mark.isVisible()
    assert port.size() == room  # nothing shifts under the pointer
    assert driver.view.horizontalScrollBar().value() == 0


def test_the_whole_part_is_fitted_without_its_far_layout(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(300)
    before = driver.view.sheet.camera

    def scribed(part: Part) -> Part:
        draft = Draft(part)
        draft.circle((0.0, 0.0), 2000.0, "layout")
        return draft.done()

    driver.board.bench.do("Scribe", scribed)
    driver.act("view.fit")
    driver.settle(300)
    after = driver.view.sheet.camera
    assert after.scale == pytest.approx(before.scale, rel=0.03)  # dimensions may stand anew
    driver.board.load(scribed(Part()), None)
    driver.act("view.fit")
    assert driver.view.sheet.camera.scale < 0.2 * after.scale  # layout alone is the part
