"""No word is cut and no control covers another, wherever one goes in the window; and that it tells.

The whole walk, with every tool and pictures, is ``python -m tests.gui.walk_looks``.
"""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QToolButton, QWidget

from tests.gui.cut_words import cut_words, overlaps
from tests.gui.driver import Driver
from tests.gui.walk_looks import places
from tests.seldom import some_of

SOME = ("outline", "circle", "slot center line", "dimension", "fillet", "clean up")


OFTEN = {("dye", (960, 540)), ("paper", (1366, 768))}


@pytest.mark.parametrize(("look_name", "size"), [
    *some_of(((look, size) for look in ("dye", "paper")
              for size in ((960, 540), (1366, 768), (1920, 1080))), OFTEN.__contains__)],
    indirect=["look_name"])
def test_nothing_is_cut_or_covered(driver: Driver, size: tuple[int, int]) -> None:
    driver.window.resize(*size)
    found = [f"{name}: {trouble}" for name, shown in places(driver, SOME)
             for trouble in (*cut_words(shown), *overlaps(shown))]
    assert found == []


def test_what_is_cut_or_covered_is_found(qapp, family: str) -> None:
    root = QWidget()
    line = QHBoxLayout(root)
    for piece in (QLabel("fits", root), QPushButton("fits", root)):
        line.addWidget(piece)
    root.resize(400, 100)
    root.show()
    qapp.processEvents()
    assert (list(cut_words(root)), list(overlaps(root))) == ([], [])
    label, button = QLabel("much too long for it", root), QPushButton("Export the report", root)
    tool, wrapped = QToolButton(root), QLabel("one and two and three and four and five", root)
    tool.setText("Tangent circle")
    wrapped.setWordWrap(True)
    for number, piece in enumerate((label, button, tool, wrapped)):
        piece.setGeometry(5 + 45 * number, 60, 40, 16)
        piece.show()
    button.move(tool.pos())
    qapp.processEvents()
    assert len(list(cut_words(root))) == 4
    assert len(list(overlaps(root))) == 1
    root.close()
    root.deleteLater()
    qapp.processEvents()
