"""The page of a cut by mouse and keys: settings, picture, playing, refusals, the file."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import ezdxf
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QLineEdit, QSpinBox, QWidget

from sketcher.board.files.cutting_run import CutRun
from sketcher.desk.dialogs import cutting_view
from sketcher.desk.dialogs.cutting_desk import CuttingDesk
from sketcher.desk.window_host import DeskHost
from sketcher.errors import ExportError
from tests.gui.driver import LEFT, Driver, wait_until


class Page:
    """The page open on a demo part, and what it was asked to export."""

    def __init__(self, driver: Driver) -> None:
        self.driver = driver
        self.taken: list[dict[str, str]] = []
        self.refusal: ExportError | None = None
        self.desk = CuttingDesk(driver.board, driver.window.look, (), self.take, driver.window)
        self.desk.show()
        QTest.qWaitForWindowExposed(self.desk)
        self.planned()

    def take(self, values: dict[str, str]) -> bool:
        self.taken.append(dict(values))
        if self.refusal is not None:
            raise self.refusal
        return True

    def planned(self) -> None:
        """Wait for the plan of what the form holds."""
        desk = self.desk
        wait_until(lambda: not desk._soon.isActive() and desk.order is not None
                   and desk._tried == desk.order.settings and desk.advice is not None)

    def field(self, name: str) -> QWidget:
        return self.desk.form.fields[name]

    def type(self, name: str, text: str) -> None:
        field = self.field(name)
        line = field.lineEdit() if isinstance(field, QComboBox | QSpinBox) else field
        assert isinstance(line, QLineEdit)
        field.setFocus()
        line.selectAll()
        QTest.keyClicks(line, text)
        QTest.keyClick(field, Qt.Key.Key_Return)

    def key(self, key: Qt.Key) -> None:
        QTest.keyClick(self.desk.view, key)

    def pixel_of(self, number: int) -> QPoint:
        at = self.desk.view.place_of(number)
        assert at is not None
        return QPointF(*self.desk.view.camera.to_screen(at)).toPoint()


@pytest.fixture
def page(driver: Driver) -> Iterator[Page]:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    made = Page(driver)
    yield made
    made.desk.close()
    made.desk.deleteLater()


def test_what_is_shown_is_the_plan_and_each_setting_plans_anew(page: Page) -> None:
    desk = page.desk
    first = desk.trial
    assert first is not None
    assert first.plan is not None
    assert f"{len(first.plan.paths)} cuts" in desk.sums.text()
    assert desk.player.words.text() == f"Before the first of {len(first.plan.paths)}"
    box = page.field("process")
    box.setFocus()
    QTest.keyClick(box, Qt.Key.Key_Down)
    QTest.keyClick(box, Qt.Key.Key_Down)  # plasma
    page.planned()
    assert desk.trial is not first
    assert desk.order is not None
    assert desk.order.settings.process == "plasma"
    lines = [desk.lines.item(row).text() for row in range(desk.lines.count())]
    assert "Plasma" in lines
    assert not any("laser" in line.lower() for line in lines)
    assert "Cautions" in lines
    assert not page.field("between").isEnabled()  # says nothing of one copy
    assert not page.field("tab_width").isEnabled()
    page.type("copies", "2")
    assert page.field("between").isEnabled()
    assert page.field("grain").isEnabled()


def test_the_cut_is_played_stepped_and_pulled(
    page: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk, player = page.desk, page.desk.player
    run = player.run
    assert run is not None
    QTest.mouseClick(player.next, LEFT)
    assert player.place == run.stops[1]
    assert player.words.text().startswith("1 of ")
    page.key(Qt.Key.Key_PageDown)
    assert player.place == desk.view.place == run.stops[2]
    page.key(Qt.Key.Key_PageUp)
    assert player.place == run.stops[1]
    page.key(Qt.Key.Key_Space)
    assert player.plays
    assert player.play.text() == "&Pause"
    wait_until(lambda: player.place > run.stops[1])
    QTest.mouseClick(player.play, LEFT)
    assert not player.plays
    page.key(Qt.Key.Key_Space)
    player._seconds = 0.05  # the rest of it in a moment
    wait_until(lambda: not player.plays)
    assert player.place == run.takes
    assert player.words.text().startswith(f"{len(run.steps)} of {len(run.steps)}: outside")
    player.slider.setFocus()
    QTest.keyClick(player.slider, Qt.Key.Key_Home)
    assert player.place == 0.0
    QTest.mouseClick(desk.view, LEFT, Qt.KeyboardModifier.NoModifier, page.pixel_of(3))
    assert player.place == run.begin_of(3) > 0.0
    assert player.words.text().startswith("3 of ")
    stands_out(desk, run)
    monkeypatch.setattr(cutting_view, "CROWDED", 0)
    is_pulled_along_as_it_was_painted(page)


def stands_out(desk: CuttingDesk, run: CutRun) -> None:
    """Pixels of the colour in which all that is cut is drawn: none, some, more."""
    done = desk.view.look.preview
    desk.player.slider.setFocus()  # the frame of what has the keyboard has that colour too

    def share(place: float) -> int:
        desk.player.go_to(place)
        image = desk.view.grab().toImage()
        return sum(image.pixelColor(x, y).name() == done
                   for x in range(0, image.width(), 2) for y in range(0, image.height(), 2))

    none, some, every = (share(place) for place in (0.0, run.stops[2], run.takes))
    assert none < 40  # the torch itself has that colour in the dark look
    assert none + 40 < some
    assert some + 200 < every
    assert abs(share(run.stops[2]) - some) < 8  # going back takes it away again


def test_a_value_that_cannot_be_read_is_told_at_its_field_and_stays(page: Page) -> None:
    desk = page.desk
    page.type("kerf", "wide")
    wait_until(desk.form.reasons["kerf"].isVisible)
    assert "wide" in desk.form.reasons["kerf"].text()
    assert desk.form.values()["kerf"] == "wide"
    assert desk.isVisible()  # Enter in a field is no order to export
    QTest.mouseClick(desk.go, LEFT)
    assert page.taken == []
    page.type("tabs", "1")  # a plan of other settings says nothing of it
    page.driver.settle(200)
    assert desk.form.reasons["kerf"].isVisible()
    page.type("kerf", "0")
    wait_until(lambda: not desk.form.reasons["kerf"].isVisible())


def test_what_a_stage_refuses_stands_beside_its_field(page: Page) -> None:
    desk = page.desk
    page.type("kerf", "15")  # wider than the holes of 9 mm
    page.planned()
    reason = desk.form.reasons["kerf"]
    assert reason.isVisible()
    assert "h2" in reason.text()
    assert desk.view.run is None
    QTest.mouseClick(desk.go, LEFT)
    assert page.taken == []
    assert "Not exported" in desk.said.text()
    page.type("kerf", "0")
    page.planned()
    assert not reason.isVisible()
    assert desk.view.run is not None
    reason = desk.form.reasons["plate"]
    page.type("copies", "9")
    page.planned()
    assert reason.text() == "! no plate is given to lay them out on; give its width and height"
    page.type("plate", "100 x 50")
    page.planned()
    assert reason.isVisible()
    assert re.match(r"! \d of 9 fit on a plate of 100 mm x 50 mm", reason.text())
    page.type("plate", "500 x 400")
    field = page.field("copies")
    assert isinstance(field, QSpinBox)
    field.setValue(0)
    assert field.text() == "as many as fit"
    page.planned()
    assert not reason.isVisible()
    assert desk.trial is not None
    assert desk.trial.plan is not None
    copies = {path.copy for path in desk.trial.plan.paths}
    assert len(copies) > 9
    desk.player.step(1)
    assert ", copy " in desk.player.words.text()


def is_pulled_along_as_it_was_painted(page: Page) -> None:
    view = page.desk.view
    view.grab()
    ground, before = view._ground, view.grab().toImage()
    at = view.rect().center()
    none = Qt.KeyboardModifier.NoModifier
    QTest.mousePress(view, LEFT, none, at)
    QTest.mouseMove(view, at + QPoint(40, 24))
    page.driver.settle(20)
    pulled = view.grab().toImage()
    assert view._ground is ground
    QTest.mouseRelease(view, LEFT, none, at + QPoint(40, 24))
    after = view.grab().toImage()
    assert view._ground is not ground
    x, y = (round(value) for value in (at.x() - 60, at.y() - 40))
    for image in (pulled, after):  # what stood there stands elsewhere, in both the same
        assert all(image.pixel(x + 40 + k, y + 24) == before.pixel(x + k, y) for k in range(60))


def test_export_hands_over_what_the_form_holds_and_stays_where_that_is_refused(page: Page) -> None:
    desk = page.desk
    page.refusal = ExportError("x.dxf", "cannot be written", "choose another name")
    QTest.mouseClick(desk.go, LEFT)
    assert desk.isVisible()
    assert "cannot be written" in desk.said.text()
    page.refusal = None
    QTest.keyClick(page.field("process"), Qt.Key.Key_Return)  # the default button
    assert len(page.taken) == 2
    assert not desk.isVisible()
    assert page.taken[1]["copies"] == "1"


def test_from_the_key_to_the_file(
    driver: Driver, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    host = driver.window.host
    host.ask_cutting = DeskHost.ask_cutting.__get__(host)
    asked: list[str] = []
    driver.answers.path = tmp_path / "strap-mm.dxf"
    host.ask_path = lambda title, save, suffix, suggestion="": (
        asked.append(suggestion), driver.answers.path)[1]

    def answer(desk: CuttingDesk) -> int:
        desk.show()
        QTest.qWaitForWindowExposed(desk)
        wait_until(lambda: desk.trial is not None)
        desk.form.fields["process"].setFocus()
        QTest.keyClick(desk.form.fields["process"], Qt.Key.Key_Down)
        QTest.keyClick(desk.form.fields["process"], Qt.Key.Key_Return)
        return desk.result()

    monkeypatch.setattr(CuttingDesk, "exec", answer)
    driver.key(Qt.Key.Key_E, Qt.KeyboardModifier.ControlModifier)
    assert asked == ["gate-strap-mm.dxf"]
    assert len(ezdxf.readfile(tmp_path / "strap-mm.dxf").modelspace()) == 5
    assert driver.board.bench.settings["cut_process"] == "laser"
    assert "nominal size" in driver.board.bench.message.text
