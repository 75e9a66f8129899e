"""Which sheets a template takes: a grid of tiles over the part, those with nothing on it left out.

Neighbors overlap by 10 mm, common practice, no source, as is the margin: a desktop printer leaves
6 to 7 mm blank, a quarter of an inch at most. The lines of the grid run in the middle of the
overlap; where two sheets share one, both show it, to be trimmed and laid on.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product
from math import ceil, floor
from typing import TypeAlias

from sketcher.drafting.holes import letters
from sketcher.drafting.paper_sizes import sheets
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import Box, bounds, boxes_meet
from sketcher.geometry.clip import visible
from sketcher.geometry.curves import XY, Curve

MARGIN = 8.0
OVERLAP = 10.0
SIDE = 10.0
"""Width in mm of the strip at the left, for the upright bar."""
FOOT = 30.0
"""Height in mm of the strip at the bottom, for the level bar, the words and the map."""
MOST_TILES = 100
"""Sheets that somebody may still lay together; a larger part wants larger paper."""
MOST_CELLS = 50 * MOST_TILES
"""Cells of a grid that is looked at all: a plate that fills one in fifty has no such outline."""
HOPELESS = 2 * MOST_TILES
"""Sheets from which on no other place of the grid is tried: none halves them."""
SLACK = 1e-6
"""mm by which a part is smaller than its tiles: rounding must not put an edge off the paper."""
SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95)
"""Shares of the spare paper that are tried at the left and at the bottom. In the middle a plate
with holes on its axis would have them cut in two, and a register mark on the center of one."""
CROSS_ROOM = 3.0
"""mm around a hole: a small one's cross reaches so far."""
LETTER = "letter"
"""Office name of the sheet that ASME Y14.1 calls A."""

Place: TypeAlias = tuple[int, int]
"""Column from the left and row from the top, from 0."""


@dataclass(frozen=True)
class Tiling:
    """The tiles of a template, in mm of the part at full size.

    Parameters
    ----------
    paper : str
        Name of the sheets.
    size : tuple of float
        Of a sheet as it lies.
    columns, rows : int
        Of the whole grid.
    origin : XY
        Lower left corner of the grid.
    tiles : tuple of (int, int)
        Places of the sheets there are, row by row from the top.
    """

    paper: str
    size: tuple[float, float]
    columns: int
    rows: int
    origin: XY
    tiles: tuple[Place, ...]

    @property
    def step(self) -> tuple[float, float]:
        """Width and height of a cell."""
        return _step(self.size)

    @cached_property
    def there(self) -> frozenset[Place]:
        """Places of the sheets there are."""
        return frozenset(self.tiles)

    def cell(self, tile: Place) -> Box:
        """Return the cell of a tile."""
        (wide, tall), (x, y) = self.step, self.origin
        left, top = x + tile[0] * wide, y + (self.rows - tile[1]) * tall
        return (left, top - tall, left + wide, top)

    def seen(self, tile: Place) -> Box:
        """Return what a tile shows: its cell and half of the overlap around it."""
        x0, y0, x1, y1 = self.cell(tile)
        more = 0.5 * OVERLAP
        return (x0 - more, y0 - more, x1 + more, y1 + more)

    def move(self, tile: Place) -> XY:
        """Return by how much the part is moved to lie on a sheet, in mm."""
        x0, y0, _, _ = self.seen(tile)
        return (MARGIN + SIDE - x0, MARGIN + FOOT - y0)

    def cuts(self, at: XY, radius: float) -> bool:
        """Tell whether a hole, or its cross, lies across a line between two cells."""
        reach = radius + CROSS_ROOM
        for count, one, zero, place in zip((self.columns, self.rows), self.step, self.origin, at,
                                           strict=True):
            k = round((place - zero) / one)
            if 0 < k < count and abs(place - zero - k * one) < reach:
                return True
        return False

    def marks(self, tile: Place) -> Iterator[XY]:
        """Give the corners of a cell that another sheet has too."""
        x0, y0, x1, y1 = self.cell(tile)
        column, row = tile
        for at, dx, dy in (((x0, y0), -1, 1), ((x1, y0), 1, 1), ((x0, y1), -1, -1),
                           ((x1, y1), 1, -1)):
            if not self.there.isdisjoint({(column + dx, row), (column, row + dy),
                                          (column + dx, row + dy)}):
                yield at

    def joints(self, tile: Place) -> Iterator[tuple[XY, XY]]:
        """Give the sides of a cell along which another sheet lies, from end to end."""
        x0, y0, x1, y1 = self.cell(tile)
        column, row = tile
        for other, start, end in (((column - 1, row), (x0, y0), (x0, y1)),
                                  ((column + 1, row), (x1, y0), (x1, y1)),
                                  ((column, row - 1), (x0, y1), (x1, y1)),
                                  ((column, row + 1), (x0, y0), (x1, y0))):
            if other in self.there:
                yield start, end


def tile_name(tile: Place) -> str:
    """Return the name of a tile: letters from the left, numbers from the top."""
    return f"{letters(tile[0])}{tile[1] + 1}"


def template_paper(name: str, unit: str = "mm") -> tuple[str, tuple[float, float]]:
    """Return the name and upright size in mm of the paper for a template.

    Parameters
    ----------
    name : str
        ``letter``, the format of a sheet of either practice (``A4``, ``A3``, ``B``), or ``auto``:
        A4 for a part in mm, letter for one in inches.
    unit : {"mm", "in"}

    Raises
    ------
    SketcherError
        For paper that there is not.
    """
    wanted = name.strip().lower()
    if wanted == "auto":
        wanted = LETTER if unit == "in" else "a4"
    formats = {LETTER if sheet.format == "A" else sheet.format: sheet.size
               for sheet in sheets().values()}
    found = next((one for one in formats if one.lower() == wanted), None)
    if found is None:
        raise SketcherError("paper", f"there is no paper {name!r} for a template",
                            f"take auto, {', '.join(sorted(formats))}")
    short, long = sorted(formats[found])
    return found, (short, long)


def tiling_of(
    outline: Sequence[Curve], holes: Collection[tuple[XY, float]], box: Box, paper: str,
    size: tuple[float, float],
) -> Tiling:
    """Return the fewest sheets that show a part, upright or lying.

    Parameters
    ----------
    outline : sequence of Curve
        In mm; a tile that has neither a piece of it nor a punched place is left out.
    holes : collection of (XY, float)
        Punched places with the radius of the hole. Of ways with as many sheets that counts which
        has the fewest holes on the edges of sheets.
    box : Box
        What has to fit.
    paper : str
        Name of the sheets.
    size : tuple of float
        Width and height of one in mm.

    Raises
    ------
    SketcherError
        For more than `MOST_TILES`.
    """
    ways = [way for one in (size, size[::-1])
            for way in _laid(outline, holes, box, Tiling(paper, one, 1, 1, box[:2], ()))]
    best = min(ways, default=None, key=lambda way: (
        len(way.tiles), way.columns * way.rows, sum(way.cuts(*hole) for hole in holes)))
    if best is None or len(best.tiles) > MOST_TILES:
        wide, tall = box[2] - box[0], box[3] - box[1]
        count = f"{len(best.tiles)} sheets" if best is not None else "thousands of sheets"
        raise SketcherError(
            "template", f"{wide:.0f} x {tall:.0f} mm at full size takes {count} of {paper}, more "
            f"than the {MOST_TILES} that can be laid together",
            "take larger paper, such as A0, or cut from the file")
    return best


def _step(size: tuple[float, float]) -> tuple[float, float]:
    return (size[0] - 2.0 * MARGIN - SIDE - OVERLAP, size[1] - 2.0 * MARGIN - FOOT - OVERLAP)


def _laid(
    outline: Sequence[Curve], holes: Collection[tuple[XY, float]], box: Box, sheet: Tiling
) -> Iterator[Tiling]:
    """Give the ways to lay the sheets, all upright or all lying; none for far too many of them."""
    spans = (box[2] - box[0], box[3] - box[1])
    columns, rows = (max(1, ceil((span - OVERLAP + SLACK) / one))
                     for span, one in zip(spans, sheet.step, strict=True))
    if columns * rows > MOST_CELLS:
        return
    spare = [count * one + OVERLAP - span
             for count, one, span in zip((columns, rows), sheet.step, spans, strict=True)]
    for right, up in product(SHARES if columns > 1 else SHARES[:1],
                             SHARES if rows > 1 else SHARES[:1]):
        origin = (box[0] + 0.5 * OVERLAP - right * spare[0],
                  box[1] + 0.5 * OVERLAP - up * spare[1])
        grid = replace(sheet, columns=columns, rows=rows, origin=origin)
        full = _joined({place for curve in outline for place in _met(grid, curve)}
                       | {_place_of(grid, at) for at, _ in holes}, columns, rows)
        yield replace(grid, tiles=tuple(sorted(full, key=lambda place: (place[1], place[0]))))
        if len(full) > HOPELESS:
            return


def _place_of(grid: Tiling, at: XY) -> Place:
    (wide, tall), (x, y) = grid.step, grid.origin
    column, up = floor((at[0] - x) / wide), floor((at[1] - y) / tall)
    return (min(max(column, 0), grid.columns - 1),
            grid.rows - 1 - min(max(up, 0), grid.rows - 1))


def _met(grid: Tiling, curve: Curve) -> Iterator[Place]:
    """Give the places on which a curve lies; those at the rim have half the overlap besides."""
    x0, y0, x1, y1 = bounds(curve)
    (left, low), (right, top) = _place_of(grid, (x0, y0)), _place_of(grid, (x1, y1))
    for column in range(left, right + 1):
        for row in range(top, low + 1):
            cell = _reaching(grid, (column, row))
            if boxes_meet((x0, y0, x1, y1), cell) and visible(curve, cell):
                yield (column, row)


def _reaching(grid: Tiling, tile: Place) -> Box:
    (x0, y0, x1, y1), (a, b, c, d) = grid.cell(tile), grid.seen(tile)
    column, row = tile
    return (x0 if column else a, y0 if row < grid.rows - 1 else b,
            x1 if column < grid.columns - 1 else c, y1 if row else d)


def _joined(full: set[Place], columns: int, rows: int) -> set[Place]:
    """Return the places with those between that it takes for every sheet to lie along another.

    A hole in the middle of a large plate would otherwise stand on a sheet that nothing places.
    """
    found = set(full)
    while True:
        body = _reached(found, found)
        if len(body) == len(found):
            return found
        found |= _bridge(body, found, columns, rows)


def _reached(found: set[Place], within: set[Place]) -> set[Place]:
    """Return what hangs together with one of the places by sides of cells."""
    first = min(found)
    seen, front = {first}, [first]
    while front:
        for place in _beside(front.pop()):
            if place in within and place not in seen:
                seen.add(place)
                front.append(place)
    return seen


def _bridge(body: set[Place], found: set[Place], columns: int, rows: int) -> set[Place]:
    """Return the shortest row of places from a body to one that does not hang on it."""
    came: dict[Place, Place] = {}
    front: list[Place] = sorted(body)
    for place in front:  # grows while it is walked
        for other in _beside(place):
            inside = 0 <= other[0] < columns and 0 <= other[1] < rows
            if not inside or other in body or other in came:
                continue
            came[other] = place
            if other in found:
                way = [other]
                while way[-1] not in body:
                    way.append(came[way[-1]])
                return set(way)
            front.append(other)
    return set()


def _beside(place: Place) -> Iterable[Place]:
    column, row = place
    return ((column - 1, row), (column + 1, row), (column, row - 1), (column, row + 1))
