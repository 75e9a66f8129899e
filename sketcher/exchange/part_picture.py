"""A part as a small picture: outline and center lines of the display list, without dimensions.

The page of the first minute asks for it, so nothing is loaded before it is drawn.
"""

from __future__ import annotations

LETTERS = 2.5
"""Height of letters in mm that the view is asked for; a picture has none."""
AIR = 0.06
"""Of the picture's smaller side, clear around the part."""


def picture_of(data: bytes, width: float, height: float) -> str:
    """Return the picture of a part's file as an SVG document, black on white.

    Parameters
    ----------
    data : bytes
        The file.
    width, height : float
        Of the picture, in mm; the part is as large as fits.

    Raises
    ------
    SketcherError
        When it is no part's file.
    """
    from dataclasses import replace

    from sketcher.drafting.features import shown_pieces
    from sketcher.drafting.page import Page
    from sketcher.drafting.paper_view import MM_PER
    from sketcher.drafting.primitives import items_box, shifted
    from sketcher.drafting.view_contents import contents_of
    from sketcher.exchange.svg import svg_text
    from sketcher.geometry.bounds import bounds_of
    from sketcher.inspect.sketched import solve_sketch
    from sketcher.part.file_text import read

    part = solve_sketch(read(data)).part
    part = part.having(drawing=replace(part.drawing, dimensions=False, hole_table=False))
    pieces = shown_pieces(part)
    x0, y0, x1, y1 = bounds_of(piece.curve for piece in pieces if piece.role == "outline")
    air = 2.0 * AIR * min(width, height)
    factor = min((width - air) / ((x1 - x0) or 1.0), (height - air) / ((y1 - y0) or 1.0))
    items = contents_of(part, pieces, factor / MM_PER[part.unit], LETTERS).items
    left, low, right, high = items_box(i for i in items if i.source.startswith("curve:"))
    dx, dy = 0.5 * (width - left - right), 0.5 * (height - low - high)
    return svg_text(Page("picture", (width, height), part.drawing.practice,
                         tuple(shifted(item, dx, dy) for item in items), title=part.name))
