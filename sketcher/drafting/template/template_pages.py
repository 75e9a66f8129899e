"""The sheets of a full-size template, tile by tile."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import cos, sin

from sketcher.drafting.layout.paper_ground import Ground
from sketcher.drafting.page import Page
from sketcher.drafting.primitives import Item, Stroke, line, shifted
from sketcher.drafting.template.template_ink import Punch, TemplateInk, template_ink
from sketcher.drafting.template.tile_labels import labels
from sketcher.drafting.template.tile_strip import THIN, strip
from sketcher.drafting.template.tiling import (
    OVERLAP,
    Place,
    Tiling,
    template_paper,
    tile_name,
    tiling_of,
)
from sketcher.geometry.bounds import Box, box_within
from sketcher.geometry.clip import visible
from sketcher.geometry.curves import Circle
from sketcher.geometry.evaluate import moved
from sketcher.part.value import Part
from sketcher.quantity.units import UNIT_NAMES

ARM = 2.5
"""mm from the middle of a punch cross to the end of an arm."""
MARK = 0.5 * OVERLAP
"""The same of a register mark: as far as the overlap goes."""
MARK_RING = 2.0
"""mm, radius of its ring, by which it is told from a punch cross."""
TRIM = 0.25
"""mm, width of the grey line along which a sheet is trimmed."""


@dataclass(frozen=True, slots=True)
class Template:
    """The sheets of a template, and for how many holes there was no room for a letter."""

    pages: tuple[Page, ...]
    tiling: Tiling
    unlettered: int


def template(part: Part, paper: str = "auto", mirrored: bool = False) -> Template:
    """Return the full-size template of a solved part.

    Parameters
    ----------
    part : Part
    paper : str
        See `tiling.template_paper`.
    mirrored : bool
        Turned over, to be scribed on the back side; what is to be read stays readable.

    Raises
    ------
    SketcherError
        For unknown paper, a part without outline, or one that takes too many sheets.
    """
    name, size = template_paper(paper, part.unit)
    ink = template_ink(part, mirrored)
    tiling = tiling_of([stroke.curve for stroke in ink.outline],
                       [(punch.at, punch.radius) for punch in ink.punches], ink.box, name, size)
    drawn = [_page(part, ink, tiling, tile, mirrored) for tile in tiling.tiles]
    return Template(tuple(page for page, _ in drawn), tiling, sum(lost for _, lost in drawn))


def _page(
    part: Part, ink: TemplateInk, tiling: Tiling, tile: Place, mirrored: bool
) -> tuple[Page, int]:
    seen, (dx, dy) = tiling.seen(tile), tiling.move(tile)
    outline, centers = (list(_cut(strokes, seen)) for strokes in (ink.outline, ink.centers))
    punches = [punch for punch in ink.punches if box_within((*punch.at, *punch.at), seen)]
    crosses = [stroke for punch in punches for stroke in _cross(punch, seen)]
    grid = [*_trims(tiling, tile), *_register_marks(tiling, tile)]
    ground = Ground([s.curve for s in outline], [s.curve for s in (*centers, *crosses)],
                    within=seen, beside=[s.curve for s in grid])
    texts, lost = labels([punch for punch in punches if punch.words], ground)
    here: list[Item] = [*grid, *outline, *centers, *crosses, *texts]
    words = list(_words(part, tiling, mirrored, lost))
    items = (*(shifted(item, dx, dy) for item in here), *strip(tiling, tile, words))
    page = Page("template", tiling.size, "ISO", items, unit=part.unit,
                title=f"{part.name}: template {tile_name(tile)}", sheet=tiling.paper,
                author=part.drawing.fields.get("drawn by", ""))
    return page, lost


def _words(part: Part, tiling: Tiling, mirrored: bool, lost: int) -> Iterator[str]:
    """Give the lines that are read before anything is marked out."""
    side = "MIRRORED: back side of {}" if mirrored else "{}, front side"
    yield f"{side.format(part.name)}, 1:1, drawn in {UNIT_NAMES[part.unit]}"
    yield "Print at 100 % and measure both bars: 100 mm, 4 in."
    if len(tiling.tiles) > 1:
        yield "Trim at the grey line, lay ring on ring and line on line."
    unsaid = f" {lost} without room for a letter." if lost else ""
    yield f"Edge: middle of the line, no kerf added. Punch the crosses.{unsaid}"


def _cut(strokes: tuple[Stroke, ...], seen: Box) -> Iterator[Stroke]:
    for stroke in strokes:
        for piece in visible(stroke.curve, seen):
            yield replace(stroke, curve=piece, line=THIN)


def _cross(punch: Punch, seen: Box) -> Iterator[Stroke]:
    (x, y), c, s = punch.at, ARM * cos(punch.turn), ARM * sin(punch.turn)
    arms = (line((x - c, y - s), (x + c, y + s), THIN, f"punch:{punch.name}"),
            line((x + s, y - c), (x - s, y + c), THIN, f"punch:{punch.name}"))
    yield from _cut(arms, seen)


def _register_marks(tiling: Tiling, tile: Place) -> Iterator[Stroke]:
    """Draw a cross with a ring on each corner that another sheet has too."""
    for x, y in tiling.marks(tile):
        yield line((x - MARK, y), (x + MARK, y), THIN, "template:mark")
        yield line((x, y - MARK), (x, y + MARK), THIN, "template:mark")
        yield Stroke(moved(Circle((0.0, 0.0), MARK_RING), x, y), THIN, "template:mark")


def _trims(tiling: Tiling, tile: Place) -> Iterator[Stroke]:
    """Draw the sides along which a sheet is trimmed, or another is laid on."""
    for start, end in tiling.joints(tile):
        stroke = line(start, end, THIN, "template:trim")
        yield replace(stroke, band=TRIM)
