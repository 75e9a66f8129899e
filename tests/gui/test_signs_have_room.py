"""No sign of a binding covers the words of a dimension or another sign, whatever is selected.

Rectangles are those that are painted: words by the metrics of the font, signs by their size.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, product
from math import degrees
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPolygonF, QTransform

from sketcher.board.dimensions.dimension_lines import MARKS
from sketcher.board.dimensions.sign_room import SIGN
from sketcher.desk.scene.dims_layer import room_of, text_font
from sketcher.solve import solve
from tests import demo_parts
from tests.gui.driver import Driver
from tests.seldom import some_of


def words(driver: Driver) -> dict[str, QPolygonF]:
    sheet, found = driver.view.sheet, {}
    for dim in sheet.dims():
        wide, high = room_of(text_font(sheet).key(), dim.text + MARKS.get(dim.state, ""))
        x, y = sheet.camera.to_screen(dim.anchor)
        turned = QTransform().translate(x, y).rotate(-degrees(dim.turn))
        found[dim.binding] = turned.map(QPolygonF(QRectF(-wide / 2, -high / 2, wide, high)))
    return found


def signs(driver: Driver) -> list[QPolygonF]:
    sheet, found = driver.view.sheet, []
    for sign in sheet.signs():
        at = QPointF(*sheet.camera.to_screen(sign.place(sheet.px)))
        found.append(QPolygonF(QRectF(at.x() - SIGN / 2, at.y() - SIGN / 2, SIGN, SIGN)))
    return found


def covered(driver: Driver) -> int:
    """Pairs that lie over each other: a sign and words, or two signs."""
    placed, written = ([(shape, shape.boundingRect()) for shape in shapes]
                       for shapes in (signs(driver), words(driver).values()))
    pairs = (*combinations(placed, 2), *product(placed, written))
    return sum(a_box.intersects(b_box) and a.intersects(b)  # boxes first: most are far apart
               for (a, a_box), (b, b_box) in pairs)


@pytest.mark.parametrize(("path", "size"), some_of(
    [(path, size) for path in demo_parts.ALL for size in (13, 20)],
    lambda case: case[1] == 20 or case[0].stem.startswith("shift-")),
    ids=lambda value: getattr(value, "stem", value))
def test_no_sign_of_a_selected_curve_covers_anything(
    driver: Driver, path: Path, size: int
) -> None:
    driver.window.resize(1366, 768)
    driver.board.bench.set_setting("text_size", size)
    driver.window.begin(path)
    driver.settle(300)
    shown = 0
    for name in driver.board.part.curves:
        driver.board.bench.select((name,))
        shown += len(signs(driver))
        assert covered(driver) == 0, name
    assert shown >= len(driver.board.part.curves)
    driver.board.bench.set_setting("show_bindings", True)
    assert covered(driver) == 0
    driver.board.bench.set_setting("show_bindings", False)


def test_a_sign_is_pressed_where_it_is_painted(driver: Driver) -> None:
    driver.window.resize(1366, 768)
    driver.window.begin(demo_parts.FOLDER / "latch-plate.profile.json")
    driver.settle(300)
    board, pressed = driver.board, 0
    for curve in list(board.part.curves)[:12]:
        board.bench.select((curve,))
        for sign in driver.view.sheet.signs():
            slot = tuple(14.0 * x + (17.0 * sign.slot) * x for x in sign.away)
            if sign.off is None or max(abs(a - b) for a, b in zip(sign.off, slot,
                                                                  strict=True)) < 20.0:
                continue  # only those that have been put elsewhere
            driver.click(*sign.place(driver.view.sheet.px))
            assert board.bench.selection.ids == (sign.binding,)
            board.bench.select((curve,))
            pressed += 1
    assert pressed


def test_a_sign_goes_along_with_a_drag(driver: Driver) -> None:
    """It keeps its distance from what it is about, and does not jump about."""
    driver.window.resize(1366, 768)
    driver.window.begin(demo_parts.FOLDER / "latch-plate.profile.json")
    driver.settle(300)
    bench = driver.board.bench
    bench.select((next(iter(bench.part.curves)),))
    before = driver.view.sheet.signs()
    assert before
    moved = {name: (x + 3.0, y) for name, (x, y) in bench.part.points.items()}
    bench.gesture.shift(replace(solve(bench.part), part=bench.part.having(points=moved)))
    during = driver.view.sheet.signs()
    assert [sign.off for sign in during] == [sign.off for sign in before]
    assert during[0].at == pytest.approx((before[0].at[0] + 3.0, before[0].at[1]))
    bench.gesture.restore()
