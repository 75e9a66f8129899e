"""The help: pages for every tool and finding, found by words, opened at what is being done."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QTextDocument
from PySide6.QtTest import QTest

from sketcher.board.action_table import all_actions
from sketcher.board.board import all_tools
from sketcher.desk.help.help_pages import (
    KEYS,
    PAGES,
    beginnings,
    having,
    section_about,
    sections,
    text_of,
)
from sketcher.desk.help.help_window import HelpWindow
from sketcher.inspect.findings import CODES
from sketcher.inspect.joint_value import JOINT_STATES
from sketcher.inspect.rules import rules
from sketcher.shipped import shipped
from tests.gui.driver import LEFT, Driver, wait_until
from tests.help_pictures import PICTURES, WIDTH

FOLDER = shipped("resources", "help")


def test_every_tool_finding_joint_and_rule_has_one_section() -> None:
    wanted = [*(f"tool:{name}" for name in all_tools()), *(f"finding:{code}" for code in CODES),
              *(f"joint:{state}" for state in JOINT_STATES), *(f"rule:{name}" for name in rules())]
    found = [thing for section in sections() for thing in section.about]
    assert sorted(found) == sorted(wanted)


def test_pages_are_whole_and_say_what_the_registries_say() -> None:
    assert {path.stem for path in FOLDER.glob("*.md")} == set(PAGES)
    for page in PAGES:
        text = text_of(page)
        assert "{" not in text
        assert text.count("\n# ") + text.startswith("# ") == 1
        assert len(text.split()) > 80
    for name, tool in all_tools().items():
        section = section_about(f"tool:{name}")
        assert f"**{tool.label}** ({tool.key}): {tool.hint}" in section.text
    for code, meaning in CODES.items():
        assert meaning.mend in section_about(f"finding:{code}").text
    assert len({section.title for section in sections()}) == len(sections())


def test_the_list_of_keys_has_every_key() -> None:
    text = text_of(KEYS)
    for action in all_actions().values():
        assert all(key in text for key in action.keys), action.name


def test_pictures_are_small_and_each_is_shown_and_can_be_made_again() -> None:
    shown = {name for page in PAGES for name in re.findall(r"!\[[^]]+\]\(([^)]+)\)", text_of(page))}
    assert shown == {f"{name}.png" for name in PICTURES} == {p.name for p in FOLDER.glob("*.png")}
    for name in shown:
        path = Path(FOLDER) / name
        assert path.stat().st_size < 60_000
        with Image.open(path) as image:
            assert image.width == WIDTH
            assert len(image.getcolors()) > 8


def test_words_are_found_in_all_pages() -> None:
    assert having("mirror axis")
    assert {s.page for s in having("clean up")} >= {"inspect", "mend"}
    for word in ("gap", "tangent"):
        assert all(word in section.words for section in having(word))
    assert having("tangent nowherefound") == ()
    assert having("") == sections()


def heading(page: HelpWindow) -> str:
    """The heading that stands at the top of what is shown."""
    browser = page.page
    block = browser.cursorForPosition(browser.viewport().rect().topLeft()).block()
    while block.isValid() and not block.blockFormat().headingLevel():
        block = block.next()
    return block.text()


@pytest.fixture
def shown(driver: Driver) -> HelpWindow:
    driver.new()
    return opened(driver)


def opened(driver: Driver) -> HelpWindow:
    """Press F1."""
    driver.key(Qt.Key.Key_F1)
    driver.settle(20)
    made = driver.window.first.helping.shown
    assert made is not None
    return made


@pytest.mark.parametrize("tool", ["pick", "fillet", "trace", "mirror", "dimension", "centers"])
def test_it_opens_at_the_tool_in_hand(driver: Driver, tool: str) -> None:
    driver.new()
    driver.tool(tool)
    page = opened(driver)
    assert page.isVisible()
    assert not page.isModal()
    assert page.section is section_about(f"tool:{tool}")
    assert all_tools()[tool].label in page.page.toPlainText()
    bar = page.page.verticalScrollBar()
    assert heading(page) == page.section.title or bar.value() == bar.maximum()
    page.close()


def test_it_opens_at_the_finding_that_is_chosen(driver: Driver) -> None:
    driver.window.filing.open_demo("latch-plate.profile.json")
    pane = driver.window.inspection
    table = pane.tables["findings"]
    wait_until(lambda: table.rows.rowCount() == 6)
    for row in range(6):
        driver.window.activateWindow()
        table.selectRow(row)
        table.setFocus()
        wait_until(table.hasFocus)
        page = opened(driver)
        code = table.entry_at(table.order.index(row, 0)).cells[0].text
        assert page.section is section_about(f"finding:{code}")
        page.close()


def test_the_search_lists_sections_and_leads_to_them(shown: HelpWindow, driver: Driver) -> None:
    every = shown.contents.count()
    assert every == len(sections())
    shown.search.setFocus()
    QTest.keyClicks(shown.search, "bolt circle")
    driver.settle(5)
    assert 0 < shown.contents.count() < every / 2
    QTest.keyClick(shown.search, Qt.Key.Key_Return)
    driver.settle(5)
    assert "bolt circle" in shown.section.words
    marks = shown.page.extraSelections()
    assert marks
    assert {mark.cursor.selectedText().lower() for mark in marks} == {"bolt", "circle"}
    shown.search.clear()
    driver.settle(5)
    assert shown.contents.count() == every
    shown.close()


def test_pictures_are_found_by_the_page(shown: HelpWindow) -> None:
    image = shown.page.loadResource(QTextDocument.ResourceType.ImageResource.value, "draw.png")
    assert image is not None
    assert "draw.png" in shown.page.toHtml()
    shown.close()


def test_the_tour_opens_the_page_of_its_step(driver: Driver) -> None:
    QTest.mouseClick(driver.window.start.tour, LEFT)
    driver.settle(5)
    QTest.mouseClick(driver.window.first.touring.panel.more, LEFT)
    driver.settle(5)
    page = driver.window.first.helping.shown
    assert page.section is section_about("tool:axis")
    page.close()


@pytest.mark.parametrize("was", ["behind", "minimized", "closed"])
def test_open_already_it_comes_to_the_front(driver: Driver, was: str) -> None:
    QTest.mouseClick(driver.window.start.tour, LEFT)
    driver.settle(5)
    more = driver.window.first.touring.panel.more
    QTest.mouseClick(more, LEFT)
    driver.settle(5)
    page = driver.window.first.helping.shown
    if was == "minimized":
        page.showMinimized()
    elif was == "closed":
        page.close()
    else:
        driver.window.activateWindow()
    driver.settle(20)
    QTest.mouseClick(more, LEFT)
    driver.settle(20)
    assert driver.window.first.helping.shown is page
    assert page.isVisible()
    assert not page.isMinimized()
    assert page.isActiveWindow()
    page.close()


def test_words_that_nothing_has_are_said_and_the_pages_are_listed(
    shown: HelpWindow, driver: Driver
) -> None:
    shown.search.setFocus()
    QTest.keyClicks(shown.search, "tangent <b>zzz</b>")
    driver.settle(5)
    text = shown.page.toPlainText()
    assert "Nothing found for \N{LEFT DOUBLE QUOTATION MARK}tangent <b>zzz</b>" in text
    assert "No page has \N{LEFT DOUBLE QUOTATION MARK}<b>zzz</b>" in text  # the other word is had
    listed = [shown.contents.item(row).text() for row in range(shown.contents.count())]
    assert listed == [section.title for section in beginnings()]
    assert len(listed) == len(PAGES) + 1
    assert all(title in text for title in listed)

    shown.search.setText("tangent")  # what is found takes the place of the old answer
    assert "Nothing found" not in shown.page.toPlainText()
    assert "tangent" in shown.section.words

    shown.search.setText("zzz")
    assert "Try another word" in shown.page.toPlainText()
    shown.search.clear()
    assert "Nothing found" not in shown.page.toPlainText()
    assert shown.contents.count() == len(sections())

    shown.search.setText("kerf mirror")  # each is somewhere, both nowhere
    assert "no section has all of them" in shown.page.toPlainText()
    shown.page.anchorClicked.emit(QUrl(PAGES[3]))
    assert shown.section.page == PAGES[3]
    assert shown.search.text() == ""
    assert shown.section.title in shown.page.toPlainText()


def test_what_is_about_a_thing_comes_before_what_mentions_it() -> None:
    assert "finding:loose" in having("loose")[0].about
    assert having("mouse")[0].title == "Without the mouse"
    assert {section.title for section in having("keyboard")} >= {"Without the mouse"}


def test_a_page_without_the_words_does_not_stay(driver: Driver) -> None:
    page = HelpWindow(driver.window)
    page.show()
    page.activateWindow()
    wait_until(page.isActiveWindow)
    assert page.section is sections()[0]  # nothing was asked for: it begins at the beginning
    page.search.setText("keys")
    assert page.section in having("keys")
    page.page.setFocus()
    QTest.keyClick(page.page, Qt.Key.Key_F, Qt.KeyboardModifier.ControlModifier)
    wait_until(page.search.hasFocus)
    assert page.search.selectedText() == "keys"
    page.close()


def test_layout_is_said_to_be_printed_where_it_is_a_pitch_circle() -> None:
    """See `drafting/features.py`: a layout circle with three holes on it is a center line."""
    said = " ".join((FOLDER / "draw.md").read_text("utf-8").split())
    assert "pitch circle" in said
    about = [said, *(action.hint for name, action in all_actions().items()
                     if name in ("shape.layout", "view.layout"))]
    assert len(about) == 3
    assert not any("never cut or printed" in words for words in about)
