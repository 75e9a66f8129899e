"""Very many dimensions are painted into a picture, a slice at a time."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtGui import QImage

from sketcher.desk import sliced_picture
from sketcher.desk.scene import dims_layer
from sketcher.part.edits.set_value import set_value
from tests.gui.driver import Driver, wait_until
from tests.plates import bound


def seen(driver: Driver) -> np.ndarray:
    image = driver.view.viewport().grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    data = np.frombuffer(image.constBits(), np.uint8)
    return data.reshape(image.height(), image.bytesPerLine()).astype(int)


@pytest.fixture
def crowded(driver: Driver, monkeypatch: pytest.MonkeyPatch) -> Driver:
    driver.new()
    driver.board.load(bound(), None)
    driver.settle()
    monkeypatch.setattr(sliced_picture, "SLICE", 0.0)
    return driver


def test_slices_make_the_same_picture(crowded: Driver, monkeypatch: pytest.MonkeyPatch) -> None:
    layer = next(a for a in crowded.view.layers if isinstance(a, dims_layer.DimsLayer))
    at_once = seen(crowded)
    monkeypatch.setattr(dims_layer, "FEW", 0)
    bare = seen(crowded)
    assert (np.abs(bare - at_once) > 50).sum() > 200  # nothing waits for the picture
    wait_until(lambda: layer.picture.done)
    # What lies over each other is rounded once more on the way through a picture.
    assert np.abs(seen(crowded) - at_once).max() <= 64

    # While the sheet is pulled along, the picture goes with it.
    crowded.view.sheet.camera = crowded.view.sheet.camera.panned(30.0, 0.0)
    along = seen(crowded)
    wait_until(lambda: layer.picture.done)
    there = seen(crowded)
    assert np.abs(along - there)[:, 200:-200].max() <= 64


def test_a_dimension_that_has_changed_is_never_shown_as_it_was(
    crowded: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    layer = next(a for a in crowded.view.layers if isinstance(a, dims_layer.DimsLayer))
    monkeypatch.setattr(dims_layer, "FEW", 0)
    seen(crowded)
    wait_until(lambda: layer.picture.done)
    made = seen(crowded)
    board = crowded.board
    board.bench.do("Value", lambda part: set_value(part, "b6", "41"))
    now = seen(crowded)
    with monkeypatch.context() as bare:
        bare.setattr(sliced_picture.SlicedPicture, "paint", lambda *given: None)
        assert np.array_equal(now, seen(crowded))
    wait_until(lambda: layer.picture.done)
    assert (np.abs(seen(crowded) - now) > 50).sum() > 200
    assert (np.abs(seen(crowded) - made) > 50).sum() > 20
