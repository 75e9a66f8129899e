"""The words of a selected dimension are read: nothing but their own two colours is painted there.

That the two stand out by 4.5 to 1 (WCAG 2.2, SC 1.4.3) is in `tests/unit/desk/test_looks.py`.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, hypot, sin
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtGui import QColor, QImage

from sketcher.board.dimensions.dimension_lines import DimLines
from sketcher.desk.looks import PAIRS, TEXT
from sketcher.desk.scene.dims_layer import room_of, text_font
from sketcher.geometry.curves import Line
from tests import demo_parts
from tests.gui.driver import Driver, wait_until
from tests.seldom import some_of


def shown(driver: Driver) -> np.ndarray:
    """The sheet as it is painted, shape (high, wide, 3)."""
    image = driver.view.viewport().grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    data = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.width(), 4)
    return data[:, :, 2::-1].copy()


def foreign(driver: Driver, picture: np.ndarray, dim: DimLines) -> int:
    """Pixels under the words of a dimension that are no mixture of their own two colours."""
    sheet, pixels = driver.view.sheet, under_words(driver, picture, dim)
    ground, ink = (np.array(QColor(name).getRgb()[:3], float)
                   for name in (sheet.look.chosen, sheet.look.chosen_text))
    way = ink - ground
    share = np.clip((pixels - ground) @ way / (way @ way), 0.0, 1.0)
    return int((np.abs(pixels - (ground + share[:, None] * way)).max(axis=1) > 24.0).sum())


def under_words(driver: Driver, picture: np.ndarray, dim: DimLines) -> np.ndarray:
    """The pixels under the words of a dimension, shape (n, 3)."""
    sheet = driver.view.sheet
    wide, high = room_of(text_font(sheet).key(), dim.text)
    x, y = sheet.camera.to_screen(dim.anchor)
    reach = 0.5 * hypot(wide, high)
    top, left = max(0, int(y - reach)), max(0, int(x - reach))
    part = picture[top:int(y + reach) + 1, left:int(x + reach) + 1].astype(float)
    rows, columns = np.mgrid[top:top + part.shape[0], left:left + part.shape[1]]
    dx, dy = columns + 0.5 - x, y - rows - 0.5
    c, s = cos(dim.turn), sin(dim.turn)
    under = ((np.abs(dx * c + dy * s) < 0.5 * wide - 1.5)
             & (np.abs(dy * c - dx * s) < 0.5 * high - 1.5))
    assert under.sum() > 20
    return part[under]


def open_at_rest(driver: Driver, path: Path, look: str) -> None:
    driver.window.resize(1366, 768)
    driver.window.host.set_look(look)
    driver.window.begin(path)
    quiet = 0
    while quiet < 3:
        dims = driver.view.sheet.dims()
        driver.settle(60)
        wait_until(lambda: driver.board.bench.derived._dimensions._rested)
        quiet = quiet + 1 if driver.view.sheet.dims() is dims else 0


def test_the_words_of_what_is_selected_stand_out() -> None:
    assert ("chosen_text", "chosen", TEXT) in PAIRS
    assert TEXT >= 4.5


# Where lines and words stand is the same in both looks; only their colors differ.
@pytest.mark.parametrize(("path", "look"), some_of(
    [(path, look) for path in demo_parts.ALL for look in ("dye", "paper")],
    lambda case: case[1] == "dye" or case[0].stem.startswith("gate-")),
    ids=lambda value: getattr(value, "stem", value))
def test_nothing_strikes_the_words_of_a_selected_dimension(
    driver: Driver, path: Path, look: str
) -> None:
    open_at_rest(driver, path, look)
    bench, counted = driver.board.bench, 0
    for each in (*((name,) for name in bench.part.bindings), tuple(bench.part.bindings)):
        dims = [dim for dim in driver.view.sheet.dims() if dim.binding in each]
        if not dims:
            continue
        bench.select(each)
        driver.settle()
        picture = shown(driver)
        for dim in dims:
            counted += 1
            assert foreign(driver, picture, dim) <= 2, (dim.binding, dim.text)
    assert counted > 10


def test_no_line_of_a_dimension_runs_over_the_words_of_another(
    driver: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    open_at_rest(driver, demo_parts.FOLDER / "gate-strap.profile.json", "dye")
    sheet = driver.view.sheet
    under, *_, over = (dim for dim in sheet.dims() if dim.extensions)
    (x, y), far = under.anchor, 40.0 * sheet.px
    over = replace(over, extensions=(Line((x - far, y - far), (x + far, y + far)),))
    driver.board.bench.select((under.binding, over.binding))
    seen = []
    for dims in ((under,), (under, over)):  # painted in this order
        monkeypatch.setattr(sheet, "dims", lambda dims=dims: dims)
        seen.append(under_words(driver, shown(driver), under))
    assert np.abs(seen[0] - seen[1]).max() <= 1.0
