"""What a person reads first: nothing is cut off, menus follow the work, words fit their columns."""

from __future__ import annotations

from itertools import pairwise

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMenu

from sketcher.desk.menus import MENUS, TITLES
from sketcher.desk.panes.demo_cards import demos
from tests.gui.driver import Driver, wait_until
from tests.seldom import some_of

DEMOS = tuple(demo.file for demo in demos())


@pytest.mark.parametrize("name", some_of(
    DEMOS, lambda name: name.startswith(("shift-", "gate-", "shelf-"))))
def test_the_fitted_sheet_holds_every_dimension(driver: Driver, name: str) -> None:
    driver.window.filing.open_demo(name)
    sheet = driver.view.sheet
    for pause in (20, 600):  # at once, and when all was looked at again at rest
        driver.settle(pause)
        assert len(sheet.dims()) > 5
        for dim in sheet.dims():
            x, y = sheet.camera.to_screen(dim.anchor)
            assert sheet.frame.adjusted(8, 8, -8, -8).contains(x, y), (dim.binding, dim.text)


def test_every_action_stands_in_its_menu_once(driver: Driver) -> None:
    menus = {menu.title(): menu for menu in driver.window.menuBar().findChildren(QMenu)}
    commands = driver.window.commands
    for group, title in TITLES.items():
        wanted = [n for n, a in commands.actions.items() if a.group == group]
        if wanted and group != "help":
            shown = [a.objectName() for a in menus[title].actions() if not a.isSeparator()]
            assert set(wanted) <= set(shown)
            assert len(shown) == len(set(shown))
            assert "file.quit" not in shown[:-1]  # looked for at the very end


def test_menus_name_only_what_there_is(driver: Driver) -> None:
    named = {name for names in MENUS.values() for name in names if name != "-"}
    assert named <= set(driver.window.commands.actions)


def test_no_menu_begins_or_ends_with_a_stroke(driver: Driver) -> None:
    for menu in driver.window.menuBar().findChildren(QMenu):
        strokes = [action.isSeparator() for action in menu.actions()]
        assert not strokes[0]
        assert not strokes[-1]
        assert not any(a and b for a, b in pairwise(strokes))


def test_an_empty_sheet_is_called_empty(driver: Driver) -> None:
    driver.new()
    assert driver.window.state.text().startswith("empty")


def test_advice_reads_as_lengths(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    pane = driver.window.inspection
    pane.box.setCurrentWidget(pane.tables["cutting"])
    driver.settle(20)
    wait_until(lambda: pane.tables["cutting"].rows.rowCount() > 0)
    entries = pane.tables["cutting"].rows.section.entries
    limits = {entry.cells[2].text for entry in entries if entry.cells[1].text == "b20"}
    assert limits == {"0.1"}  # half of what its limits are apart, not its binary tail
    remarks = driver.board.bench.derived.inspection().remarks
    assert [entry.cells[1].text for entry in entries[-len(remarks):]] == [
        remark.text for remark in remarks]  # below the advice, and of no place
    for entry in entries[:-len(remarks)]:
        assert entry.cells[3].text.startswith(("at least ", "at most "))
        assert entry.ids  # each leads to its place


def test_no_section_needs_more_than_its_room_to_be_read(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    pane = driver.window.inspection
    pane.box.setCurrentWidget(pane.tables["cutting"])
    driver.settle(20)
    for name in ("findings", "cutting", "symmetry", "freedoms", "profile"):
        pane.box.setCurrentWidget(pane.tables[name])
        driver.settle(5)
        table = pane.tables[name]
        assert table.horizontalHeader().length() <= table.viewport().width() + 1, name


@pytest.mark.parametrize("look", ["dye", "paper"])
def test_tick_boxes_are_seen(driver: Driver, look: str) -> None:
    from sketcher.desk.looks import LOOKS
    from tests.contrast import contrast

    ink = "#8a70d4"  # the colour in resources/icons/tick.svg
    from sketcher.shipped import shipped

    assert ink in shipped("resources", "icons/tick.svg").read_text("utf-8")
    assert contrast(ink, LOOKS[look].field) >= 3.0  # WCAG 2.1, 1.4.11 non-text contrast
    assert contrast(LOOKS[look].edge, LOOKS[look].field) >= 3.0


def test_a_rounded_value_in_place_of_a_tangency_is_named_and_enlarged(driver: Driver) -> None:
    """The paper prints 51.3 where the tangent place is at 51.298: the eye sees no corner."""
    from sketcher.part.edits.add_binding import add_binding
    from sketcher.part.edits.remove_binding import remove_binding

    driver.window.filing.open_demo("gate-strap.profile.json")
    board = driver.board
    board.bench.do("Drop", lambda part: remove_binding(part, "b32").part)
    board.bench.do("Type", lambda part: add_binding(part, "rise", ("p1", "w3"), "51.3").part)
    driver.settle(20)
    pane = driver.window.inspection
    texts = [entry.cells[1].text for entry in pane.tables["findings"].rows.section.entries]
    assert [text.split(" look")[0] for text in texts] == ["a5 and e5", "a5' and e5'"]
    pane.asked.emit(pane.tables["findings"].rows.entry(0))
    driver.settle(5)
    loupe = driver.view.loupe.loupe
    assert loupe is not None
    assert loupe.across > 1000  # the break is 0.0127 degrees
    tangency = next(row for row in board.typing.rows() if row.name == "tangency")
    assert tangency.text.endswith("e-07")  # 8 (1 - cos 0.0127 deg), below the decimals shown


def test_a_narrow_window_keeps_every_drawing_tool_in_reach(driver: Driver) -> None:
    """1920 x 1080 pixels at 200 % are 960 x 540: words go, buttons stay."""
    driver.new()  # over the start page there are no tools
    tray = driver.window.tray
    styles = Qt.ToolButtonStyle
    words, only = styles.ToolButtonTextUnderIcon, styles.ToolButtonIconOnly
    for width, style in ((1366, words), (960, only), (1366, words)):
        driver.window.resize(width, 540)
        driver.settle(20)
        assert driver.window.width() == width
        assert tray.toolButtonStyle() == style
        for action in tray.actions():
            button = tray.widgetForAction(action)
            assert button.isVisible()
            assert button.geometry().right() <= tray.width(), action.iconText()
