"""The first part, step by step: followed, left and taken up again in the real window."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from sketcher.board.tour.tour import prompts
from tests.gui.driver import LEFT, Driver, wait_until
from tests.gui.window_hands import WindowHands

KEPT = "first-part.json"


class Pupil:
    """Does what the prompts ask for."""

    def __init__(self, driver: Driver, folder: Path) -> None:
        self.driver = driver
        self.hands = WindowHands(driver)
        self.folder = folder

    @property
    def at(self) -> int:
        """Rank of the prompt at hand; 11 after the last."""
        prompt = self.driver.window.first.touring.tour.standing.prompt
        return prompt.rank if prompt is not None else len(prompts()) + 1

    def value(self, text: str) -> None:
        """Type a value, and Enter until the tool has taken it."""
        before = self.driver.board.part
        self.hands.type(f"{text}\n")
        if self.driver.board.part is before:
            self.hands.press("enter")

    def do(self, step: int) -> None:
        """Do one step as its prompt says."""
        assert self.at == step
        (self.axis, self.outline, self.width, self.height, self.corner, self.hole, self.place,
         self.mirror, self.inspect, self.export)[step - 1]()
        wait_until(lambda: self.at > step, 20.0)

    def axis(self) -> None:
        self.hands.tool("axis")
        self.hands.click((0.0, 0.0), (0.0, 50.0))

    def outline(self) -> None:
        tool = self.driver.window.first.touring.tour.standing.prompt.tool
        self.hands.tool(tool)
        self.hands.click((0.0, 0.0), (35.0, 0.0), (35.0, 50.0), (0.0, 50.0))
        self.hands.press("enter")

    def width(self) -> None:
        self.driver.tool("pick")
        self.hands.click((20.0, 0.0))
        self.value("40")

    def height(self) -> None:
        self.hands.click((40.0, 30.0))
        self.value("45+15")

    def corner(self) -> None:
        self.hands.tool("fillet")
        self.hands.click((40.0, 60.0))
        self.value("8")

    def hole(self) -> None:
        self.hands.tool("circle")
        self.hands.click((18.0, 22.0))
        self.value("10")

    def place(self) -> None:
        self.driver.tool("pick")
        self.hands.click((-30.0, 30.0))
        assert not list(self.driver.board.bench.selection)
        self.hands.tool("dimension")
        self.hands.click((0.0, 40.0), (18.0, 22.0))
        self.value("25")
        self.hands.click((10.0, 0.0), (25.0, 22.0))
        self.value("15")

    def mirror(self) -> None:
        self.hands.tool("mirror")
        self.hands.click((0.0, 30.0))
        self.hands.press("enter")

    def inspect(self) -> None:
        box = self.driver.window.inspection.box
        box.setCurrentWidget(self.driver.window.inspection.tables["profile"])

    def export(self) -> None:
        self.driver.answers.path = self.folder / "first.dxf"
        self.driver.act("file.export_cut")


@pytest.fixture
def pupil(driver: Driver, tmp_path: Path) -> Pupil:
    QTest.mouseClick(driver.window.start.tour, LEFT)
    driver.settle(5)
    return Pupil(driver, tmp_path)


def test_ten_steps_lead_from_an_empty_sheet_to_a_file(pupil: Pupil, tmp_path: Path) -> None:
    driver, window = pupil.driver, pupil.driver.window
    panel = window.first.touring.panel
    assert panel.isVisible()
    for step in range(1, len(prompts()) + 1):
        title, missing = panel.title.text(), panel.missing.text()
        assert title.startswith(f"{step} of ")
        assert len(missing) > len("Still missing: .")
        pupil.do(step)
        assert panel.title.text() != title
    assert panel.missing.text() == ""
    assert driver.board.bench.derived.inspection().sound
    assert driver.board.report.state == "bound"
    assert (tmp_path / "first.dxf").stat().st_size > 0
    assert not (window.folder / KEPT).exists()  # what is finished is not gone on with
    QTest.mouseClick(panel.leave, LEFT)
    assert not panel.isVisible()


def test_the_panel_takes_neither_keys_nor_room_that_changes(pupil: Pupil) -> None:
    driver, window = pupil.driver, pupil.driver.window
    panel, view = window.first.touring.panel, pupil.driver.view
    assert view.hasFocus()
    heights = set()
    for step in range(1, 6):
        pupil.do(step)
        heights.add(panel.height())
        assert driver.app.focusWidget() is view
    assert len(heights) == 1
    assert panel.mapTo(window, panel.rect().topLeft()).y() \
        >= view.mapTo(window, view.rect().bottomLeft()).y()
    for width in (1366, 1000, 1366):  # every step's words fit at every width
        window.resize(width, 768)
        driver.settle(5)
        needed = panel.ask.heightForWidth(panel.ask.width())
        assert panel.ask.height() >= needed


def test_a_section_that_is_open_already_is_read(pupil: Pupil) -> None:
    pane = pupil.driver.window.inspection
    pane.box.setCurrentWidget(pane.tables["profile"])  # long before it is asked for
    for step in range(1, 9):
        pupil.do(step)
    wait_until(lambda: pupil.at == 10, 20.0)


def test_before_it_is_mirrored_the_half_is_one_finding(pupil: Pupil) -> None:
    for step in range(1, 8):
        pupil.do(step)
    pane = pupil.driver.window.inspection
    wait_until(lambda: pane.verdict.text().startswith("1 finding"), 20.0)
    rows = pane.tables["findings"]
    assert rows.entry_at(rows.order.index(0, 0)).cells[0].text == "half"
    pupil.do(8)
    wait_until(lambda: pane.verdict.text().startswith("Sound"), 20.0)


def test_a_slanted_top_is_told_at_once_and_straightened_by_a_button(pupil: Pupil) -> None:
    pupil.do(1)
    pupil.hands.tool("outline")
    pupil.hands.click((0.0, 0.0), (35.0, 0.0), (35.0, 36.0), (0.0, 50.0))
    pupil.hands.press("enter")
    panel = pupil.driver.window.first.touring.panel
    assert pupil.at == 2
    assert "e3 leans: select it and press Level" in panel.missing.text()
    pupil.driver.tool("pick")
    pupil.hands.click((17.0, 43.2))
    QTest.mouseClick(pupil.driver.window.ledger.kinds.buttons["level"], LEFT)
    assert pupil.at == 3


def test_what_is_undone_is_asked_for_again(pupil: Pupil) -> None:
    for step in range(1, 4):
        pupil.do(step)
    pupil.driver.act("edit.undo")
    assert pupil.at == 3
    pupil.driver.act("edit.redo")
    assert pupil.at == 4


def test_it_is_left_and_taken_up_again_in_the_same_run(pupil: Pupil) -> None:
    driver, window = pupil.driver, pupil.driver.window
    pupil.do(1)
    pupil.do(2)
    panel = window.first.touring.panel
    QTest.mouseClick(panel.leave, LEFT)
    assert not panel.isVisible()
    assert driver.app.focusWidget() is driver.view
    pupil.width()  # one may go on alone; nothing is lost by it
    driver.act("file.start")
    assert "Go on" in window.start.tour.text()
    QTest.mouseClick(window.start.tour, LEFT)
    driver.settle(5)
    assert panel.isVisible()
    assert pupil.at == 4
    assert driver.view.isVisible()


def reopened(driver: Driver) -> Driver:
    """Another window over the same data, as the next run has it."""
    from sketcher.desk.window import MainWindow

    window = MainWindow(driver.board.bench.settings, driver.window.folder, driver.window.look)
    window.resize(1366, 768)
    window.show()
    QTest.qWaitForWindowExposed(window)
    window.begin(None)
    return Driver(window, driver.app)


@pytest.mark.parametrize("saved", [True, False])
def test_it_is_taken_up_again_in_the_next_run(
    pupil: Pupil, tmp_path: Path, saved: bool
) -> None:
    for step in (1, 2, 3):
        pupil.do(step)
    driver = pupil.driver
    if saved:
        driver.answers.path = tmp_path / "mine.profile.json"
        driver.act("file.save")
    driver.answers.unsaved = "discard"
    assert driver.window.may_close()
    again = reopened(driver)
    try:
        assert "Go on" in again.window.start.tour.text()
        QTest.mouseClick(again.window.start.tour, LEFT)
        again.settle(5)
        later = Pupil(again, tmp_path)
        assert later.at == 4
        assert again.board.bench.path == (tmp_path / "mine.profile.json" if saved else None)
        assert again.board.part.points == driver.board.part.points
        later.do(4)
    finally:
        again.close()


def test_another_part_ends_it_and_a_new_one_begins_it_anew(pupil: Pupil) -> None:
    driver, window = pupil.driver, pupil.driver.window
    pupil.do(1)
    panel = window.first.touring.panel
    QTest.mouseClick(panel.anew, LEFT)
    driver.settle(5)
    assert (pupil.at, panel.isVisible()) == (1, True)
    assert not driver.board.part.curves
    window.filing.open_demo("gate-strap.profile.json")
    driver.settle(5)
    assert not panel.isVisible()


def test_the_help_menu_leads_to_it(driver: Driver) -> None:
    entries: dict[str, Callable[[], None]] = {
        action.text(): action.trigger for menu in driver.window.menuBar().actions()
        if menu.menu() is not None for action in menu.menu().actions()
    }
    entries["First part, step by step"]()
    driver.settle(5)
    assert driver.window.first.touring.panel.isVisible()
    assert driver.app.focusWidget() is driver.view
    assert driver.view.focusPolicy() == Qt.FocusPolicy.StrongFocus
