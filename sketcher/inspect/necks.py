"""Narrow places of the plate: between two contours that lie next to each other, and across one.

Two contours lie next to each other where no hole comes into the circle across the neck between
them. With one in it, both of them are nearer to that hole than to each other (the angle at a place
inside the circle is more than a right one), and those narrower necks are told. So the narrowest
neck is always told, and a plate is without advice only where no neck is too narrow; yet n holes
that are all near to each other have some 3n necks, not n * n / 2. (The circles are those of K. R.
Gabriel and R. R. Sokal, Systematic Zoology 18 (1969), from memory.)
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from sketcher.geometry.curve_table import Bools, CurveTable, Floats, Ints, pairs, pairs_between
from sketcher.geometry.curves import Curve, Line
from sketcher.geometry.evaluate import tangent_at
from sketcher.geometry.meet import meet
from sketcher.geometry.winding import Rises
from sketcher.inspect.clearance import Narrow, narrowest
from sketcher.inspect.facing import facing
from sketcher.inspect.profile import Contour
from sketcher.part.image_id import read_image_id
from sketcher.progress import counted

SQUARE = 0.02
"""Cosine below which a way across counts as square to an edge: about one degree."""

WINDING = 3.0
"""Walking round the edge has to be this many times longer than straight across for a neck."""


ALIKE = 9
"""Digits in which images of one neck agree: they are computed one by one."""


@dataclass(frozen=True, slots=True)
class Neck:
    """A narrow place between two curves, and whether material or air is between.

    `contours` holds the numbers of their contours, `places` those of the curves in them.
    """

    ids: tuple[str, str]
    place: Narrow
    material: bool
    contours: tuple[int, int]
    places: tuple[int, int]


class _Edge(NamedTuple):
    """A curve of a contour: number of the contour, place in it, id and geometry."""

    contour: int
    place: int
    id: str
    curve: Curve


def find_necks(
    contours: Sequence[Contour], within: float, apart: bool
) -> tuple[Neck, ...]:
    """Return the necks up to a width, the narrowest first.

    Parameters
    ----------
    contours : sequence of Contour
        Of the plate.
    within : float
        The greatest width, in the part's unit.
    apart : bool
        The contours are known not to meet, which saves the search for it.
    """
    edges = [
        _Edge(number, place, name, curve)
        for number, contour in enumerate(contours)
        for place, (name, curve) in enumerate(zip(contour.ids, contour.shapes, strict=True))
    ]
    if not edges:
        return ()
    table = CurveTable([edge.curve for edge in edges])
    in_hole = np.array([contours[edge.contour].hole for edge in edges])
    found = []
    for i, j in counted(tuple(_candidates(contours, edges, table, in_hole, within))):
        a, b = edges[i], edges[j]
        place = narrowest(a.curve, b.curve, apart)
        if 0.0 < place.width <= within and (
            a.contour != b.contour or _is_neck(contours[a.contour], a.place, b.place, place)
        ):
            found.append((place, i, j))
    free = _free(found, edges, table, in_hole)
    inside = _in_material(contours, [place for place, *_ in found])
    necks = [
        Neck((edges[i].id, edges[j].id), place, bool(inside[k]),
             (edges[i].contour, edges[j].contour), (edges[i].place, edges[j].place))
        for k, (place, i, j) in enumerate(found) if free[k]
    ]
    return tuple(_distinct(sorted(necks, key=_rank), contours))


def _rank(neck: Neck) -> tuple[float, int]:
    """Return what necks are sorted by: of equally wide ones the drawn one stands for its images."""
    images = sum(not read_image_id(name).drawn for name in neck.ids)
    return float(f"{neck.place.width:.{ALIKE}g}"), images


def _candidates(
    contours: Sequence[Contour], edges: Sequence[_Edge], table: CurveTable, in_hole: Bools,
    within: float,
) -> Iterator[tuple[int, int]]:
    """Yield pairs of curves that may have a neck between them, by their left sides."""
    owner = np.array([edge.contour for edge in edges])
    columns = [facing(table, owner, in_hole, within)]
    first = 0
    for contour in contours:
        count = len(contour.ids)
        if count > 3:  # of up to three curves each is a neighbour of all others
            i, j = pairs(table.boxes[first : first + count], within)
            beside = (np.abs(i - j) == 1) | (np.abs(i - j) == count - 1)
            columns.append((i[~beside] + first, j[~beside] + first))
        first += count
    i, j = (np.concatenate(column) for column in zip(*columns, strict=True))
    rank = np.empty(len(edges), np.intp)
    rank[np.argsort(table.boxes[:, 0], kind="stable")] = np.arange(len(edges))
    order = np.lexsort((np.maximum(rank[i], rank[j]), np.minimum(rank[i], rank[j])))
    yield from zip(i[order].tolist(), j[order].tolist(), strict=True)


def _free(
    found: Sequence[tuple[Narrow, int, int]], edges: Sequence[_Edge], table: CurveTable,
    in_hole: Bools,
) -> Bools:
    """Tell which necks no hole comes between; across one contour, no other curve at all."""
    free: Bools = np.ones(len(found), bool)
    free[_cut_across(found, edges, table)] = False
    between = np.array([k for k, (_, i, j) in enumerate(found)
                        if edges[i].contour != edges[j].contour], dtype=np.intp)
    holes = np.flatnonzero(in_hole)
    if not len(between) or not len(holes):
        return free
    on_a = np.array([found[k][0].on_a for k in between])
    on_b = np.array([found[k][0].on_b for k in between])
    own = np.array([found[k][1:] for k in between])
    middle = 0.5 * (on_a + on_b)
    half = 0.5 * np.array([found[k][0].width for k in between])
    box = np.concatenate((middle - half[:, None], middle + half[:, None]), axis=1)
    for k, hole in pairs_between(box, table.boxes[holes], 0.0):
        third = np.all(holes[hole][:, None] != own[k], axis=1)
        k, curve = k[third], holes[hole[third]]
        at = _nearest(table, curve, middle[k])
        inside = np.hypot(*(at - middle[k]).T) <= half[k] * (1.0 + 1e-9)
        # The curve that goes on from an end of the neck touches the circle there.
        for end in (on_a, on_b):
            inside &= np.hypot(*(at - end[k]).T) > 1e-6 * half[k]
        free[between[k[inside]]] = False
    return free


def _cut_across(
    found: Sequence[tuple[Narrow, int, int]], edges: Sequence[_Edge], table: CurveTable
) -> list[int]:
    """Return the necks across one contour whose way another curve cuts.

    A hole amid a link makes it neither a slot nor a web of the link's width: the two necks beside
    the hole are narrower, and are told.
    """
    across = [k for k, (_, i, j) in enumerate(found) if edges[i].contour == edges[j].contour]
    ways = [Line(found[k][0].on_a, found[k][0].on_b) for k in across]
    if not ways:
        return []
    cut = set()
    for one, other in pairs_between(CurveTable(ways).boxes, table.boxes, 0.0):
        for way, number in zip(one.tolist(), other.tolist(), strict=True):
            k = across[way]
            # At its ends the way meets its own curves, and what goes on from them.
            if number not in found[k][1:] and any(
                    1e-6 < place.a < 1.0 - 1e-6
                    for place in meet(ways[way], edges[number].curve)):
                cut.add(k)
    return sorted(cut)


def _nearest(table: CurveTable, which: Ints, points: Floats) -> Floats:
    """Return the place of each curve that is nearest to the point beside it."""
    foot = table.points(which, np.clip(table.parameters(which, points), 0.0, 1.0))
    best = np.hypot(*(foot - points).T)
    for end in (table.start[which], table.end[which]):
        nearer = np.hypot(*(end - points).T) < best
        foot = np.where(nearer[:, None], end, foot)
        best = np.where(nearer, np.hypot(*(end - points).T), best)
    return foot


def _in_material(contours: Sequence[Contour], places: Sequence[Narrow]) -> Bools:
    """Tell whether the middle of each neck lies inside an odd number of contours."""
    rises = Rises([curve for contour in contours for curve in contour.shapes])
    at, _ = rises.crossed_by(np.array([place.middle for place in places]).reshape(len(places), 2))
    odd: Bools = np.bincount(at, minlength=len(places)) % 2 == 1
    return odd


def _distinct(necks: Sequence[Neck], contours: Sequence[Contour]) -> Iterator[Neck]:
    """Yield one neck for each narrow place: those at the same curves or next to them are one."""
    taken: set[object] = set()
    for neck in necks:
        one, two = neck.contours
        if one != two:
            keys: set[object] = {neck.contours}
            around = keys
        else:
            count = len(contours[one].ids)
            keys = {(one, place, neck.material) for place in neck.places}
            around = {(one, (place + step) % count, neck.material)
                      for place in neck.places for step in (-1, 0, 1)}
        if not keys & taken:
            taken |= around
            yield neck


def _is_neck(contour: Contour, i: int, j: int, found: Narrow) -> bool:
    """Tell a neck from the two sides of a corner.

    Walls that face each other, so that the way across is square to both, make a neck; from a vertex
    the way round the edge has to be much longer than the way across.
    """
    around = _around(contour, i, j, found)
    if around >= WINDING * found.width:
        return True
    ux = (found.on_b[0] - found.on_a[0]) / found.width
    uy = (found.on_b[1] - found.on_a[1]) / found.width
    for curve, t in ((contour.shapes[i], found.a), (contour.shapes[j], found.b)):
        x, y = tangent_at(curve, t)
        if abs(x * ux + y * uy) > SQUARE:
            return False
    return around >= 0.5 * WINDING * found.width


def _around(contour: Contour, i: int, j: int, found: Narrow) -> float:
    """The shorter way along the contour between the two places."""
    before = contour.starts
    one = before[i] + found.a * contour.shapes[i].length
    two = before[j] + found.b * contour.shapes[j].length
    way = abs(two - one)
    return min(way, contour.perimeter - way)
