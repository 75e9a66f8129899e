"""The finished drawing in the window: form, preview, export and print, driven by hand."""

from __future__ import annotations

import pdfplumber
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QImage
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QCheckBox, QComboBox, QLineEdit

from sketcher.desk.dialogs.drawing_desk import DrawingDesk
from sketcher.desk.dialogs.printing import print_pages, printer_for
from sketcher.drafting.sheet import pages
from sketcher.part.store import load
from tests.corner_plate import plate as corner_plate
from tests.gui.driver import Driver, wait_until
from tests.sheet_reader import read_pdf


@pytest.fixture
def desk(driver: Driver):
    driver.window.filing.open_demo("pump-flange.profile.json")
    driver.settle()
    made = DrawingDesk(driver.board, driver.window.commands.run, driver.window)
    made.show()
    QTest.qWaitForWindowExposed(made)
    drawn(made)
    yield made
    made.close()
    made.deleteLater()


def drawn(desk: DrawingDesk) -> None:
    """Wait until the pages are those of what the form holds; they are drawn in another process."""
    wait_until(lambda: not desk._soon.isActive() and desk.board.bench.worker.current is None)


def inked(image: QImage) -> int:
    return sum(image.pixelColor(x, y).lightness() < 120
               for x in range(0, image.width(), 2) for y in range(0, image.height(), 2))


def test_settings_show_at_once_and_are_kept_as_one_step(desk: DrawingDesk, driver: Driver) -> None:
    before = driver.board.part
    assert len(desk.pages) == 1
    assert inked(desk.view.grab().toImage()) > 300
    practice, order = desk.form.fields["practice"], desk.form.fields["order_page"]
    assert isinstance(practice, QComboBox)
    assert isinstance(order, QCheckBox)
    practice.setCurrentIndex(practice.findData("ASME"))
    practice.activated.emit(practice.currentIndex())
    order.setFocus()
    QTest.keyClick(order, Qt.Key.Key_Space)
    drawn(desk)
    assert driver.board.part is before  # nothing is kept yet
    assert desk.pages[0].practice == "ASME"
    assert len(desk.pages) > 1
    desk.accept()
    kept = driver.board.part.drawing
    assert (kept.practice, kept.order_page) == ("ASME", True)
    driver.board.bench.undo()
    assert driver.board.part == before


def test_what_cannot_be_read_is_told_and_holds_the_desk_open(
    desk: DrawingDesk, driver: Driver
) -> None:
    scale = desk.form.fields["scale"]
    assert isinstance(scale, QComboBox)
    scale.setEditText("wide")
    scale.lineEdit().editingFinished.emit()
    QTest.qWait(250)
    assert "wide" in desk.said.text()
    assert desk.pages  # the last good ones stay
    desk.accept()
    assert desk.isVisible()
    scale.setEditText("1:2")
    desk.accept()
    assert not desk.isVisible()
    assert driver.board.part.drawing.scale == "1:2"


def test_title_block_of_the_exported_pdf_says_what_was_typed(
    desk: DrawingDesk, driver: Driver, tmp_path
) -> None:
    name = desk.form.fields["fields.drawn by"]
    assert isinstance(name, QLineEdit)
    name.setFocus()
    QTest.keyClicks(name, "M. Example")
    driver.answers.choice = "PDF, true to scale"
    driver.answers.path = tmp_path / "flange.pdf"
    desk.leaving[0].click()
    assert desk.said.text() == "flange.pdf exported."  # the status line is behind the dialog
    with pdfplumber.open(tmp_path / "flange.pdf") as document:
        assert "M. Example" in document.pages[0].extract_text()


def test_pages_turn_by_button_and_key(desk: DrawingDesk) -> None:
    box = desk.form.fields["inspection_page"]
    assert isinstance(box, QCheckBox)
    box.setChecked(True)
    desk.redraw()
    drawn(desk)
    desk.after.click()
    assert desk.view.page is desk.pages[1]
    desk.view.setFocus()
    QTest.keyClick(desk.view, Qt.Key.Key_PageUp)
    assert desk.view.page is desk.pages[0]
    QTest.keyClick(desk.view, Qt.Key.Key_Plus)
    assert desk.view.closer > 1.0
    QTest.keyClick(desk.view, Qt.Key.Key_0)
    assert desk.view.closer == 1.0


def test_the_printer_gets_the_page_true_to_size(driver: Driver, tmp_path) -> None:
    """A printer that prints into a file: lengths read back equal the part's within 0.01 mm."""
    driver.window.filing.open_demo("pump-flange.profile.json")
    part = driver.board.part
    drawn = pages(part)
    printer = printer_for(drawn)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "print.pdf"))
    print_pages(drawn, printer)
    ink = read_pdf(tmp_path / "print.pdf")
    assert ink.size == pytest.approx(drawn[0].size, abs=0.36)  # media boxes are whole points
    circles = [d for d in ink.of("wide") if d.center is not None]
    for curve in part.curves.values():
        radius = getattr(curve, "radius", None)
        if radius is not None and curve.role == "outline":
            wanted = radius * drawn[0].view.factor
            assert min(abs(c.radius - wanted) for c in circles) < 0.01


def test_menu_opens_the_desk(driver: Driver, monkeypatch) -> None:
    opened = []
    monkeypatch.setattr(DrawingDesk, "exec", lambda self: opened.append(self.part.name))
    driver.window.filing.open_demo("gate-strap.profile.json")
    assert driver.window.commands.run("file.drawing")
    assert opened == [load_name()]
    QTest.qWait(10)


def load_name() -> str:
    from sketcher.shipped import shipped

    return load(shipped("demo_parts", "gate-strap.profile.json")).name


def test_a_detail_is_pulled_to_another_side_of_the_part(driver: Driver) -> None:
    """The side is kept by what the detail shows, not a place on paper."""
    driver.board.bench.do("Put a plate there", lambda _: corner_plate())
    driver.settle()
    desk = DrawingDesk(driver.board, driver.window.commands.run, driver.window)
    desk.show()
    QTest.qWaitForWindowExposed(desk)
    drawn(desk)
    try:
        (detail,) = desk.pages[0].details
        part = desk.pages[0].view
        assert part is not None
        box, scale = desk.view.place()

        def pixel(at: tuple[float, float]) -> QPoint:
            return QPointF(box.left() + at[0] * scale, box.bottom() - at[1] * scale).toPoint()

        # Far below the plate, as a person would pull it there.
        to = pixel((part.point((60.0, 0.0))[0], part.point((60.0, -60.0))[1]))
        QTest.mousePress(desk.view, Qt.MouseButton.LeftButton, pos=pixel(detail.circle().center))
        QTest.mouseMove(desk.view, to)
        QTest.mouseRelease(desk.view, Qt.MouseButton.LeftButton, pos=to)
        drawn(desk)
        (moved,) = desk.pages[0].details
        now = desk.pages[0].view
        assert now is not None
        assert moved.circle().center[1] < now.point((0.0, 0.0))[1]
        desk.accept()
        kept = driver.board.part.drawing.details
        assert [dict(entry) for entry in kept.values()] == [{"side": "below"}]
        assert set(kept) <= set(detail.members)
    finally:
        desk.close()
        desk.deleteLater()
