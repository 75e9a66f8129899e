"""The construction plays on the sheet: by keys, by presses, and it goes when the part changes."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest

from sketcher.desk import constructing
from sketcher.desk.constructing import Constructing
from sketcher.errors import GeometryError
from sketcher.part.value import Part
from tests.accessible import WORKED, tree
from tests.gui.driver import LEFT, Driver, wait_until
from tests.gui.test_drag_repaint import Painted, on_screen
from tests.lessons import roof, roof_steps

pytestmark = pytest.mark.gui
KEY = Qt.Key


def opened(driver: Driver) -> Constructing:
    """The small gable is on the sheet and its construction is begun from the menu."""
    driver.board.load(roof())
    driver.act("view.construction")
    wait_until(lambda: found(driver).is_on)
    return found(driver)


def found(driver: Driver) -> Constructing:
    made: Any = driver.window.findChild(Constructing)
    assert isinstance(made, Constructing)
    return made


def roofed(driver: Driver) -> Constructing:
    """The small gable with moves of its own is played in the place of the program's steps."""
    driver.board.load(roof())
    shown = Constructing(driver.window)
    shown._begun(driver.board.part, roof_steps())
    driver.settle()
    return shown


def picture(driver: Driver) -> QImage:
    driver.settle()
    return driver.view.viewport().grab().toImage()


def still(shown: Constructing) -> None:
    """Wait until what is being drawn is drawn."""
    wait_until(lambda: shown.play is not None and not shown.play.plays)


def test_the_menu_begins_it_and_keys_alone_play_it_to_its_end(driver: Driver) -> None:
    shown = opened(driver)
    play = shown.play
    assert play is not None
    assert shown.bar.isVisible()
    assert driver.view.hasFocus()
    driver.key(KEY.Key_Right)
    still(shown)
    assert (play.number, play.is_drawn) == (1, True)
    driver.key(KEY.Key_Right)
    driver.key(KEY.Key_Right)
    assert (play.number, play.is_drawn) == (2, True)
    driver.key(KEY.Key_Left)
    driver.key(KEY.Key_Left)
    assert (play.number, play.is_drawn) == (1, False)
    for _ in range(9):
        driver.key(KEY.Key_Up)
    driver.key(KEY.Key_Space)
    assert play.plays
    wait_until(lambda: play.number > 2)
    assert play.speed == 8.0
    driver.key(KEY.Key_Down)
    assert play.speed == 4.0
    driver.key(KEY.Key_Space)
    assert not play.plays
    driver.key(KEY.Key_End)
    assert play.is_over
    assert shown.bar.head.text() == f"All {len(play.steps)} steps are drawn"
    driver.key(KEY.Key_Home)
    assert play.number == 1
    driver.key(KEY.Key_Escape)
    assert not shown.is_on
    assert not shown.bar.isVisible()
    assert all(layer.isVisible() for layer in driver.view.layers)
    assert driver.view.hasFocus()


def test_the_sheet_shows_the_step_and_the_whole_at_the_end(driver: Driver) -> None:
    shown = opened(driver)
    empty = picture(driver)
    shown.go_to(4)
    some = picture(driver)
    driver.key(KEY.Key_End)
    whole = picture(driver)
    drawn = [differing(empty, image) for image in (some, whole)]
    assert 0 < drawn[0] < drawn[1]
    driver.key(KEY.Key_Home)
    assert picture(driver) == empty  # a step back has the picture of what stands painted anew


def differing(one: QImage, other: QImage) -> int:
    """Count the pixels in which two pictures differ."""
    return int((pixels(one) != pixels(other)).sum())


def pixels(image: QImage) -> np.ndarray:
    plain = image.convertToFormat(QImage.Format.Format_RGB32)
    return np.frombuffer(plain.constBits(), np.uint32) & 0xFFFFFF


def inked(image: QImage, colour: str) -> int:
    """Count the pixels of a colour."""
    return int((pixels(image) == int(colour[1:], 16)).sum())


def test_the_bar_does_the_same_by_presses(driver: Driver) -> None:
    shown = roofed(driver)
    play = shown.play
    assert play is not None
    bar = shown.bar
    QTest.mouseClick(bar.next, LEFT)
    still(shown)
    assert bar.head.text() == "Datum  \N{MIDDLE DOT}  Step 1 of 8"
    QTest.mouseClick(bar.hand, LEFT)
    assert play.by_hand
    bar.slider.setValue(3)
    assert bar.head.text() == "Datum  \N{MIDDLE DOT}  Step 3 of 8, move 1 of 2"
    assert bar.words.text() == "Swing any opening about p1: 3A and 3B on e1."
    QTest.mouseClick(bar.before, LEFT)
    assert play.number == 2
    QTest.mouseClick(bar.play, LEFT)
    assert bar.play.text() == "Pause"
    QTest.mouseClick(bar.play, LEFT)
    assert bar.play.text() == "Play"
    QTest.mouseClick(bar.leave, LEFT)
    assert not shown.is_on
    assert driver.view.hasFocus()


def test_escape_leaves_from_a_button_of_the_bar_too(driver: Driver) -> None:
    shown = roofed(driver)
    driver.key(KEY.Key_Tab)
    assert shown.bar.isAncestorOf(driver.target())
    driver.key(KEY.Key_Space)  # presses the button that has the keyboard
    driver.key(KEY.Key_Escape)
    assert not shown.is_on
    assert driver.view.hasFocus()


def test_the_numbers_of_a_step_are_lit_in_the_ledger(driver: Driver) -> None:
    shown = roofed(driver)
    for number, used in ((5, ["b5"]), (6, ["b7", "b8", "b6"]), (8, [])):
        shown.go_to(number)
        assert driver.window.ledger.chosen() == used
    assert not driver.board.bench.selection.ids  # nobody selected them
    shown.leave()
    assert driver.window.ledger.chosen() == []


def test_nothing_on_the_sheet_can_be_changed_by_accident(driver: Driver) -> None:
    shown = opened(driver)
    part = driver.board.part
    x, y = part.points["p2"]
    driver.click(x, y)
    driver.drag((x, y), (x + 20.0, y + 20.0))
    driver.double(x, y)
    for letter in "l12d":
        driver.key(getattr(KEY, f"Key_{letter.upper()}"))
    driver.key(KEY.Key_Delete)
    driver.key(KEY.Key_Return)
    driver.window.ledger.table.setFocus()
    driver.keys("l1")  # a pane hands letters and digits on to the sheet
    assert driver.board.part is part
    assert driver.board.tool.name == "pick"
    assert driver.board.bench.hover == ()
    assert shown.is_on


def test_the_sheet_can_be_panned_and_zoomed_meanwhile(driver: Driver) -> None:
    shown = opened(driver)
    shown.go_to(9)
    camera = driver.view.sheet.camera
    driver.key(KEY.Key_PageUp)
    assert driver.view.sheet.camera.scale > camera.scale
    driver.key(KEY.Key_Right, Qt.KeyboardModifier.ControlModifier)
    assert driver.view.sheet.camera.center != camera.center
    port = driver.view.viewport()
    middle = Qt.MouseButton.MiddleButton
    before = driver.view.sheet.camera
    QTest.mousePress(port, middle, Qt.KeyboardModifier.NoModifier, port.rect().center())
    driver.move(10.0, 60.0, button=middle)
    QTest.mouseRelease(port, middle, Qt.KeyboardModifier.NoModifier, port.rect().center())
    assert driver.view.sheet.camera.center != before.center
    assert shown.is_on


def changed(driver: Driver, how: str) -> None:
    """Change the part, or begin to, in one of the ways that stand beside the sheet."""
    if how == "tool":
        driver.tool("outline")
        assert driver.board.tool.name == "outline"
    elif how == "open":
        driver.board.load(roof())
    elif how == "step":
        driver.board.bench.do("Name", lambda part: part.having(name="Other"))
    else:
        model = driver.window.ledger.model
        row = model.row_of("b4")
        assert row is not None
        assert model.try_text(model.index(row, 2), "21") == ""


def test_a_change_of_the_part_ends_it_cleanly(driver: Driver) -> None:
    shown = opened(driver)
    for how in ("step", "ledger", "tool", "open"):
        if not shown.is_on:
            driver.act("view.construction")
        driver.key(KEY.Key_Space)
        changed(driver, how)
        driver.settle()
        assert not shown.is_on, how
        assert not shown.bar.isVisible()
        assert all(layer.isVisible() for layer in driver.view.layers)
        if how in ("step", "ledger"):
            assert "construction" in driver.board.bench.message.text


def test_what_cannot_be_constructed_is_told_in_one_sentence(
    driver: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(part: Part) -> None:
        raise GeometryError("bindings", "b4, b9 cannot all hold, so there is nothing to construct",
                            "change or drop one of them")

    monkeypatch.setattr(constructing, "construction_order", refused)
    driver.board.load(roof())
    driver.act("view.construction")
    assert driver.board.bench.message.text == (
        "Bindings: b4, b9 cannot all hold, so there is nothing to construct; "
        "change or drop one of them")
    assert driver.board.bench.message.severity == "error"
    assert not found(driver).is_on


def test_an_empty_part_has_no_construction(driver: Driver) -> None:
    driver.new()
    assert not driver.window.commands.made["view.construction"].isEnabled()


def test_the_start_page_rests_it_and_the_menu_leaves_it(driver: Driver) -> None:
    shown = opened(driver)
    driver.key(KEY.Key_Space)
    driver.act("file.start")
    driver.settle(60)
    assert not shown._timer.isActive()
    driver.window.start.back_asked.emit()
    driver.settle()
    assert shown.is_on
    driver.act("view.construction")
    assert not shown.is_on


def test_everything_of_the_bar_fits_and_has_a_name(driver: Driver) -> None:
    shown = roofed(driver)
    shown._show_hand(True)
    bar = shown.bar
    for size in ((1920, 1080), (1366, 768), (800, 600)):
        driver.window.resize(*size)
        shown.go_to(5)
        driver.settle()
        for pieces in ((*bar.playing, bar.leave), (*bar.trying, bar.leave)):
            bar.show_try(pieces[0] is bar.compare)
            driver.settle()
            for piece in pieces:
                assert piece.isVisible()
                assert bar.rect().contains(piece.geometry())
                assert piece.width() >= piece.minimumSizeHint().width()
            for one, other in pairwise(pieces):
                assert not one.geometry().intersects(other.geometry())
            assert bar.room.verticalScrollBar().maximum() == 0
            assert driver.window.width() == size[0]
            assert driver.view.viewport().height() >= 150
            nameless = [node for node in tree(bar) if node.role in WORKED and not node.name]
            assert nameless == []


def test_a_tool_stands_at_its_stroke(driver: Driver) -> None:
    shown = roofed(driver)
    shown._show_hand(True)
    play = shown.play
    assert play is not None
    bare: QImage | None = None
    for name in ("3D", "5C", "ax"):
        index = next(k for k, beat in enumerate(play.telling.beats) if beat.name == name)
        play.at = play.telling.begin_of_beat(index) + 0.9 * play.telling.beats[index].lasts
        shown._follow()
        image = picture(driver)
        assert image != bare
        bare = image
        # edges of compass, protractor and straightedge; nothing else has that colour
        assert inked(image, driver.window.look.glyph) > 5, name
    shown.go_to(1)
    assert inked(picture(driver), driver.window.look.glyph) == 0


def test_within_a_stroke_only_what_moves_is_painted(driver: Driver) -> None:
    shown = roofed(driver)
    shown._show_hand(True)
    driver.settle(50)
    play, port = shown.play, driver.view.viewport()
    assert play is not None
    painted = Painted(port)
    for name in ("3C", "3D", "ax", "5C"):
        index = next(k for k, beat in enumerate(play.telling.beats) if beat.name == name)
        for share in (0.1, 0.13, 0.42, 0.45, 0.5, 0.7, 1.0):
            play.at = play.telling.begin_of_beat(index) + share * play.telling.beats[index].lasts
            shown._follow()
            driver.app.processEvents()
            seen, areas = on_screen(driver.view), list(painted.areas)
            port.repaint()
            # a dash that the clip cuts may end some pixels off; a line that is missing is longer
            off = np.abs(seen - on_screen(driver.view))
            assert (off > 8).sum() <= 24, (name, share)
            painted.areas[:] = areas
    whole = port.width() * port.height()
    assert sum(area < 0.3 * whole for area in painted.areas) > 0.4 * len(painted.areas)


# A step drawn by hand.


def trying(driver: Driver, number: int) -> Constructing:
    """A step of the small gable is to be drawn by hand."""
    shown = roofed(driver)
    shown.go_to(number)
    QTest.mouseClick(shown.bar.draw, LEFT)
    driver.settle()
    assert shown.trying is not None
    return shown


def line_by_numbers(driver: Driver, a: tuple[float, float], b: tuple[float, float]) -> None:
    """Draw one line with the line tool from place to place."""
    driver.tool("line")
    driver.click(*a)
    driver.click(*b)
    driver.key(KEY.Key_Escape)


def test_a_step_is_drawn_with_the_tools_and_compared(driver: Driver) -> None:
    shown = trying(driver, 5)
    play, bar = shown.play, shown.bar
    assert play is not None
    assert set(driver.board.part.curves) == {"e1", "ax"}
    assert bar.head.text() == "Step 5 of 8, drawn by you"
    assert bar.compare.isVisible()
    assert not bar.play.isVisible()
    assert all(layer.isVisible() for layer in driver.view.layers)
    QTest.mouseClick(bar.compare, LEFT)
    assert "e2: no line is drawn for it yet." in bar.words.text()
    line_by_numbers(driver, (20.0, 0.0), (0.0, 14.0))
    QTest.mouseClick(bar.compare, LEFT)
    assert "length of e2 is 24." in bar.words.text()  # about the root of 400 + 196
    assert "where the paper says 25" in bar.words.text()
    driver.act("edit.undo")
    driver.tool("line")
    driver.click(20.0, 0.0)
    driver.view.setFocus()
    driver.keys("25\t")  # the paper's length, and the direction to the ridge
    driver.settle()
    driver.click(0.0, 15.0)
    QTest.mouseClick(bar.compare, LEFT)
    assert "e2: lies as it should." in bar.words.text()
    QTest.mouseClick(bar.go_on, LEFT)
    driver.settle()
    assert driver.board.part.name == "Roof"
    assert (play.number, play.is_drawn) == (5, True)  # it need not be drawn once more
    assert bar.play.isVisible()
    assert driver.view.hasFocus()


def test_the_answer_is_seen_only_when_it_is_asked_for(driver: Driver) -> None:
    shown = trying(driver, 6)
    assert shown.trying is not None
    driver.view.stand_still()
    driver.settle(300)
    before = picture(driver)
    QTest.mouseClick(shown.bar.answer, LEFT)
    assert shown.bar.answer.isChecked()
    assert picture(driver) != before
    QTest.mouseClick(shown.bar.answer, LEFT)
    assert picture(driver) == before


def test_a_try_touches_neither_the_part_nor_its_file(driver: Driver) -> None:
    shown = roofed(driver)
    part, history = driver.board.part, driver.board.bench.history
    driver.view.zoom(3.0)
    center = driver.view.sheet.camera.center
    shown.go_to(5)
    QTest.mouseClick(shown.bar.draw, LEFT)
    driver.settle()
    assert driver.view.sheet.camera.center == center
    driver.view.fit()
    line_by_numbers(driver, (20.0, 0.0), (0.0, 9.0))
    assert driver.board.bench.is_changed
    for name in ("file.save", "file.save_as", "file.export_cut", "file.start"):
        assert not driver.window.commands.made[name].isEnabled()
    driver.window.keeper.keep()
    assert driver.window.keeper.key is None  # nothing of a try is kept
    QTest.mouseClick(shown.bar.leave, LEFT)
    driver.settle()
    assert driver.board.part is part
    assert driver.board.bench.history is history
    assert not driver.board.bench.is_changed
    assert driver.window.commands.made["file.save_as"].isEnabled()
    assert not shown.is_on
    assert driver.board.bench.message.text == ""


def test_unsaved_work_is_kept_and_asked_about_beside_a_try(driver: Driver) -> None:
    driver.board.load(roof())
    driver.board.bench.do("Name", lambda part: part.having(name="Gable"))
    shown = Constructing(driver.window)
    shown._begun(driver.board.part, roof_steps())
    shown.go_to(5)
    QTest.mouseClick(shown.bar.draw, LEFT)
    driver.settle()
    key = driver.window.keeper.key
    assert key is not None
    line_by_numbers(driver, (20.0, 0.0), (0.0, 9.0))
    driver.window.keeper.keep()
    assert driver.window.keeper.key == key
    kept = [path.read_text(encoding="utf-8")
            for path in driver.window.keeper.copies.folder.iterdir()]
    assert any('"Gable"' in text for text in kept)
    assert not any("by hand" in text for text in kept)
    driver.answers.unsaved = "cancel"
    assert not driver.window.filing.open_demo("latch-plate.profile.json")
    assert driver.board.part.name == "Gable"
    driver.settle()
    assert not shown.is_on
    assert not shown.bar.isVisible()


def test_the_menu_goes_from_a_try_back_to_the_play(driver: Driver) -> None:
    shown = opened(driver)
    driver.key(KEY.Key_Right)
    still(shown)
    QTest.mouseClick(shown.bar.draw, LEFT)
    driver.act("view.construction")
    assert shown.trying is None
    assert shown.is_on
    assert driver.board.part.name == "Roof"
