"""Reads a template's sheets back by pdfplumber and lays them together, as somebody at a bench does.

It knows the paper alone: black lines and grey ones, the name in large letters, bars with ticks, and
that a register mark is a cross of 10 mm with a ring of 4 mm at a corner of its sheet. Sheets are
laid together by the marks that two of them share.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from math import dist, hypot, inf, tau
from pathlib import Path
from statistics import fmean

import numpy as np
import pdfplumber
import shapely
import shapely.affinity
from shapely.geometry.base import BaseGeometry

from tests.sheet_reader import MM, Dash, Lettering, arc_through, pdf_letter

XY = tuple[float, float]
RING, CROSS, PUNCH = 2.0, 10.0, 5.0
LONGEST_DASH = 14.0
"""mm: a longer stroke is an edge. A dash of a narrow center line of ISO 128-20 is 24 d of 0.25 mm,
at most half as much again where it is fitted; what crosses small holes unbroken is as long as they
are wide with 1/8 in at each end."""
NEAR = 0.02
SAGITTA = 0.003
BAND = 0.05
"""mm within which a stroke is on the outline, and what any of it may be off."""
OF_CUBIC = 12
STRIPS = (17.5, 37.5)
"""mm, where the strips at the left and at the bottom end, half a millimetre less: the printer's
page is whole points high, and all that is on it stands up to 0.15 mm higher or lower."""
ROUNDS, NARROWED, PLACES, TINY = 24, 6, 80, 1e-6


@dataclass
class TileSheet:
    """One printed sheet, in mm from its lower left corner."""

    size: XY
    words: str
    name: str
    strokes: list[Dash] = field(default_factory=list)
    grey: list[Dash] = field(default_factory=list)
    letters: list[Lettering] = field(default_factory=list)

    def covered(self) -> list[str]:
        """Letters that a black line runs through."""
        lines = shapely.STRtree([_chords(d) for d in self.strokes])
        boxes = [shapely.Polygon(one.corners) for one in self.letters]
        return [self.letters[k].text for k in sorted(set(lines.query(boxes, "intersects")[0]))
                if self.letters[k].text.strip()]

    @property
    def place(self) -> XY:
        """Column and row as its name says them; (0, 0) where there is one sheet only."""
        found = re.fullmatch(r"([A-Z]+)(\d+)", self.name)
        if not found:
            return (0, 0)
        column = 0
        for letter in found[1]:
            column = 26 * column + ord(letter) - ord("A") + 1
        return (column - 1, int(found[2]) - 1)

    def crosses(self, length: float) -> list[XY]:
        """Middles of two strokes of a length that halve each other square."""
        some = [d for d in self.strokes if d.center is None and abs(d.length - length) < NEAR]
        found: list[XY] = []
        for k, one in enumerate(some):
            for other in some[k + 1:]:
                if dist(_middle(one), _middle(other)) < NEAR and abs(_across(one, other)) > 0.999:
                    found.append(_middle(one))
        return found

    def marks(self) -> dict[XY, XY]:
        """Register marks by the corner of the grid, column and row, that the name gives them."""
        rings = [d.center for d in self.strokes if _is_round(d) and abs(d.radius - RING) < NEAR]
        at = [c for c in self.crosses(CROSS) if any(dist(c, ring) < NEAR for ring in rings)]
        column, row = self.place
        middle = (0.5 * self.size[0], 0.5 * self.size[1])
        return {(column + (x > middle[0]), row + (y < middle[1])): (x, y) for x, y in at}

    def bars(self) -> dict[str, list[float]]:
        """Distances from the first tick to each on one side of a bar, level and upright."""
        found: dict[str, list[float]] = {}
        for way, along in (("level", 0), ("upright", 1)):
            for base in (d for d in self.strokes if d.center is None
                         and abs(d.length - 101.6) < 0.5 and _runs(d, along)):
                for side in (1.0, -1.0):
                    ticks = [_ticked(d, base, along, side) for d in self.strokes]
                    at = sorted(t for t in ticks if t is not None)
                    if len(at) >= 5:
                        found[f"{way} {'mm' if len(at) == 11 else 'in'}"] = [
                            a - at[0] for a in at]
        return found


def _middle(d: Dash) -> XY:
    return (0.5 * (d.start[0] + d.end[0]), 0.5 * (d.start[1] + d.end[1]))


def _across(a: Dash, b: Dash) -> float:
    ax, ay, bx, by = (v / d.length for d in (a, b)
                      for v in (d.end[0] - d.start[0], d.end[1] - d.start[1]))
    return ax * by - ay * bx


def _is_round(d: Dash) -> bool:
    return d.center is not None and abs(d.high - d.low - tau) < 1e-3


def _runs(d: Dash, along: int) -> bool:
    return abs(d.start[1 - along] - d.end[1 - along]) < NEAR


def _ticked(d: Dash, base: Dash, along: int, side: float) -> float | None:
    """Where a stroke stands on a bar as a tick on one side, or nothing."""
    if d.center is not None or not 1.0 < d.length < 4.0 or not _runs(d, 1 - along):
        return None
    ends = sorted((d.start[1 - along], d.end[1 - along]), key=lambda v: abs(v - base.start[
        1 - along]))
    on = abs(ends[0] - base.start[1 - along]) < NEAR
    low, high = sorted((base.start[along], base.end[along]))
    if not on or side * (ends[1] - ends[0]) < 0.0 or not low - 1 < d.start[along] < high + 1:
        return None
    return d.start[along]


def read_template(path: Path) -> list[TileSheet]:
    """Return the sheets of a template."""
    found = []
    with pdfplumber.open(path) as document:
        for page in document.pages:
            high = float(page.height) * MM
            big = "".join(c["text"] for c in page.chars if c["size"] * MM > 9.0)
            sheet = TileSheet((float(page.width) * MM, high), page.extract_text(), big)
            for item in (*page.lines, *page.curves):
                if item["fill"] and not item["stroke"]:
                    continue
                points = [(x * MM, high - y * MM) for x, y in _points(item["path"])]
                stroke = (Dash("", *points) if item["object_type"] == "line"
                          else arc_through("", points))
                black = not any(item["stroking_color"] or ())
                (sheet.strokes if black else sheet.grey).append(stroke)
            sheet.letters = [pdf_letter(char) for char in page.chars]
            found.append(sheet)
    return found


def _points(path: list[tuple]) -> list[XY]:
    """Places along a path of lines and Bezier cubics, in the page's own unit."""
    found: list[XY] = []
    for sign, *ends in path:
        if sign == "c":
            a, b, c, d = map(np.array, (found[-1], *ends))
            t = np.linspace(0.0, 1.0, OF_CUBIC + 1)[1:, None]
            along = (1 - t)**3 * a + 3 * t * (1 - t)**2 * b + 3 * t**2 * (1 - t) * c + t**3 * d
            found += [(float(x), float(y)) for x, y in along]
        elif sign != "h":
            found.append(ends[0])
    return found


def moves(sheets: list[TileSheet]) -> tuple[dict[str, XY], float]:
    """Return by how much each sheet is moved to lie with the others, and how far marks gape."""
    marks = {sheet.name: sheet.marks() for sheet in sheets}
    there: dict[XY, XY] = {}
    placed: dict[str, XY] = {}
    worst, waiting = 0.0, [sheet.name for sheet in sheets]
    while waiting:
        # Two marks hold a sheet straight; the first one lies by itself.
        name = next((n for n in waiting if not placed or len(there.keys() & marks[n].keys()) > 1),
                    None)
        assert name is not None, f"nothing places {waiting}"
        waiting.remove(name)
        shared = there.keys() & marks[name].keys()
        gaps = [(there[k][0] - marks[name][k][0], there[k][1] - marks[name][k][1]) for k in shared]
        dx, dy = (fmean(v) for v in zip(*gaps, strict=True)) if gaps else (0.0, 0.0)
        worst = max([worst, *(hypot(x - dx, y - dy) for x, y in gaps)])
        placed[name] = (dx, dy)
        for k, (x, y) in marks[name].items():
            there.setdefault(k, (x + dx, y + dy))
    return placed, worst


def laid_together(sheets: list[TileSheet]) -> tuple[list[shapely.LineString], list[XY], float]:
    """Return all strokes of the part in one place, its punch crosses, and how far marks gape."""
    placed, worst = moves(sheets)
    strokes, punches = [], []
    for sheet in sheets:
        dx, dy = placed[sheet.name]
        rings = list(sheet.marks().values())
        for d in sheet.strokes:
            low = min(y for _, y in ((d.start, d.end) if d.center is None else d.points(5.0)))
            left = min(x for x, _ in ((d.start, d.end) if d.center is None else d.points(5.0)))
            mark = any(dist(d.center or _middle(d), at) < NEAR for at in rings) and (
                abs(d.radius - RING) < NEAR or abs(d.length - CROSS) < NEAR)
            if not mark and left > STRIPS[0] and low > STRIPS[1]:
                strokes.append(shapely.affinity.translate(_chords(d), dx, dy))
        punches += [(x + dx, y + dy) for x, y in sheet.crosses(PUNCH)]
    return strokes, punches, worst


def _chords(d: Dash) -> shapely.LineString:
    if d.center is None:
        return shapely.LineString([d.start, d.end])
    step = (8.0 * SAGITTA * d.radius) ** 0.5
    return shapely.LineString(d.points(step))


@dataclass(frozen=True)
class Judged:
    """How a template laid together stands to the part, in mm."""

    uncovered: float
    """How far the outline stands off the nearest stroke at most."""
    false: float
    """How far a stroke that is no dash stands off the outline at most."""
    contours: int
    """Closed contours that the strokes on the outline make."""
    apart: float
    """Hausdorff distance of those from the part's, the worst; infinite where one is lacking."""
    area: float
    """Symmetric difference of both by the length of the outline."""

    @property
    def worst(self) -> float:
        return max(self.uncovered, self.false, self.apart, self.area)


def judged(contours: list[shapely.Polygon], strokes: list[shapely.LineString]) -> Judged:
    """Compare contours in mm, wherever they lie, with strokes that are laid together."""
    edges = [s for s in strokes if s.length > LONGEST_DASH] or strokes
    contours = [shapely.force_2d(c) for c in contours]
    outline = shapely.MultiLineString([c.exterior for c in contours])
    dx, dy = _shift(outline, shapely.unary_union(edges))
    outline = shapely.affinity.translate(outline, dx, dy)
    places = shapely.points(shapely.get_coordinates(shapely.segmentize(outline, 0.25)))
    _, off = shapely.STRtree(strokes).query_nearest(places, return_distance=True,
                                                    all_matches=False)
    shapely.prepare(outline)
    on = [s for s in strokes if _off(s, outline) < BAND]
    bands = shapely.get_parts(shapely.unary_union(shapely.buffer(on, BAND, quad_segs=2)))
    made = sorted((shapely.Polygon(ring).buffer(BAND, join_style="mitre", mitre_limit=20.0)
                   for band in bands for ring in band.interiors), key=lambda p: p.area)
    wanted = sorted((shapely.affinity.translate(c, dx, dy) for c in contours),
                    key=lambda p: p.area)
    apart = area = inf
    if len(made) == len(wanted):
        pairs = [(m, min(wanted, key=lambda w: dist(m.centroid.coords[0], w.centroid.coords[0])
                         + abs(m.area - w.area) ** 0.5)) for m in made]
        apart = max(shapely.hausdorff_distance(m.exterior, w.exterior) for m, w in pairs)
        area = sum(m.symmetric_difference(w).area for m, w in pairs) / outline.length
    return Judged(float(off.max()), max(_off(edge, outline) for edge in edges), len(made), apart,
                  area)


def _off(stroke: shapely.LineString, outline: BaseGeometry) -> float:
    at = shapely.points(shapely.get_coordinates(shapely.segmentize(stroke, 1.0)))
    return float(shapely.distance(at, outline).max())


def _shift(outline: BaseGeometry, ink: BaseGeometry) -> XY:
    """Return by how much an outline is moved onto ink: by their boxes, then to the nearest places.

    The ink may lack short edges, so its box is a first guess alone.
    """
    (a, b, c, d), (e, f, g, h) = outline.bounds, ink.bounds
    dx, dy = 0.5 * (e + g - a - c), 0.5 * (f + h - b - d)
    at = shapely.get_coordinates(shapely.segmentize(ink, 5.0))
    at = at[::max(1, len(at) // PLACES)]
    for turn in range(ROUNDS):
        moved = shapely.affinity.translate(outline, dx, dy)
        lines = shapely.shortest_line(shapely.points(at), moved)
        gap = shapely.get_coordinates(lines).reshape(-1, 2, 2)
        gap = gap[:, 0] - gap[:, 1]
        far = np.hypot(*gap.T)
        some = far > TINY
        if turn >= NARROWED:  # what is no edge does not pull any more
            some &= far <= max(4.0 * float(np.median(far)), TINY)
        if not some.any():
            break
        # Across the outline a place says how far to go, along it nothing.
        step, *_ = np.linalg.lstsq(gap[some] / far[some, None], far[some])
        dx, dy = dx + float(step[0]), dy + float(step[1])
        if hypot(*step) < TINY:
            break
    return dx, dy
