"""The words of the desk keep their weight when a page has been painted."""

from __future__ import annotations

import subprocess
import sys

SCRIPT = """
from PySide6.QtCore import QRect
from PySide6.QtGui import QFont, QGuiApplication, QImage, QPainter
from sketcher.desk.theme import load_font

def ink(size):
    image = QImage(120, 40, QImage.Format.Format_Grayscale8)
    image.fill(0)
    painter = QPainter(image)
    painter.setPen("white")
    painter.setFont(QFont(family, size))
    painter.drawText(QRect(0, 0, 120, 40), 0, "Outline")
    painter.end()
    return bytes(image.constBits())

from sketcher.exchange import pdf
app = QGuiApplication(["probe", "-platform", "offscreen"])
family = load_font()
before = ink(10)
pdf._families()
assert any(before)
assert ink(10) == before
"""


def test_a_page_leaves_the_words_of_the_desk_as_they_were() -> None:
    done = subprocess.run([sys.executable, "-c", SCRIPT], capture_output=True, text=True,
                          timeout=120, check=False)
    assert done.returncode == 0, done.stderr
