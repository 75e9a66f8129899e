"""Every tool has a drawing of its own that takes the look's colour."""

from __future__ import annotations

import hashlib

import pytest
from PySide6.QtGui import QIcon

from sketcher.board.board import all_tools
from sketcher.desk.icons import DEFAULT, icon, picture

pytestmark = pytest.mark.gui


def test_every_tool_has_its_own_drawing() -> None:
    drawings = {name: picture(name) for name in all_tools()}
    assert all(text != picture(DEFAULT) for text in drawings.values())
    assert len({hashlib.sha256(t.encode()).hexdigest() for t in drawings.values()}) == len(drawings)


@pytest.mark.parametrize("name", sorted(all_tools()))
def test_it_is_drawn_in_the_look_s_colour(qapp, name: str) -> None:
    text = picture(name)
    assert "currentColor" in text
    made = icon(name, "#102030", "#ff0000", 2.0)
    for state, red in ((QIcon.State.Off, 0x10), (QIcon.State.On, 0xFF)):
        image = made.pixmap(24, 24, QIcon.Mode.Normal, state).toImage()
        inked = [
            image.pixelColor(x, y) for x in range(image.width()) for y in range(image.height())
            if image.pixelColor(x, y).alpha() > 150
        ]
        assert len(inked) > 20
        assert all(abs(colour.red() - red) <= 3 for colour in inked)
