"""Finds room for signs: none covers the words of a dimension, and none another sign."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import atan2, cos, sin, tau

import numpy as np
from numpy.typing import NDArray

from sketcher.board.dimensions.dimension_lines import MARKS, DimLines
from sketcher.board.dimensions.sign_places import OFF, STEP, Glyph
from sketcher.geometry.curves import XY

Array = NDArray[np.float64]
Place = tuple[str, int]
"""A sign by its binding and by which of that binding's it is."""

SIGN = 17.0
"""Pixels: width and height of a sign."""
AROUND = 1.0
"""Pixels that stay free between a sign and what stands beside it."""
DOUBLED = 2.5
"""Pixels that the frame of a doubled binding stands off its sign."""
CAP, GROUND = 0.66, (4.0, 2.0)
"""Height of capitals by the size of words (Source Sans Pro, `lettering.toml`), and pixels that the
ground under words is wider and higher than they are."""
RINGS, TURNS = 14, 24
"""Rings of places around what a sign is about, a step apart, and directions in each: fourteen reach
past the widest words there are, a limit with two deviations in words of 32."""
MOST = 150
"""Signs that are placed: of more, all at once, nothing can be read in any case."""


def with_room(
    signs: Sequence[Glyph], dims: Sequence[DimLines], px: float, size: float,
    known: Mapping[Place, XY],
) -> tuple[Glyph, ...]:
    """Return signs where each has room.

    Each stands at the nearest free place: in its own direction first, then around. Those known come
    first, so that a sign stays where it is while others come to be shown.

    Parameters
    ----------
    signs : sequence of Glyph
    dims : sequence of DimLines
        Whose words are not to be covered.
    px : float
        One pixel in the part's unit.
    size : float
        Size of words in pixels.
    known : mapping of Place to XY
        Where signs stand already, pixels from what they are about.
    """
    if len(signs) > MOST:
        return tuple(signs)
    named = list(zip(numbered(signs), signs, strict=True))
    words = np.array([words_box(dim, px, size) for dim in dims if dim.text]).reshape(-1, 6)
    taken = np.zeros((0, 3))
    found: dict[Place, XY] = {}
    for name, sign in sorted(named, key=lambda one: one[0] not in known):
        half = 0.5 * SIGN + AROUND + (DOUBLED if sign.state == "doubled" else 0.0)
        off = _free(sign, half, px, words, taken, known.get(name))
        found[name] = off
        x, y = sign.at[0] / px + off[0], sign.at[1] / px + off[1]
        taken = np.vstack((taken, (x, y, half - AROUND)))
    return tuple(replace(sign, off=found[name]) for name, sign in named)


def numbered(signs: Sequence[Glyph]) -> list[Place]:
    """Return the name of each sign."""
    seen: dict[str, int] = {}
    names = []
    for sign in signs:
        seen[sign.binding] = number = seen.get(sign.binding, -1) + 1
        names.append((sign.binding, number))
    return names


def words_box(dim: DimLines, px: float, size: float) -> tuple[float, ...]:
    """Return the ground under a dimension's words, in pixels.

    Returns
    -------
    tuple of float
        Middle x and y, cosine and sine of its turn, half width and half height.
    """
    from sketcher.drafting.lettering import text_width

    wide = text_width(dim.text + MARKS.get(dim.state, ""), CAP * size) + GROUND[0]
    return (dim.anchor[0] / px, dim.anchor[1] / px, cos(dim.turn), sin(dim.turn), 0.5 * wide,
            0.5 * (CAP * size + GROUND[1]))


def _free(
    sign: Glyph, half: float, px: float, words: Array, taken: Array, known: XY | None
) -> XY:
    """Return the first free place of a sign, pixels from what it is about."""
    at = np.array(sign.at) / px
    for offs in _stages(sign, known):
        free = ~(_covers_words(at + offs, half, words) | _covers_signs(at + offs, half, taken))
        if free.any():
            x, y = offs[int(free.argmax())].tolist()
            return x, y
    return OFF * sign.away[0], OFF * sign.away[1]


def _stages(sign: Glyph, known: XY | None) -> list[Array]:
    """Return places to be tried, pixels from what the sign is about, the best first."""
    away = np.array(sign.away)
    begin = np.zeros((0, 2)) if known is None else np.array([known])
    row = (OFF + STEP * np.arange(max(2, sign.slot + 1)))[:, None] * away
    turns = atan2(sign.away[1], sign.away[0]) + np.array(
        [(k + 1) // 2 * (1 if k % 2 else -1) for k in range(TURNS)]) * tau / TURNS
    around = np.stack((np.cos(turns), np.sin(turns)), axis=1)
    rings = [(OFF + STEP * k) * around for k in range(RINGS)]
    return [np.vstack((begin, row)), *rings]


def _covers_words(at: Array, half: float, words: Array) -> NDArray[np.bool_]:
    """Tell of level squares (n, 2) which lie over turned boxes: no side parts the two."""
    dx, dy = at[:, None, 0] - words[:, 0], at[:, None, 1] - words[:, 1]
    c, s, wide, high = words[:, 2], words[:, 3], words[:, 4], words[:, 5]
    reach = half * (np.abs(c) + np.abs(s))
    over = ((np.abs(dx * c + dy * s) < wide + reach) & (np.abs(dy * c - dx * s) < high + reach)
            & (np.abs(dx) < half + wide * np.abs(c) + high * np.abs(s))
            & (np.abs(dy) < half + wide * np.abs(s) + high * np.abs(c)))
    return np.asarray(over.any(axis=1))


def _covers_signs(at: Array, half: float, taken: Array) -> NDArray[np.bool_]:
    """Tell of level squares (n, 2) which lie over others: middle and half width, (m, 3)."""
    apart = np.abs(at[:, None, :] - taken[None, :, :2]).max(axis=2)
    return np.asarray((apart < half + taken[:, 2]).any(axis=1))
