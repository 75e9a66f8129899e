"""What the clipboard carries: a piece of a part for this program, a picture for all others."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import dist

from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.curves import XY
from sketcher.part.file_text import read, write
from sketcher.part.fragment import Fragment, fragment
from sketcher.part.part_size import part_size
from sketcher.part.value import Part
from sketcher.part.whole import curve_value

PIECE = "application/x-part-profile+json"
"""Media type of a piece: the text of a part's file."""
PICTURE, TEXT = "image/svg+xml", "text/plain"
ASIDE = 0.04
"""Share of the part's size by which a piece is shifted that would lie exactly over its like."""


def carried(part: Part, ids: Iterable[str]) -> tuple[Mapping[str, bytes], Fragment]:
    """Return what goes to the clipboard, by media type, and the piece itself.

    Raises
    ------
    EditError
        When nothing is chosen that can be copied.
    """
    found = fragment(part, ids)
    contents = {PIECE: write(found.part).encode()}
    if found.part.curves:
        from sketcher.exchange.clip_picture import clip_picture

        picture = clip_picture(found.part).encode()
        contents |= {PICTURE: picture, TEXT: picture}
    return contents, found


def piece_of(content: bytes) -> Part:
    """Return the piece that a clipboard holds.

    Raises
    ------
    FileError
        When it is no part's text.
    """
    return read(content)


def step_to(part: Part, piece: Part, place: XY) -> XY:
    """Return by how much a piece moves so that its middle comes to a place, in the part's unit.

    Where it would lie exactly over points that are there, it is shifted aside.
    """
    from sketcher.part.fragment import MM_PER

    factor = MM_PER[piece.unit] / MM_PER[part.unit]
    x, y = middle_of(piece)
    dx, dy = place[0] - factor * x, place[1] - factor * y
    first = next(iter(piece.points.values()))
    size = part_size(piece) * factor
    for _ in range(100):
        at = (factor * first[0] + dx, factor * first[1] + dy)
        if all(dist(at, there) > 1e-6 * size for there in part.points.values()):
            break
        dx, dy = dx + ASIDE * size, dy - ASIDE * size
    return (dx, dy)


def middle_of(piece: Part) -> XY:
    """Return the middle of the box around a piece."""
    if piece.curves:
        x0, y0, x1, y1 = bounds_of([curve_value(piece, curve) for curve in piece.curves.values()])
    else:
        xs, ys = zip(*piece.points.values(), strict=True)
        x0, y0, x1, y1 = min(xs), min(ys), max(xs), max(ys)
    return ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
