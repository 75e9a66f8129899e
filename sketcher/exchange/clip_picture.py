"""A piece of a part as a picture for other programs: its curves, 1:1."""

from __future__ import annotations

from sketcher.drafting.page import Page
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.drafting.primitives import Stroke
from sketcher.exchange.svg import svg_text
from sketcher.geometry.bounds import bounds_of
from sketcher.part.value import Part
from sketcher.part.whole import whole

AIR = 2.0
"""Millimetres of ground around the curves."""
LINES = {"outline": "visible", "axis": "center", "layout": "dimension"}
"""Line class of each role: layout, which no sheet shows, is thin."""


def clip_picture(piece: Part) -> str:
    """Return an SVG document of a piece of a part, the copies of its patterns included."""
    pieces = whole(piece)
    factor = MM_PER[piece.unit]
    x0, y0, x1, y1 = bounds_of([each.curve for each in pieces])
    view = View(factor, AIR - factor * x0, AIR - factor * y0)
    size = (factor * (x1 - x0) + 2.0 * AIR, factor * (y1 - y0) + 2.0 * AIR)
    strokes = tuple(Stroke(view.curve(each.curve), LINES[each.role], f"curve:{each.id}")
                    for each in pieces)
    return svg_text(Page("piece", size, piece.drawing.practice, strokes, title=piece.name))
