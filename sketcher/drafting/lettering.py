"""Widths of lettering, from the font's own metrics, so that the core can place text without Qt.

The height of lettering is that of its capitals (ISO 3098-1); the font is Source Sans Pro Regular.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache, lru_cache
from typing import Any

from sketcher.shipped import shipped

FAMILY = "Source Sans Pro"
MILLIMETRES = re.compile(r"(?<=\d)MM\b|(?<=\d )MM\b")
CUT = "…"  # where a text is cut
STRAY_ADVANCE = 0.6  # of the em, for a character that the table lacks


@cache
def _table() -> Mapping[str, Any]:
    text = shipped("resources", "standards/lettering.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def em(height: float) -> float:
    """Return the font size in mm whose capitals are `height` mm tall."""
    return height * 1000.0 / float(_table()["cap"])


def descent(height: float) -> float:
    """Return how far letters such as g reach below the base line, in mm."""
    return em(height) * float(_table()["descent"]) / 1000.0


@lru_cache(maxsize=4096)
def text_width(text: str, height: float) -> float:
    """Return the width of a line of text with capitals of `height` mm, in mm, without kerning."""
    advance = _table()["advance"]
    stray = 1000.0 * STRAY_ADVANCE
    return em(height) * sum(float(advance.get(letter, stray)) for letter in text) / 1000.0


def wrapped(text: str, height: float, width: float) -> list[str]:
    """Break a text into lines of at most `width` mm between words."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, height) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def shortened(text: str, height: float, width: float) -> str:
    """Return the text, cut with an ellipsis where it is wider than `width` mm."""
    if text_width(text, height) <= width:
        return text
    while text and text_width(text + CUT, height) > width:
        text = text[:-1]
    return text.rstrip() + CUT


def lettered(text: str, capitals: bool) -> str:
    """Return a text as it is lettered; of capitals the sign mm behind a number is none."""
    return MILLIMETRES.sub("mm", text.upper()) if capitals else text
