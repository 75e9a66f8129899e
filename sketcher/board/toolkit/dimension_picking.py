"""Which dimension, or which sign of a binding, is under the pointer."""

from __future__ import annotations

from math import cos, dist, sin

from sketcher.board.dimensions.dimension_lines import DimLines
from sketcher.board.dimensions.sign_places import told
from sketcher.board.dimensions.sign_room import SIGN
from sketcher.board.preview import Pointer
from sketcher.board.steps.bench import Bench
from sketcher.geometry.curves import XY
from sketcher.geometry.project import nearest

LETTER_WIDTH, LETTER_HEIGHT, MARGIN = 0.58, 1.25, 3.0
"""Share of the size of words that a letter is wide and high on average, and pixels around them."""


def pixel(bench: Bench, pointer: Pointer) -> float:
    """Return one pixel in the part's unit, as the pointer's reach tells it."""
    return float(pointer.reach / bench.settings["reach"])


def dimension_at(bench: Bench, pointer: Pointer, text_only: bool = False) -> str | None:
    """Return the id of the binding whose dimension or sign is under the pointer, or None.

    With `text_only` only the text of a dimension and a sign count, not the dimension's lines; nor
    a sign that the pointer itself has called up, for what is below it is meant.
    """
    px = pixel(bench, pointer)
    if bench.settings["show_dimensions"]:
        dims = bench.derived.dimensions(px)
        for dim in reversed(dims):
            if on_text(dim, pointer.at, px, bench.settings["text_size"]):
                return dim.binding
        if not text_only:
            for dim in reversed(dims):
                if on_lines(dim, pointer.at, 0.5 * pointer.reach):
                    return dim.binding
    selected = frozenset(bench.selection.ids)
    chosen = None if bench.settings["show_bindings"] else selected | frozenset(bench.hover)
    for glyph in reversed(bench.derived.signs_with_room(chosen, px)):
        if dist(glyph.place(px), pointer.at) <= 0.5 * SIGN * px:
            called_up = chosen is not None and not told(bench.part, glyph, selected)
            if not (text_only and called_up):
                return glyph.binding
    return None


def on_text(dim: DimLines, at: XY, px: float, size: float) -> bool:
    """Tell whether a place lies on a dimension's text of a size in pixels."""
    x, y = at[0] - dim.anchor[0], at[1] - dim.anchor[1]
    c, s = cos(dim.turn), sin(dim.turn)
    along, across = x * c + y * s, -x * s + y * c
    half = 0.5 * LETTER_WIDTH * size * len(dim.text) + MARGIN
    return abs(along) <= half * px and abs(across) <= (0.5 * LETTER_HEIGHT * size + MARGIN) * px


def on_lines(dim: DimLines, at: XY, reach: float) -> bool:
    """Tell whether a place lies on the dimension line or a leader."""
    return any(nearest(curve, at).distance <= reach for curve in dim.curves)
