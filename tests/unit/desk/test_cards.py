"""Words beside the pointer: each is read whole, whatever else is said there."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication

from sketcher.desk.scene.layer import card_place

SHEET = QRectF(0.0, 0.0, 600.0, 400.0)
SAID = ("end w4", "this place is at an end", "on e3")


@pytest.mark.parametrize("at", [
    (100.0, 100.0), (590.0, 100.0), (300.0, 398.0), (598.0, 399.0), (2.0, 2.0),
])
@pytest.mark.parametrize("step", [(0.0, 0.0), (3.0, 5.0), (-20.0, 9.0), (0.0, -9.0)])
def test_cards_do_not_cover_each_other_and_stay_on_the_sheet(
    qapp: QApplication, at: tuple[float, float], step: tuple[float, float]
) -> None:
    taken: list[QRectF] = []
    for number, text in enumerate(SAID):
        corner = QPointF(at[0] + number * step[0], at[1] + number * step[1])
        taken.append(card_place(corner, text, QFont(), SHEET, taken))
    for number, place in enumerate(taken):
        assert SHEET.contains(place)
        assert not any(place.intersects(other) for other in taken[:number])


def test_a_lone_card_stands_where_it_is_wanted(qapp: QApplication) -> None:
    place = card_place(QPointF(100.0, 100.0), "end w4", QFont(), SHEET)
    assert (place.left(), place.bottom()) == (100.0, 100.0)
