"""The views on a page: the part itself, and details at a scale of their own.

A detail is told by its letter with a scale, ``A (5:1)`` or ``DETAIL A`` over ``SCALE 5:1``, by a
thin ring in the view and by its boundary, a part of a circle (ISO 128-3 and ASME Y14.3, from
memory). What lies within the ring is judged in the detail.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

import numpy as np

from tests.sheet_marks.written_sheet import Inked, WrittenSheet

XY = tuple[float, float]
SCALE = re.compile(r"(\d+(?:\.\d+)?) ?: ?(\d+(?:\.\d+)?)")
NEAR = 0.2  # mm that what is clipped may reach past its boundary


@dataclass(frozen=True)
class Missing:
    """What a break leaves out: along x (0) or y (1), where on paper, how much of it in mm."""

    along: int
    at: float
    long: float

    def between(self, one: np.ndarray, other: np.ndarray) -> float:
        """What a length from one place to another lacks on paper."""
        low, high = sorted((float(one[self.along]), float(other[self.along])))
        return self.long if low < self.at < high else 0.0


@dataclass
class SheetView:
    """One view: its letter (empty for the part's own), mm on paper for one mm, what is in it."""

    name: str
    factor: float
    sheet: WrittenSheet
    rings: tuple[tuple[np.ndarray, float], ...] = ()
    larger: frozenset[str] = frozenset()
    boundary: tuple[np.ndarray, float] | None = None
    missing: Missing | None = None

    def clipped(self, at: np.ndarray, radius: float = 0.0) -> bool:
        """Whether a round reaches to the boundary of a detail, or a place lies by it."""
        if self.boundary is None:
            return False
        hub, most = self.boundary
        return math.dist(at, hub) + radius > most - 0.5

    def shown_larger(self, at: np.ndarray, source: str) -> bool:
        """Whether a place is within the ring of a detail, or its like in a pattern is in one."""
        return drawn_name(source) in self.larger or any(
            math.dist(at, hub) < radius + NEAR for hub, radius in self.rings)


def views_of(sheet: WrittenSheet, factor: float, size: XY = (0.0, 0.0)) -> list[SheetView]:
    """The part's own view first; `factor` is its scale, paper by part; `size` the part's in mm."""
    found: list[SheetView] = []
    rings, boundaries = [], []
    for name in dict.fromkeys(s.source for s in sheet.strokes if s.source.startswith("detail:")):
        scale = scale_of(sheet, name)
        rounds = [s.whole for s in sheet.strokes if s.source == name and s.whole.center]
        if math.isnan(scale) or not rounds:
            continue
        ring = min(rounds, key=lambda w: w.radius)
        large = max(rounds, key=lambda w: w.radius)
        rings.append((np.array(ring.center), ring.radius))
        # With nothing to clip no boundary is drawn: the ring tells how far the detail reaches.
        if large is not ring:
            boundaries.append((name, scale, np.array(large.center), large.radius))
    taken: set[int] = set()
    for name, scale, hub, radius in boundaries:
        def holds(points: np.ndarray, hub: np.ndarray = hub, radius: float = radius) -> bool:
            return bool(np.hypot(*(points - hub).T).max() < radius + NEAR)
        owners = {o for o in sheet.owners if stands_in(sheet, o, hub, radius)}
        some = [s for s in sheet.strokes if s.owner in owners or (not s.owner and holds(s.at))]
        taken |= {id(s) for s in some}
        found.append(SheetView(name.partition(":")[2], scale, part_of_sheet(sheet, some, owners),
                               boundary=(hub, radius)))
    rest = [s for s in sheet.strokes if id(s) not in taken]
    inside = {o for view in found for o in view.sheet.owners}
    own = part_of_sheet(sheet, rest, {o for o in sheet.owners if o not in inside})
    larger = frozenset(drawn_name(s.source) for view in found for s in view.sheet.outline
                       if "#" in s.source)
    return [SheetView("", factor, own, tuple(rings), larger, None, left_out(own, factor, size)),
            *found]


def left_out(sheet: WrittenSheet, factor: float, size: XY) -> Missing | None:
    """What one break leaves out: the part is longer than its outline on paper."""
    breaks = [s.at for s in sheet.of("break")]
    if not breaks:
        return None
    edges = np.concatenate([s.at for s in sheet.outline])
    short = factor * np.array(size) - np.ptp(edges, axis=0)
    along = int(short[1] > short[0])
    middle = np.concatenate(breaks)[:, along]
    return Missing(along, 0.5 * float(middle.min() + middle.max()), float(short[along]))


def drawn_name(source: str) -> str:
    """The drawn curve of which a stroke shows an image: ``curve:h1`` for ``curve:h1#3'``."""
    return re.sub(r"[#'].*", "", source)


def scale_of(sheet: WrittenSheet, source: str) -> float:
    """The scale that stands at a detail."""
    for text in sheet.texts:
        found = SCALE.search(text.text) if text.source == source else None
        if found:
            return float(found[1]) / float(found[2])
    return math.nan


def stands_in(sheet: WrittenSheet, owner: str, hub: np.ndarray, radius: float) -> bool:
    """Whether a dimension measures something in a detail: it reaches into its boundary."""
    points = [s.at for s in sheet.on_dimensions if s.owner == owner]
    points += [a.tip[None] for a in sheet.arrows if a.owner == owner]
    if not points:
        return False
    away = np.hypot(*(np.concatenate(points) - hub).T)
    return bool(away.min() < radius + 3.0)


def part_of_sheet(sheet: WrittenSheet, strokes: list[Inked], owners: set[str]) -> WrittenSheet:
    """A sheet with these strokes and the lettering and arrowheads of these dimensions."""
    return WrittenSheet(sheet.size, strokes, [a for a in sheet.arrows if a.owner in owners],
                        [t for t in sheet.texts if not t.owner or t.owner in owners])
