"""The law of typing in the real window: where digits go, what Tab, Enter and Escape do."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from sketcher.board.places.zero import Zero
from tests.gui.driver import LEFT, Driver
from tests.gui.window_hands import WindowHands

pytestmark = pytest.mark.e2e


@pytest.fixture
def hands(driver: Driver) -> WindowHands:
    driver.new()
    return WindowHands(driver)


def lit(hands: WindowHands) -> list[str]:
    """The rows whose digits wear the mark, by what the window shows."""
    return [cell.digits.row.name for cell in hands.driver.window.readout.places
            if cell.digits.row is not None and cell.digits.property("lit") == "true"]


def tab(hands: WindowHands, back: bool = False) -> None:
    hands.driver.key(Qt.Key.Key_Backtab if back else Qt.Key.Key_Tab)


def values(hands: WindowHands) -> list[tuple[str, str | None]]:
    return sorted((b.kind, b.value) for b in hands.board.part.bindings.values() if b.value)


def test_tab_walks_all_rows_and_never_leaves_the_sheet(hands: WindowHands) -> None:
    hands.tool("line")
    hands.click((0.0, 0.0))
    hands.point((30.0, 12.0))
    view = hands.driver.view
    seen = []
    for _ in range(6):
        seen += lit(hands)
        tab(hands)
        assert hands.driver.target() is view
    assert seen == ["length", "angle", "run", "rise", "x", "y"]
    tab(hands, back=True)
    assert lit(hands) == ["y"]
    tab(hands)
    hands.type("30\t")  # held
    assert lit(hands) == ["angle"]
    hands.type("20\t")  # the place is fixed now
    for _ in range(8):
        tab(hands)
        assert hands.driver.target() is view
    hands.press("enter")
    assert values(hands) == [("angle", "20"), ("distance", "30")]
    assert lit(hands) == ["x"]  # the next line begins in its first row


def test_one_enter_takes_the_stage_and_another_does_no_harm(hands: WindowHands) -> None:
    hands.tool("slot center line")
    hands.click((0.0, 0.0))
    hands.point((50.0, 5.0))
    hands.type("52\t6\n")
    assert lit(hands) == ["angle"]
    hands.press("enter")  # once too often: the path so far stays
    hands.type("26\n")
    assert lit(hands) == ["width"]
    hands.type("8\n")
    assert values(hands) == [("angle", "26"), ("angle", "6"), ("distance", "52"), ("offset", "8")]
    assert hands.board.report.state == "bound"


def test_a_press_takes_what_is_typed_along(hands: WindowHands) -> None:
    hands.tool("line")
    hands.click((0.0, 0.0))
    hands.point((30.0, 12.0))
    hands.type("33")
    hands.click((30.0, 12.0))
    assert ("distance", "33") in values(hands)


@pytest.mark.parametrize(("text", "radius"), [("12,5", 6.25), ("2*3,5", 3.5), ("3½ in", 44.45)])
def test_a_circle_opens_on_its_diameter_in_any_writing(
    hands: WindowHands, text: str, radius: float
) -> None:
    hands.tool("circle")
    hands.click((0.0, 0.0))
    assert lit(hands) == ["diameter"]
    for letter in text:  # a key event has the sign as text; there is no key code for it
        if letter.isascii():
            hands.type(letter)
        else:
            assert hands.board.typing.type_text(letter)
    hands.press("enter")
    (hole,) = hands.board.part.curves.values()
    assert hole.radius == pytest.approx(radius, abs=1e-9)
    assert ("diameter", text) in values(hands)


def test_a_second_press_on_the_center_makes_no_circle(hands: WindowHands) -> None:
    hands.tool("circle")
    hands.click((0.0, 0.0), (0.0, 0.0))
    assert not hands.board.part.curves
    assert "needs a size" in hands.board.bench.message.text
    hands.type("8")
    hands.press("escape")  # the text
    hands.type("8\t")
    hands.press("escape")  # the held value: the center stays
    assert hands.board.tool.is_begun()
    hands.press("escape")  # the center
    assert not hands.board.tool.is_begun()
    assert hands.board.tool.name == "circle"
    hands.press("escape")
    assert hands.board.tool.name == "pick"


def layout_of(hands: WindowHands) -> tuple[object, ...]:
    """Where sheet and readout are, which row has which place, and how big its digits are."""
    window = hands.driver.window
    hands.driver.settle()
    cells = tuple((QRect(cell.geometry()), QRect(cell.digits.geometry()),
                   cell.digits.font().pointSizeF()) for cell in window.readout.places)
    return window.view.geometry(), window.readout.geometry(), cells


def test_nothing_moves_or_changes_size_while_somebody_types(hands: WindowHands) -> None:
    before = layout_of(hands)
    hands.tool("line")
    first = layout_of(hands)
    assert first[:2] == before[:2]
    places: dict[str, int] = {}

    def same() -> None:
        assert layout_of(hands) == first
        for place, cell in enumerate(hands.driver.window.readout.places):
            if cell.digits.row is not None:
                assert places.setdefault(cell.digits.row.name, place) == place

    hands.point((5.0, 5.0))
    same()
    for keys in ("1", "2*(", "\t", "\x1b", "7\t", "8\n", "45", "\t", "30+", "\n", "\x1b", "30\n"):
        for key in keys:
            hands.press("escape") if key == "\x1b" else hands.type(key)
            same()
    assert len(hands.board.part.curves) == 1
    for tool in ("outline", "circle", "trace", "dimension", "pick"):  # from tool to tool, too
        hands.tool(tool) if tool != "pick" else hands.press("escape")
        assert layout_of(hands)[:2] == first[:2]


def test_a_held_row_has_a_key_that_lets_it_go(hands: WindowHands) -> None:
    hands.tool("line")
    hands.click((0.0, 0.0))
    hands.point((30.0, 12.0))
    hands.type("33\t")
    cell = hands.driver.window.readout.places[0]
    assert cell.free.isVisible()
    assert "Length" in cell.free.toolTip()
    QTest.mouseClick(cell.free, LEFT)
    assert not hands.board.tool.held
    assert not cell.free.isVisible()
    assert hands.driver.target() is hands.driver.view


def test_x_and_y_tell_what_they_count_from(hands: WindowHands) -> None:
    hands.tool("line")
    hands.click((10.0, 5.0), (40.0, 20.0))
    hands.board.bench.set_zero(Zero((40.0, 20.0), "p2"))
    hands.point((60.0, 30.0))
    cells = {cell.digits.row.name: cell for cell in hands.driver.window.readout.places
             if cell.digits.row is not None}
    assert cells["x"].label.text() == "X from p2"
    assert cells["y"].label.text() == "Y from p2"
    assert cells["y"].digits.accessibleName().startswith("Y from p2")


def test_the_way_on_is_offered_in_the_readout(hands: WindowHands) -> None:
    hands.tool("outline")
    ways = hands.driver.window.readout.ways
    hands.click((0.0, 0.0))
    assert [(key.text(), key.isEnabled(), key.isChecked()) for key in ways.keys[:3]] == [
        ("Line", True, True), ("Tangent arc", False, False), ("Free arc", True, False)]
    hands.click((30.0, 0.0))
    hands.press("space")
    assert hands.board.tool.way == "tangent arc"
    assert lit(hands) == ["radius"]
    QTest.mouseClick(ways.keys[2], LEFT)
    assert hands.board.tool.way == "free arc"
    assert ways.keys[2].isChecked()
    assert hands.driver.target() is hands.driver.view
    # Space still pans, and then changes nothing.
    QTest.keyPress(hands.driver.view, Qt.Key.Key_Space)
    hands.driver.drag((0.0, 0.0), (5.0, 5.0))
    QTest.keyRelease(hands.driver.view, Qt.Key.Key_Space)
    assert hands.board.tool.way == "free arc"
    hands.tool("line")
    assert not ways.isVisible()


def test_every_prompt_tells_where_digits_go(hands: WindowHands) -> None:
    hands.tool("circle")
    assert hands.driver.window.prompt.text().endswith("Digits: X.")
    hands.click((0.0, 0.0))
    assert hands.driver.window.prompt.text().endswith("Digits: Diameter.")
    tab(hands)
    assert hands.driver.window.prompt.text().endswith("Digits: Radius.")


def test_a_key_held_down_to_empty_a_value_takes_nothing_else_back(hands: WindowHands) -> None:
    hands.tool("rectangle")
    hands.click((0.0, 0.0))
    hands.type("12")
    view, press = hands.driver.view, QKeyEvent.Type.KeyPress
    for number in range(6):
        QApplication.sendEvent(view, QKeyEvent(press, Qt.Key.Key_Backspace,
                                               Qt.KeyboardModifier.NoModifier, "", number > 0))
    assert not hands.board.typing.is_open
    assert hands.board.tool.asks == 1  # the first corner stays
    hands.press("backspace")
    assert hands.board.tool.asks == 0
