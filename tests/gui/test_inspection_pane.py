"""What the inspection tells by itself: thin webs, findings behind a closed section, one half."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from sketcher.desk.panes.inspection_pane import CUTTING, FINDINGS, TITLES
from sketcher.geometry.curves import Circle
from sketcher.geometry.evaluate import point_at
from sketcher.part.edits.add_binding import add_binding
from sketcher.part.value import Binding, Part, frozen
from tests.gui.driver import LEFT, Driver, wait_until
from tests.plates import plate, rectangle

JOINTS = list(TITLES).index("joints")


def thin(web: float = 0.291) -> Part:
    """A plate of 100 by 40 on which nothing is loose, with two holes that nearly touch."""
    points, lines = rectangle(100.0, 40.0)
    points = {**points, "c": (30.0, 20.0), "d": (50.0 + web, 20.0)}
    return plate(
        points, {**lines, "h": ("c", 10.0), "k": ("d", 10.0)},
        *(Binding("fixed", (name,)) for name in points),
        Binding("radius", ("h",), "10"), Binding("radius", ("k",), "10"), thickness=6.0)


def reflected() -> Part:
    """A plate with an axis in its middle, a small hole drawn on one side of it."""
    points, lines = rectangle(40.0, 40.0)
    points = {**points, "c": (20.0, 20.0), "a": (0.0, -5.0), "b": (0.0, 45.0)}
    lines = {name: row for name, row in lines.items() if name != "pe4"}
    return plate(points, {**lines, "h": ("c", 1.0), "ax": ("a", "b")},
                 *(Binding("fixed", (name,)) for name in points), Binding("radius", ("h",), "1"),
                 roles={"ax": "axis"}, axis="ax")


def shown(driver: Driver, part: Part) -> None:
    driver.new()
    driver.board.load(part)
    driver.settle(5)
    pane = driver.window.inspection
    wait_until(lambda: "\N{HORIZONTAL ELLIPSIS}" not in pane.tabs.words(CUTTING))


def rows(driver: Driver, name: str) -> list[tuple[str, ...]]:
    table = driver.window.inspection.tables[name]
    return [tuple(cell.text for cell in table.rows.entry(row).cells)
            for row in range(table.rows.rowCount())]


def press(driver: Driver, name: str, row: int) -> None:
    """Press a row where it stands."""
    table = driver.window.inspection.tables[name]
    index = table.order.mapFromSource(table.rows.index(row, 1))
    table.scrollTo(index)
    QTest.mouseClick(table.viewport(), LEFT, pos=table.visualRect(index).center())
    driver.settle(5)


def test_a_hairline_web_stands_out_of_a_sound_part_by_itself(driver: Driver) -> None:
    shown(driver, thin())
    pane = driver.window.inspection
    assert pane.verdict.text() == "Sound"
    assert rows(driver, "findings")[0] == ("Cutting", "1 place to look at: least web 0.291 mm")
    assert pane.tables["findings"].rows.entry(0).bad
    assert pane.tabs.tone(CUTTING) == "bad"
    assert pane.tabs.words(CUTTING).split()[-1] == "1"  # a place, though laser and plasma mind it
    assert len(rows(driver, "cutting")) == 2
    assert not pane.worst.isVisible()  # it is seen
    pane.refresh()
    assert pane.tabs.tone(FINDINGS) == "plain"  # there are none
    pane.box.setCurrentIndex(JOINTS)
    driver.settle(5)
    assert pane.worst.isVisible()
    assert "0.291" in pane.worst.words
    QTest.mouseClick(pane.worst, LEFT)
    assert pane.box.currentIndex() == CUTTING
    driver.board.load(thin(web=12.0))
    wait_until(lambda: rows(driver, "findings")[:1] == [("Cutting", "nothing to mind")])
    assert not pane.tables["findings"].rows.entry(0).bad
    assert pane.tabs.tone(CUTTING) == "plain"
    pane.box.setCurrentIndex(JOINTS)
    assert not pane.worst.isVisible()


def test_findings_behind_a_closed_section_are_seen_and_opened(driver: Driver) -> None:
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(20)
    pane = driver.window.inspection
    pane.box.setCurrentIndex(JOINTS)
    driver.settle(5)
    assert not pane.worst.isVisible()
    assert pane.tabs.tone(FINDINGS) == "plain"
    driver.board.bench.do(
        "Bind", lambda part: add_binding(part, "distance", ("p1", "p4"), "80"))
    wait_until(lambda: pane.worst.isVisible())
    assert pane.tabs.tone(FINDINGS) == "bad"
    first = rows(driver, "findings")[0][1]
    assert pane.worst.words == first == pane.worst.toolTip()
    assert pane.worst.text() != first  # cut to one line
    assert pane.worst.height() < 2 * pane.worst.fontMetrics().height()
    QTest.mouseClick(pane.worst, LEFT)
    driver.settle(5)
    assert pane.box.currentIndex() == FINDINGS
    assert not pane.worst.isVisible()


def test_all_that_was_measured_is_in_view_in_a_small_window(driver: Driver) -> None:
    driver.window.resize(1366, 768)
    pane = driver.window.inspection
    for demo in ("gate-strap", "roof-gusset", "pump-flange", "shelf-bracket"):
        driver.window.filing.open_demo(f"{demo}.profile.json")
        driver.settle(20)
        wait_until(lambda: "\N{HORIZONTAL ELLIPSIS}" not in pane.tabs.words(CUTTING))
        driver.settle(20)
        table = pane.tables["findings"]
        last = table.visualRect(table.order.index(table.order.rowCount() - 1, 1))
        assert rows(driver, "findings")[-1][0] == "0 freedoms"
        assert last.bottom() <= table.viewport().height(), demo
        assert not table.verticalScrollBar().isVisible(), demo
        assert any(row[0] == "Mass" and "(" in row[1] for row in rows(driver, "findings"))


def test_images_share_a_row_that_lights_both_of_them(driver: Driver) -> None:
    shown(driver, reflected())
    small = [row for row in rows(driver, "cutting") if row[0] == "hole size, laser"]
    assert [row[1] for row in small] == ["h, h'"] or [row[1] for row in small] == ["h and h'"]
    place = rows(driver, "cutting").index(small[0])
    driver.window.inspection.box.setCurrentIndex(CUTTING)
    driver.settle(5)
    press(driver, "cutting", place)
    assert set(driver.view.sheet.lit) == {"h", "h'"}
    assert driver.board.bench.selection.ids == ("h",)
    assert driver.view.loupe.loupe is None  # one hole and its image are no pair that meets
    x0, _, x1, _ = driver.view.sheet.camera.window
    assert 0.0 < x0 < 20.0 < x1  # the drawn one, near enough to see


def test_an_image_alone_is_lit_where_it_lies(driver: Driver) -> None:
    shown(driver, reflected())
    sheet = driver.view.sheet
    (image,) = sheet.curves_of("h'")
    assert image.center == pytest.approx((-20.0, 20.0))
    assert len(sheet.curves_of("h")) == 2  # a drawn curve goes with its images
    assert sheet.curves_of("nobody'") == []

    def pixels() -> bytes:
        view = driver.view.viewport().grab().toImage()
        x, y = sheet.camera.to_screen((-21.2, 20.0))  # beside the rim of the image
        return bytes(view.pixelColor(round(x), round(y)).name(), "ascii")

    driver.view.light(())
    driver.settle(5)
    before = pixels()
    driver.view.light(("h'",))
    driver.settle(5)
    assert pixels() != before


def test_where_outline_crosses_the_advice_says_that_it_is_silent(driver: Driver) -> None:
    part = thin()
    crossing = part.having(points=frozen({**part.points, "d": (45.0, 20.0)}))
    shown(driver, crossing.having(bindings=frozen({})))
    assert rows(driver, "cutting")[-1][:2] == (
        "no advice", "not judged where the outline crosses or covers itself")
    assert "not judged" in driver.window.inspection.tabs.words(CUTTING)


def test_an_outline_that_is_being_drawn_is_not_told_to_be_open(driver: Driver) -> None:
    driver.new()
    pane = driver.window.inspection
    driver.tool("outline")
    driver.click(0.0, 0.0)
    driver.click(40.0, 0.0)
    driver.click(40.0, 30.0)
    driver.click(0.0, 30.0)
    driver.settle(20)

    def codes() -> set[str]:
        return {row[0] for row in rows(driver, "findings")}

    assert not {"open", "half", "stray"} & codes()
    assert pane.verdict.text() != "Sound"
    driver.view.setFocus()
    QTest.keyClick(driver.view, Qt.Key.Key_Return)  # which ends it
    wait_until(lambda: bool({"open", "half"} & codes()))


def test_a_pressed_place_is_shown_with_what_is_around_and_escape_goes_back(driver: Driver) -> None:
    shown(driver, thin())
    sheet, view = driver.view.sheet, driver.view
    before = sheet.camera
    press(driver, "findings", 0)  # the thin web
    x0, y0, x1, y1 = sheet.camera.window
    assert x0 < 40.1 < x1
    assert y0 < 20.0 < y1
    assert x1 - x0 >= 25.0  # a quarter of the part
    assert x0 <= 20.0 <= x1 - 40.291  # both holes whole
    frame = view.loupe.frame()
    assert view.loupe.loupe is not None
    assert view.loupe.loupe.width == pytest.approx(3.2 * 0.291)  # the web fills a third of it
    assert view.loupe.is_clear
    for center in ((30.0, 20.0), (50.291, 20.0)):  # no part of either hole is under it
        rim = [point_at(Circle(center, 10.0), k / 90) for k in range(90)]
        assert not any(frame.contains(*sheet.camera.to_screen(at)) for at in rim)
    QTest.keyClick(view, Qt.Key.Key_Escape)
    assert sheet.camera is before
    assert view.loupe.loupe is None

    press(driver, "findings", 0)
    led = sheet.camera
    view.zoom(2.0)
    moved = sheet.camera
    QTest.keyClick(view, Qt.Key.Key_Escape)  # whoever has gone on stays there
    assert sheet.camera is moved is not led
