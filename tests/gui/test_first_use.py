"""The start page, the way back from it, and the empty sheet, through the real window."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest

from sketcher.board.files.recent_files import load_recent
from sketcher.board.job import AtOnce
from sketcher.desk.panes.demo_cards import PICTURE, DemoCards, blank, demos
from sketcher.part.store import save
from sketcher.part.value import Part
from tests.gui.driver import LEFT, Driver, wait_until


class Idle(AtOnce):
    """A worker that must not be asked."""

    def start(self, *given: object, **more: object) -> None:
        raise AssertionError(given)


def pixels(cards: DemoCards, row: int) -> QImage:
    """The picture of a card."""
    return cards.item(row).icon().pixmap(PICTURE).toImage()


def inked(image: QImage, ground: str) -> float:
    """Share of a picture that is not ground."""
    wide, high = image.width(), image.height()
    other = sum(image.pixelColor(x, y).name() != ground for x in range(wide) for y in range(high))
    return other / (wide * high)


def test_every_demo_part_says_in_one_line_what_it_teaches() -> None:
    assert len(demos()) >= 5
    for demo in demos():
        assert 30 < len(demo.about) < 90
        assert demo.about.endswith(".")
    assert len({demo.about for demo in demos()}) == len(demos())


def test_demo_parts_are_shown_as_pictures(driver: Driver) -> None:
    cards = driver.window.start.demo_list
    assert cards.count() == len(demos())
    assert pixels(cards, 0) == blank().pixmap(PICTURE).toImage()
    wait_until(lambda: not cards.without_picture)
    look = driver.window.look
    shares = [inked(pixels(cards, row), look.sheet) for row in range(cards.count())]
    assert all(0.01 < share < 0.3 for share in shares), shares
    assert len({pixels(cards, row).constBits().tobytes() for row in range(cards.count())}) \
        == cards.count()
    for row in range(cards.count()):  # nothing of a card is cut
        place = cards.visualItemRect(cards.item(row))
        assert cards.viewport().rect().contains(place)
    kept = sorted(path.name for path in (driver.window.folder / "pictures").iterdir())
    assert len(kept) == cards.count()


def test_pictures_are_kept_for_the_next_time_and_follow_the_look(driver: Driver) -> None:
    first = driver.window.first
    cards = first.page.demo_list
    wait_until(lambda: not cards.without_picture)
    dark = pixels(cards, 0)
    drawn: list[object] = []
    first.pictures.worker = Idle()
    first.pictures.made.connect(lambda *card: drawn.append(card))
    first.pictures.ask(cards.files)
    wait_until(lambda: len(drawn) == cards.count())
    assert pixels(cards, 0) == dark
    driver.act("view.look")
    paper = pixels(cards, 0)
    assert paper != dark
    assert 0.01 < inked(paper, driver.window.look.sheet) < 0.3


def test_a_card_opens_its_part(driver: Driver) -> None:
    cards = driver.window.start.demo_list
    place = cards.visualItemRect(cards.item(2)).center()
    QTest.mouseClick(cards.viewport(), LEFT, pos=place)
    driver.settle()
    assert driver.board.part.name == demos()[2].name
    assert driver.view.isVisible()


@pytest.fixture
def over_a_part(driver: Driver) -> Driver:
    """The start page, opened over a part with a step to undo and a tool in hand."""
    driver.new()
    driver.tool("line")
    driver.click(0, 0)
    driver.click(40, 0)
    driver.act("file.start")
    return driver


def test_nothing_is_done_to_a_part_behind_the_page(over_a_part: Driver) -> None:
    driver, window = over_a_part, over_a_part.window
    part = driver.board.part
    assert window.first.covers
    for held, key in ((Qt.KeyboardModifier.ControlModifier, Qt.Key.Key_Z),
                      (Qt.KeyboardModifier.NoModifier, Qt.Key.Key_Delete),
                      (Qt.KeyboardModifier.NoModifier, Qt.Key.Key_L)):
        driver.key(key, held)
    assert driver.board.part is part
    assert driver.board.tool.name == "pick"
    reached = {name for name, made in window.commands.made.items() if made.isEnabled()}
    assert reached == {"file.new_mm", "file.new_in", "file.open", "file.bring_in",
                       "file.practice", "file.mark_class", "file.quit", "view.look",
                       "view.preferences"}
    for pane in (window.ledger, window.inspection, window.rack, window.tray, window.readout):
        assert not pane.isVisible()
    assert window.prompt.text() != driver.board.prompt


@pytest.mark.parametrize("way", ["button", "escape"])
def test_a_way_leads_back_to_the_part(over_a_part: Driver, way: str) -> None:
    driver, window = over_a_part, over_a_part.window
    part, camera = driver.board.part, driver.view.sheet.camera
    assert window.start.back.isVisible()
    assert part.name in window.start.back.text()
    if way == "button":
        QTest.mouseClick(window.start.back, LEFT)
    else:
        driver.key(Qt.Key.Key_Escape)
    driver.settle()
    assert driver.view.isVisible()
    assert driver.view.hasFocus()
    assert (driver.board.part, driver.view.sheet.camera.scale) == (part, camera.scale)
    assert window.ledger.isVisible()
    assert window.prompt.text() == driver.board.prompt
    driver.act("edit.undo")
    assert not driver.board.part.curves


def test_without_a_part_there_is_no_way_back(driver: Driver) -> None:
    assert not driver.window.start.back.isVisible()
    driver.key(Qt.Key.Key_Escape)
    assert driver.window.first.covers


def test_a_pinned_file_stays_at_the_top(driver: Driver, tmp_path: Path) -> None:
    paths = [tmp_path / f"{name}.profile.json" for name in ("one", "two", "three")]
    for path in paths:
        save(Part(name=path.name[:3]), path)
        driver.window.filing.open_path(path)
    driver.act("file.start")
    recent = driver.window.start.recent_list

    def shown() -> list[str]:
        return [Path(recent.item(row).data(Qt.ItemDataRole.UserRole)).name.split(".")[0]
                for row in range(recent.count())]

    assert shown() == ["three", "two", "one"]
    QTest.mouseClick(recent.pins[str(paths[0])], LEFT)
    driver.settle()
    assert shown() == ["one", "three", "two"]
    assert driver.window.first.covers  # a pin opens nothing
    driver.board.bench.set_setting("recent_count", 1)
    driver.window.filing.open_path(paths[1])
    driver.act("file.start")
    assert shown() == ["one", "two"]
    again = load_recent(driver.window.folder / "recent.json")
    assert [Path(p).name.split(".")[0] for p in again.there()] == ["one", "two"]
    QTest.mouseClick(recent.pins[str(paths[0])], LEFT)
    driver.settle()
    assert load_recent(driver.window.folder / "recent.json").pinned == ()
    QTest.mouseClick(recent.viewport(), LEFT, pos=recent.visualItemRect(recent.item(0)).center())
    driver.settle()
    assert not driver.window.first.covers  # beside the pin a press opens the file


def test_an_empty_sheet_says_what_to_press_first(driver: Driver) -> None:
    driver.new()
    hint = driver.window.first.hint
    assert hint.isVisible()
    assert driver.view.viewport().rect().contains(hint.geometry())
    zero = driver.pixel(0, 0)
    assert not hint.geometry().contains(zero)
    for name in ("axis", "circle"):
        assert driver.board.tools[name].label in hint.text()
    assert "curve" not in driver.board.prompt.split("draw")[0]  # none that could be pressed
    driver.tool("line")
    driver.click(0, 0)
    driver.move(30, 10)
    assert not hint.isVisible()  # where one draws, words are in the way
    driver.click(30, 10)
    assert not hint.isVisible()
    driver.act("edit.undo")
    driver.tool("pick")
    assert hint.isVisible()
