"""What a center line is drawn for: holes, slot ends, concentric arcs, patterns, paths of slots.

Everything here is on paper, in mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import atan2, cos, degrees, dist, pi, sin, tau

import numpy as np

from sketcher.drafting.center_places import (
    DRAWN,
    HALF,
    SAME,
    Away,
    Center,
    Path,
    Pitch,
    swept,
)
from sketcher.drafting.paper_view import View
from sketcher.drafting.pitch_circles import pitches_of
from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.chain import nodes
from sketcher.geometry.cluster import components as connected
from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.inspect.detached import without_detached
from sketcher.part.image_id import ImageId
from sketcher.part.value import ArcCurve, CircleCurve, GridPattern, LineCurve, Part, PolarPattern
from sketcher.part.whole import Piece, whole
from sketcher.quantity.parameters import evaluate_all
from sketcher.quantity.parse import evaluate


@dataclass(slots=True)
class Features:
    """Everything that center lines are drawn for, with the outline it lies in.

    `outer` are the ids of the outermost contour, `small` those of holes and slots.
    """

    outline: list[Piece]
    outer: frozenset[str]
    small: frozenset[str]
    centers: list[Center]
    paths: list[Path]
    pitches: list[Pitch]
    axes: list[tuple[str, Line]]


def shown_pieces(part: Part, alone: bool = False) -> tuple[Piece, ...]:
    """Return the pieces that the sheet shows: all, or the half without its reflection.

    With `alone` only the plate's: without outline that lies off it or inside its holes.
    """
    pieces = whole(part)
    if alone:
        pieces = without_detached(pieces)
    if part.drawing.show_half and part.mirrors:
        return tuple(piece for piece in pieces if not piece.image.mirrors)
    return pieces


def find(part: Part, view: View, pieces: Iterable[Piece] | None = None) -> Features:
    """Find what gets a center line.

    Parameters
    ----------
    part : Part
    view : View
        Where the part lies on the paper.
    pieces : iterable of Piece, optional
        Pieces of the part, where the caller has them already.
    """
    shown = shown_pieces(part) if pieces is None else pieces
    placed = [Piece(p.image, view.curve(p.curve), p.role) for p in shown]
    outline = [p for p in placed if p.role == "outline"]
    loops = components(outline)
    paths, bodies = _paths(loops)
    centers = _centers(part, outline, bodies, view)
    for path in paths:
        _add_place(centers, f"{path.id}/center", path.center, path.away)
    pitches = pitches_of(part, placed, centers, view)
    axes = [(name, view.curve(_line(part, curve))) for name, curve in part.curves.items()
            if isinstance(curve, LineCurve) and curve.role == "axis"]
    lines = [(name, line) for name, line in axes if isinstance(line, Line)]
    _orient(part, centers, outline, lines, _slot_ends(loops))
    for path in paths:
        for center in centers:
            if abs(dist(center.at, path.center) - path.radius) < SAME and _is_end(center, path):
                center.path = path.center
    outer = outermost(loops)
    small = frozenset(piece.id for loop in loops if _is_hole_or_slot(loop)
                      for piece in loop if piece.id not in outer)
    return Features(outline, outer, small, centers, paths, pitches, lines)


def _line(part: Part, curve: LineCurve) -> Line:
    return Line(part.points[curve.ends[0]], part.points[curve.ends[1]])


def _is_end(center: Center, path: Path) -> bool:
    for angle in (path.start, path.end):
        at = (path.center[0] + path.radius * cos(angle), path.center[1] + path.radius * sin(angle))
        if dist(at, center.at) < SAME:
            return True
    return False


def _centers(part: Part, outline: Sequence[Piece], bodies: set[str], view: View) -> list[Center]:
    located = located_arcs(part)
    found: list[Center] = []
    worthy: set[int] = set()
    cells: dict[tuple[int, int], list[int]] = {}
    for piece in outline:
        curve = piece.curve
        if isinstance(curve, Line):
            continue
        number = _at_place(found, cells, curve.center)
        if number is None:
            number = len(found)
            found.append(Center(piece.id, curve.center, away=piece.image.away))
            cells.setdefault(_cell(curve.center), []).append(number)
        if piece.id not in bodies:
            center = found[number]
            if isinstance(curve, Circle) and not any(isinstance(c, Circle)
                                                     for _, c in center.rounds):
                center.id, center.away = piece.id, piece.image.away
            center.rounds.append((piece.id, curve))
            drawn = part.curves.get(piece.source)
            if piece.image.drawn and isinstance(drawn, ArcCurve | CircleCurve):
                center.points.add(drawn.center)
        if isinstance(curve, Circle) or piece.source in located:
            worthy.add(number)
    kept = [center for number, center in enumerate(found)
            if number in worthy or _is_worthy(center)]
    for name, pattern in part.patterns.items():
        if isinstance(pattern, PolarPattern):
            _add_place(kept, f"{name}/center", view.point(part.points[pattern.center]))
    return kept


def _is_worthy(center: Center) -> bool:
    """Tell whether the arcs about a center mark it by themselves: half a turn, or concentric."""
    radii = center.by_radius()
    return len(radii) > 1 or any(swept(arcs) > HALF for arcs in radii.values())


def _cell(at: XY) -> tuple[int, int]:
    return (round(at[0]), round(at[1]))


def _at_place(
    found: Sequence[Center], cells: dict[tuple[int, int], list[int]], at: XY
) -> int | None:
    column, row = _cell(at)
    for i in (column - 1, column, column + 1):
        for j in (row - 1, row, row + 1):
            for number in cells.get((i, j), ()):
                if dist(found[number].at, at) < SAME:
                    return number
    return None


def _add_place(centers: list[Center], name: str, at: XY, away: Away = DRAWN) -> None:
    if not any(dist(center.at, at) < SAME for center in centers):
        centers.append(Center(name, at, away=away))


def located_arcs(part: Part) -> set[str]:
    """Return the ids of drawn arcs whose center a dimension locates."""
    points = {name for b in part.bindings.values() if b.value is not None or b.follows
              for name in b.of if name in part.points}
    return {name for name, curve in part.curves.items()
            if isinstance(curve, ArcCurve) and curve.center in points}


def components(pieces: Sequence[Piece]) -> list[list[Piece]]:
    """Group pieces that hang together by their ends."""
    net = nodes([piece.curve for piece in pieces], SAME)
    ties = np.array([(at[0], k) for at in net.at for k in at[1:]], int).reshape(-1, 2)
    groups: dict[int, list[Piece]] = {}
    for piece, label in zip(pieces, connected(len(pieces), *ties.T).tolist(), strict=True):
        groups.setdefault(label, []).append(piece)
    return list(groups.values())


def _is_hole_or_slot(loop: Sequence[Piece]) -> bool:
    ends = [p for p in loop if isinstance(p.curve, Circle)
            or (isinstance(p.curve, Arc) and abs(abs(p.curve.sweep) - pi) < 0.01)]
    return len(ends) == len(loop) or (len(loop) == 4 and len(ends) >= 2)


def _slot_ends(loops: Iterable[Sequence[Piece]]) -> dict[str, frozenset[str]]:
    """Ids of the round ends of straight slots, each with the ids of its slot's outline."""
    return {p.id: frozenset(q.id for q in loop) for loop in loops if len(loop) == 4
            and sum(isinstance(p.curve, Line) for p in loop) == 2
            for p in loop if isinstance(p.curve, Arc)}


def outermost(loops: Iterable[Sequence[Piece]]) -> frozenset[str]:
    """Return the ids of the pieces of the outermost contour."""
    best: tuple[float, frozenset[str]] = (-1.0, frozenset())
    for group in loops:
        x0, y0, x1, y1 = bounds_of(p.curve for p in group)
        area = (x1 - x0) * (y1 - y0)
        if area > best[0]:
            best = (area, frozenset(p.id for p in group))
    return best[1]


def _paths(loops: Iterable[Sequence[Piece]]) -> tuple[list[Path], set[str]]:
    """Find curved slots: two concentric arcs and two round ends between them."""
    found: list[Path] = []
    bodies: set[str] = set()
    for group in loops:
        arcs = [(p, p.curve) for p in group if isinstance(p.curve, Arc)]
        if len(group) != 4 or len(arcs) != 4:
            continue
        for first, second in ((0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3)):
            (one, a), (other, b) = arcs[first], arcs[second]
            caps = [arc for n, (_, arc) in enumerate(arcs) if n not in (first, second)]
            if dist(a.center, b.center) > SAME or a.radius == b.radius:
                continue
            middle, half = 0.5 * (a.radius + b.radius), 0.5 * abs(a.radius - b.radius)
            if any(abs(c.radius - half) > SAME for c in caps):
                continue
            if any(abs(dist(c.center, a.center) - middle) > SAME for c in caps):
                continue
            named = min(one, other, key=lambda p: (len(p.id), p.id))
            found.append(_path(named.image, a, middle, half, caps))
            bodies |= {one.id, other.id}
            break
    return found, bodies


def _path(named: ImageId, body: Arc, radius: float, half: float, caps: Sequence[Arc]) -> Path:
    angles = [atan2(c.center[1] - body.center[1], c.center[0] - body.center[0]) for c in caps]
    start = body.start_angle + min(body.sweep, 0.0)
    first = min(angles, key=lambda angle: (angle - start + 0.1) % tau)
    last = angles[1] if first == angles[0] else angles[0]
    return Path(named.name, body.center, radius, first, first + (last - first) % tau, half,
                named.away)


def _orient(
    part: Part, centers: Sequence[Center], outline: Sequence[Piece],
    axes: Sequence[tuple[str, Line]], slots: Mapping[str, frozenset[str]],
) -> None:
    """Turn each mark along what it belongs to: an axis, its slot, its grid."""
    images = {piece.id: piece.image for piece in outline}
    grids = _grid_angles(part)
    for center in centers:
        for name, curve in center.rounds:
            grid = grids.get(images[name].source)
            if grid is not None:
                center.turn = -grid if images[name].turned_over else grid
            elif isinstance(curve, Arc) and abs(abs(curve.sweep) - pi) < 0.01:
                (x0, y0), (x1, y1) = curve.start, curve.end
                center.turn = _acute(atan2(y1 - y0, x1 - x0))
                if name in slots:
                    center.loop = slots[name]
                    center.slot = atan2(y1 - y0, x1 - x0) + 0.5 * pi
        for _, axis in axes:
            dx, dy = axis.direction
            x, y = center.at[0] - axis.start[0], center.at[1] - axis.start[1]
            oblique = min(abs(dx), abs(dy)) > 1e-6
            if abs(dx * y - dy * x) < SAME or (oblique and not center.turn):
                center.turn = _acute(atan2(dy, dx))


def _acute(angle: float) -> float:
    """Return the angle of the same cross in [-45, 45] degrees, and 0 for a level or plumb one."""
    turn = (angle + 0.25 * pi) % (0.5 * pi) - 0.25 * pi
    return 0.0 if abs(degrees(turn)) < 1e-4 else turn


def _grid_angles(part: Part) -> dict[str, float]:
    values = evaluate_all(part.parameters, part.unit)
    found: dict[str, float] = {}
    for pattern in part.patterns.values():
        if isinstance(pattern, GridPattern):
            angle = evaluate(pattern.angle, "angle", part.unit, values) * pi / 180.0
            for source in pattern.curves:
                found[source] = _acute(angle)
    return found
