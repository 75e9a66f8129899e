"""What stands on a sheet of a template beside the part: bars to measure, words, a map.

A printer that shrinks to fit spoils a template unseen; a bar of 100 mm and of 4 in each way shows
it, for some printers are out of true in one direction alone (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sketcher.drafting.lettering import shortened, text_width
from sketcher.drafting.primitives import Fill, Item, Stroke, Text, line
from sketcher.drafting.template.tile_labels import HEIGHT
from sketcher.drafting.template.tiling import FOOT, MARGIN, SIDE, Place, Tiling, tile_name
from sketcher.geometry.bounds import Box
from sketcher.geometry.curves import XY, Line
from sketcher.quantity.units import MM_PER_INCH

SOURCE = "template"
THIN = "dimension"
"""Line class of everything on a template: 0.25 mm wide."""
BAR_MM, BAR_IN = 100, 4
TICK, END_TICK = 1.5, 3.0
"""mm from the bar; the longer ones stand where one measures."""
BESIDE = 1.5
"""mm between a bar and its words."""
PITCH = 5.0
"""mm from line to line of the words."""
NAME_HEIGHT = 8.0
MAP = (36.0, FOOT - 3.0)
"""Most width and height of the map in mm."""
CELL_ROOM = 1.0
"""mm around a name in the map."""


def strip(tiling: Tiling, tile: Place, words: Sequence[str]) -> list[Item]:
    """Return everything on a sheet that is not the part.

    Parameters
    ----------
    tiling : Tiling
    tile : (int, int)
    words : sequence of str
        Lines to be read, the most important first.
    """
    items: list[Item] = [*_bar((MARGIN + SIDE, MARGIN + FOOT - 5.0), (1.0, 0.0)),
                         *_bar((MARGIN + 0.5 * SIDE, MARGIN + FOOT), (0.0, 1.0))]
    name = Text(tile_name(tile), (MARGIN, MARGIN + 3.0), NAME_HEIGHT, SOURCE, bold=True)
    left, right = MARGIN + name.width + 4.0, tiling.size[0] - MARGIN
    if len(tiling.tiles) > 1:
        drawn, wide = _map(tiling, tile, (right, MARGIN + FOOT - 2.0))
        items += [name, *drawn]
        right -= wide + 4.0
    else:
        left = MARGIN + SIDE
    top = MARGIN + 1.0 + PITCH * (len(words) - 1)
    for number, text in enumerate(words):
        at = (left, top - PITCH * number)
        items.append(Text(shortened(text, HEIGHT, right - left), at, HEIGHT, SOURCE,
                          bold=not number))
    return items


def _bar(at: XY, way: XY) -> Iterator[Item]:
    """Draw a bar from a place on: millimetres on its left, inches on its right."""
    (ux, uy), long = way, max(float(BAR_MM), BAR_IN * MM_PER_INCH)

    def place(along: float, aside: float) -> XY:
        return (at[0] + along * ux - aside * uy, at[1] + along * uy + aside * ux)

    yield line(at, place(long, 0.0), THIN, f"{SOURCE}:bar")
    angle = 90.0 if uy else 0.0
    for words, count, pitch, side in ((f"{BAR_MM} mm", BAR_MM // 10, 10.0, 1.0),
                                      (f"{BAR_IN} in", BAR_IN, MM_PER_INCH, -1.0)):
        for k in range(count + 1):
            tall = END_TICK if k in (0, count) else TICK
            yield line(place(k * pitch, 0.0), place(k * pitch, side * tall), THIN, f"{SOURCE}:bar")
        up = 0.6 if side > 0.0 else -0.6 - HEIGHT
        yield Text(words, place(long + BESIDE, up), HEIGHT, f"{SOURCE}:bar", angle=angle)


def _map(tiling: Tiling, tile: Place, corner: XY) -> tuple[list[Item], float]:
    """Draw the sheets in small with their upper right corner at a place; return their width too."""
    wide, tall = tiling.step
    scale = min(MAP[0] / (tiling.columns * wide), MAP[1] / (tiling.rows * tall))
    across, up = scale * wide, scale * tall
    left = corner[0] - tiling.columns * across
    longest = max(tiling.tiles, key=lambda place: text_width(tile_name(place), HEIGHT))
    named = (up >= HEIGHT + CELL_ROOM
             and across >= text_width(tile_name(longest), HEIGHT) + CELL_ROOM)
    items: list[Item] = []
    for place in tiling.tiles:
        x, y = left + place[0] * across, corner[1] - (place[1] + 1) * up
        box = (x, y, x + across, y + up)
        if place == tile:
            items.append(Fill(_corners(box), SOURCE, faint=True))
        items += [Stroke(Line(a, b), THIN, SOURCE, band=0.25)
                  for a, b in zip(_corners(box), (*_corners(box)[1:], (x, y)), strict=True)]
        if named:
            at = (x + 0.5 * across, y + 0.5 * (up - HEIGHT))
            items.append(Text(tile_name(place), at, HEIGHT, SOURCE, "center", bold=place == tile))
    # Grey lies behind the names.
    return sorted(items, key=lambda item: isinstance(item, Text)), tiling.columns * across


def _corners(box: Box) -> tuple[XY, ...]:
    x0, y0, x1, y1 = box
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
