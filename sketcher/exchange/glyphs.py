"""Outlines of letters, from the font that travels with the program.

Lettering written as outlines looks the same on a machine that has not the font; one that puts
another font in its place widens it until it touches what is beside it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

FACES = {False: "SourceSansPro", True: "SourceSansProSemibold"}


@dataclass(frozen=True, slots=True)
class LetterOutline:
    """A letter: a name for it, its outline as SVG path data, y up, and advance, in font units."""

    name: str
    outline: str
    advance: float


@cache
def units_per_em(bold: bool = False) -> float:
    """Return how many font units the em has."""
    return float(_face(bold)["head"].unitsPerEm)


@cache
def glyph(letter: str, bold: bool = False) -> LetterOutline | None:
    """Return a letter's outline; None where the font has none."""
    from fontTools.pens.svgPathPen import SVGPathPen

    face = _face(bold)
    name = face.getBestCmap().get(ord(letter))
    if name is None:
        return None
    shapes = face.getGlyphSet()
    pen = SVGPathPen(shapes)
    shapes[name].draw(pen)
    return LetterOutline(f"{'b' if bold else 'g'}{ord(letter):x}", pen.getCommands(),
                 float(shapes[name].width))


def laid(text: str, bold: bool = False) -> tuple[tuple[LetterOutline, float], ...] | None:
    """Return the letters of a line with their places along it, in font units, without kerning.

    None where the font lacks a letter.
    """
    found = list(_letters(text, bold))
    if len(found) < len(text):
        return None
    places, at = [], 0.0
    for one in found:
        places.append((one, at))
        at += one.advance
    return tuple(places)


def _letters(text: str, bold: bool) -> Iterator[LetterOutline]:
    for letter in text:
        one = glyph(letter, bold)
        if one is None:
            return
        yield one


@cache
def _face(bold: bool) -> Any:
    import font_source_sans_pro
    from fontTools.ttLib import TTFont

    return TTFont(font_source_sans_pro.font_files_ttf[FACES[bold]], lazy=True)
