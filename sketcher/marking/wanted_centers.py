"""Which center lines a hand-in should have: what the key's paper has, at the hand-in's own places.

A hole that was drawn elsewhere is marked where it was drawn; one that was not drawn is not marked.
All is in mm on the paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, cos, dist, pi, sin
from typing import TYPE_CHECKING, Literal, TypeAlias
from weakref import WeakKeyDictionary

from sketcher.drafting.center_places import HALF, SAME, Center, Path, Pitch, covers, swept
from sketcher.drafting.features import Features, find, located_arcs
from sketcher.drafting.paper_view import View
from sketcher.drafting.tracks import Straight, straight
from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.geometry.meet import meet
from sketcher.marking.key_shape import KeyShape
from sketcher.part.value import GridPattern, Part, PolarPattern
from sketcher.part.whole import whole
from sketcher.quantity.format import length

if TYPE_CHECKING:
    from sketcher.marking.comparison import Comparison

CenterSort: TypeAlias = Literal["hole", "slot end", "arc", "located arc"]


@dataclass(frozen=True, slots=True)
class WantedCenter:
    """A place that two center lines are to cross at.

    Parameters
    ----------
    at : (x, y)
        Where the hand-in has it.
    planned : (x, y)
        Where the key has it: a mark there is as good, what is off is the hole.
    sort : str
        ``located arc`` is one of less than half a turn whose center a dimension goes to.
    words : str
        What it is, with its size.
    rounds : tuple of Arc or Circle
        Of the hand-in, about it.
    ways : tuple of float
        Directions of its two lines on the key's paper, in radians.
    about : (x, y) or None
        Center of the pitch circle or curved slot that it stands on.
    grid : str
        Id of the grid that it belongs to.
    """

    at: XY
    planned: XY
    sort: CenterSort
    words: str
    rounds: tuple[Arc | Circle, ...]
    ways: tuple[float, float]
    about: XY | None = None
    grid: str = ""

    @property
    def radius(self) -> float:
        """Smallest radius about it."""
        return min(curve.radius for curve in self.rounds)

    def met(self, way: float) -> float:
        """Return the smallest radius that lies in a direction; 0 for none."""
        return min((curve.radius for curve in self.rounds if covers(curve, self.at, way, -0.03)),
                   default=0.0)


@dataclass(frozen=True, slots=True)
class WantedRing:
    """A round center line: a pitch circle, or the middle of a curved slot, through its centers."""

    center: XY
    places: tuple[WantedCenter, ...]
    closed: bool

    @property
    def radius(self) -> float:
        """Mean distance of its centers from its middle."""
        return sum(dist(self.center, each.at) for each in self.places) / len(self.places)


@dataclass(frozen=True, slots=True)
class WantedAxis:
    """An axis on paper: its carrier, and from where to where it crosses the part."""

    carrier: Straight
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class WantedLines:
    """All center lines that a hand-in should have."""

    centers: tuple[WantedCenter, ...]
    pitches: tuple[WantedRing, ...]
    paths: tuple[WantedRing, ...]
    axes: tuple[WantedAxis, ...]


_KEPT: WeakKeyDictionary[
    KeyShape, dict[float, tuple[Features, list[tuple[str, WantedAxis]]]]] = WeakKeyDictionary()


def wanted_lines(comparison: Comparison, view: View) -> WantedLines:
    """Return the center lines that a hand-in should have, in mm on paper.

    Parameters
    ----------
    comparison : Comparison
    view : View
        From the key's unit to the paper.
    """
    part = comparison.shape.part
    features, axes = key_features(comparison.shape, view.factor)
    off = {name for name, entry in part.drawing.centers.items() if entry.get("off", False)}
    centers = list(_centers(comparison, view, features, off))
    pitches = [ring for pitch in features.pitches
               if pitch.id not in off and _is_meant(part, pitch)
               for ring in [_ring(pitch.center, pitch.holes, centers, pitch.closed)] if ring]
    paths = [ring for path in features.paths if f"{path.id}/path" not in off
             for ring in [_ring(path.center, _ends(path), centers, False)] if ring]
    return WantedLines(tuple(centers), tuple(r for r in pitches if len(r.places) > 2),
                       tuple(r for r in paths if len(r.places) > 1),
                       tuple(axis for name, axis in axes if f"{name}/axis" not in off))


def key_features(
    key: KeyShape, factor: float
) -> tuple[Features, list[tuple[str, WantedAxis]]]:
    """Return what of a key gets center lines, in mm on paper, and its axes by id."""
    kept = _KEPT.setdefault(key, {})
    if factor not in kept:
        features = find(key.part, View(factor), whole(key.part))
        kept[factor] = features, [(name, axis) for name, line in features.axes
                                  for axis in [_axis(line, features)] if axis]
    return kept[factor]


def _centers(
    comparison: Comparison, view: View, features: Features, off: set[str]
) -> Iterator[WantedCenter]:
    drawn = _drawn_rounds(comparison, view)
    part = comparison.shape.part
    grids = {source: name for name, pattern in part.patterns.items()
             if isinstance(pattern, GridPattern) for source in pattern.curves}
    sources = {piece.id: piece.source for piece in features.outline}
    located = located_arcs(part)
    for center in features.centers:
        rounds = [drawn[name] for name, _ in center.rounds if name in drawn]
        sort = _sort(center, {sources[name] for name, _ in center.rounds} & located)
        if not rounds or sort is None or any(
                name.rpartition("/")[0] == center.id for name in off):
            continue
        kept = [curve for curve in rounds if isinstance(curve, Circle)] or rounds
        main = min(kept, key=lambda curve: curve.radius)
        about = center.polar or center.path
        first = center.turn if about is None else atan2(
            main.center[1] - about[1], main.center[0] - about[0])
        yield WantedCenter(
            main.center, center.at, sort, _words(sort, main, view, part),
            tuple(dict.fromkeys(c for c in rounds if dist(c.center, main.center) < SAME)),
            (first % pi, (first + 0.5 * pi) % pi), about,
            next((grids[sources[name]] for name, _ in center.rounds if sources[name] in grids),
                 ""))


def _drawn_rounds(comparison: Comparison, view: View) -> dict[str, Arc | Circle]:
    """Return by the id of each round piece of the key what the hand-in has of it, on paper."""
    hand = dict(comparison.matching.pairs)
    found: dict[str, Arc | Circle] = {}
    for number, feature in enumerate(comparison.shape.found):
        if number in hand and not feature.is_line:
            curve = view.curve(comparison.features[hand[number]].curve)
            if not isinstance(curve, Line):
                found.update({comparison.shape.pieces[n].id: curve for n in feature.sources})
    return found


def _sort(center: Center, located: set[str]) -> CenterSort | None:
    if any(isinstance(curve, Circle) for _, curve in center.rounds):
        return "hole"
    if center.loop or center.path:
        return "slot end"
    if any(swept(arcs) > HALF for arcs in center.by_radius().values()):
        return "arc"
    return "located arc" if located else None


def _words(sort: CenterSort, curve: Arc | Circle, view: View, part: Part) -> str:
    radius = curve.radius / view.factor
    if sort == "hole":
        return f"the hole Ø{length(2.0 * radius, part.unit)}"
    return f"the {'slot end' if sort == 'slot end' else 'arc'} R{length(radius, part.unit)}"


def _is_meant(part: Part, pitch: Pitch) -> bool:
    """Tell whether holes are a pattern or stand on laid-out layout, not in a ring by chance."""
    name = pitch.id.partition("/")[0]
    return isinstance(part.patterns.get(name), PolarPattern) or (name in part.curves and (
        part.curves[name].role == "layout"))


def _ends(path: Path) -> list[XY]:
    return [(path.center[0] + path.radius * cos(a), path.center[1] + path.radius * sin(a))
            for a in (path.start, path.end)]


def _ring(
    center: XY, places: Sequence[XY], centers: Sequence[WantedCenter], closed: bool
) -> WantedRing | None:
    on = tuple(each for at in places for each in centers if dist(each.planned, at) < SAME)
    return WantedRing(center, on, closed) if on else None


def _axis(line: Line, features: Features) -> WantedAxis | None:
    carrier = straight(line.start, atan2(line.direction[1], line.direction[0]))
    crossed = [carrier.where(m.point)[0] for piece in features.outline
               for m in meet(line, piece.curve, bounded=(False, True))]
    return WantedAxis(carrier, min(crossed), max(crossed)) if len(crossed) > 1 else None
