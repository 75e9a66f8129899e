"""Curves cut at their crossings into a planar net of half-edges, all in columns.

Half-edge ``2 e`` runs along edge ``e`` from its first node to its second, ``2 e + 1`` back; each
has one face on its left. (Half-edges: Muller and Preparata 1978; de Berg et al., Computational
Geometry, chapter 2; from memory.)
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi, tau

import numpy as np

from sketcher.geometry.cluster import clusters, components
from sketcher.geometry.curve_table import Bools, CurveTable, Floats, Ints, pairs
from sketcher.geometry.curves import Curve
from sketcher.geometry.meet_many import Meetings, meet_all, same_carrier
from sketcher.geometry.winding import Rises


@dataclass(frozen=True, eq=False)
class Edges:
    """Pieces of curves between nodes, coincident ones merged.

    Attributes
    ----------
    tail, head : int (m,)
        Nodes; an arc runs counter-clockwise from tail to head.
    carrier : int (m,)
        Curves along one line or circle have one number.
    center, radius, angle, sweep : float
        Of arcs: sweep above zero, which is 0 for lines.
    first, curve : int
        The curves over edge e are ``curve[first[e]:first[e + 1]]``.
    """

    tail: Ints
    head: Ints
    carrier: Ints
    center: Floats
    radius: Floats
    angle: Floats
    sweep: Floats
    first: Ints
    curve: Ints

    def __len__(self) -> int:
        return len(self.tail)


@dataclass(frozen=True, eq=False)
class Net:
    """Nodes (n, 2), edges, and for each of the half-edges what follows round its face.

    `cycle` numbers the boundary that a half-edge belongs to, `area` is signed by cycle, `part`
    numbers the connected part that a cycle belongs to, and `outer` tells the one cycle of a part
    that goes round all of it, with the area outside on its left.
    """

    nodes: Floats
    edges: Edges
    following: Ints
    cycle: Ints
    area: Floats
    part: Ints
    outer: Bools


def build(curves: Sequence[Curve], tol: float) -> Net:
    """Cut the curves at their crossings and tie the pieces to a net."""
    table = CurveTable(curves)
    met = meet_all(table, tol)
    carrier = _carriers(table, met, tol)
    curve, t, point = _cuts(table, met, carrier)
    label = clusters(point, tol)
    kept, node = np.unique(label, return_inverse=True)
    nodes = point[kept]
    edges = _edges(table, carrier, curve, t, node, nodes, tol)
    used, compact = np.unique(np.concatenate((edges.tail, edges.head)), return_inverse=True)
    tail, head = compact[: len(edges)], compact[len(edges) :]
    edges = Edges(tail, head, *(getattr(edges, name) for name in _REST))
    return _tied(nodes[used], edges)


_REST = ("carrier", "center", "radius", "angle", "sweep", "first", "curve")


def _carriers(table: CurveTable, met: Meetings, tol: float) -> Ints:
    """Number the lines and circles along which the curves run."""
    full = np.flatnonzero(table.full)
    i, j = (full[k] for k in pairs(table.boxes[full], tol))
    same = same_carrier(table, i, j, tol)
    a, b = (np.concatenate(c) for c in ((met.a[met.shared], i[same]), (met.b[met.shared], j[same])))
    return components(len(table), a, b)


def _cuts(table: CurveTable, met: Meetings, carrier: Ints) -> tuple[Ints, Floats, Floats]:
    """Curve, parameter and point of every place where a curve is cut; its own ends first."""
    n = np.arange(len(table))
    ends = n[~table.full]
    curve = np.concatenate((ends, ends, met.a, met.b))
    t = np.concatenate((np.zeros(len(ends)), np.ones(len(ends)), met.ta, met.tb))
    point = np.concatenate((table.start[ends], table.end[ends], met.point, met.point))
    t = np.where(table.full[curve], t % 1.0, t)
    # A circle that nothing meets is cut at its right, so that it has a node.
    alone = n[table.full & ~np.isin(n, curve)]
    curve = np.concatenate((curve, alone))
    t = np.concatenate((t, np.zeros(len(alone))))
    point = np.concatenate((point, table.start[alone]))
    return _shared_cuts(table, carrier, curve, t, point)


def _shared_cuts(
    table: CurveTable, carrier: Ints, curve: Ints, t: Floats, point: Floats
) -> tuple[Ints, Floats, Floats]:
    """Cut every curve where another on the same carrier is cut, so that their pieces agree."""
    count = np.bincount(carrier, minlength=len(table))
    parts = [(curve, t, point)]
    for group in np.flatnonzero(count > 1):
        members = np.flatnonzero(carrier == group)
        at = point[np.isin(curve, members)]
        for k in members:
            where = table.parameters(np.full(len(at), k), at)
            inside = np.full(len(at), bool(table.full[k])) | ((where > 0.0) & (where < 1.0))
            own = np.full(int(inside.sum()), k)
            parts.append((own, where[inside], at[inside]))
    curves, parameters, points = (np.concatenate(c) for c in zip(*parts, strict=True))
    return curves, parameters, points


def _edges(
    table: CurveTable, carrier: Ints, curve: Ints, t: Floats, node: Ints, nodes: Floats, tol: float
) -> Edges:
    order = np.lexsort((t, curve))
    curve, t, node = curve[order], t[order], node[order]
    n = len(curve)
    last = np.append(curve[1:] != curve[:-1], True)[:n]
    ahead = np.arange(n) + 1
    # After the last cut of a circle comes its first one, a turn later.
    begin = np.flatnonzero(np.append(True, last[:-1])[:n])
    ahead[last] = begin
    t1 = t[ahead] + last
    ok = ~last | table.full[curve]
    k = np.flatnonzero(ok)
    own, t0, t1, tail, head = curve[k], t[k], t1[k], node[k], node[ahead[k]]
    long = (tail != head) | ((t1 - t0) * table.length[own] > 10.0 * tol)
    own, t0, t1, tail, head = own[long], t0[long], t1[long], tail[long], head[long]
    bent = table.round[own]
    flip = np.where(bent, table.sweep[own] < 0.0, tail > head)
    angle = table.angle[own] + np.where(flip, t1, t0) * table.sweep[own]
    sweep = np.where(bent, np.abs((t1 - t0) * table.sweep[own]), 0.0)
    tail, head = np.where(flip, head, tail), np.where(flip, tail, head)
    # Pieces between the same nodes that pass the same middle are one.
    bow = _along(table.center[own], table.radius[own], angle + 0.5 * sweep)
    middle = np.where(bent[:, None], bow, 0.5 * (nodes[tail] + nodes[head]))
    place = clusters(middle, 2.0 * tol)
    low, high = np.minimum(tail, head), np.maximum(tail, head)
    order = np.lexsort((own, place, high, low))
    key = np.stack((low, high, place))[:, order]
    first = np.flatnonzero(np.append(True, np.any(key[:, 1:] != key[:, :-1], axis=0))[: len(own)])
    lead = order[first]
    curves = own[lead]
    return Edges(
        tail[lead], head[lead], carrier[curves], table.center[curves], table.radius[curves],
        angle[lead], sweep[lead], np.append(first, len(own)), own[order],
    )


def _tied(nodes: Floats, edges: Edges) -> Net:
    m = len(edges)
    origin = np.stack((edges.tail, edges.head), axis=1).ravel()
    twin = np.arange(2 * m) ^ 1
    order = np.lexsort((_bearings(nodes, edges, origin), origin))
    place = np.empty(2 * m, np.intp)
    place[order] = np.arange(2 * m)
    starts = np.searchsorted(origin[order], origin, side="left")
    ends = np.searchsorted(origin[order], origin, side="right") - 1
    # Round a face on the left: from the way back, the next one clockwise.
    before = np.where(place == starts, ends, place - 1)
    following = order[before[twin]]
    cycle = _orbits(following)
    names, cycle = np.unique(cycle, return_inverse=True)
    area: Floats = np.zeros(len(names))
    np.add.at(area, cycle, _areas(nodes, edges))
    part = components(len(nodes), edges.tail, edges.head)[origin[names]]
    # Of all boundaries of a part the one around it has the least area, below or at zero.
    by_area = np.lexsort((area, part))
    outer = np.zeros(len(names), bool)
    outer[by_area[np.append(True, part[by_area][1:] != part[by_area][:-1])[: len(names)]]] = True
    return Net(nodes, edges, following, cycle, area, part, outer)


def _bearings(nodes: Floats, edges: Edges, origin: Ints) -> Floats:
    """Direction of each half-edge where it has left its node by one common distance.

    Half the way to the nearest middle of an edge there: tangent curves have come apart, and none
    has met another yet. So the order is right even where directions agree.
    """
    a, b = nodes[edges.tail], nodes[edges.head]
    bent = edges.sweep > 0.0
    bow = _along(edges.center, edges.radius, edges.angle + 0.5 * edges.sweep)
    middle = np.where(bent[:, None], bow, 0.5 * (a + b))
    away = np.stack((np.hypot(*(middle - a).T), np.hypot(*(middle - b).T)), axis=1).ravel()
    least = np.full(len(nodes), np.inf)
    np.minimum.at(least, origin, away)
    reach = 0.5 * least[origin].reshape(-1, 2)
    dx, dy = (b - a).T
    straight = np.stack((np.arctan2(dy, dx), np.arctan2(-dy, -dx)), axis=1)
    radius = np.where(bent, edges.radius, 1.0)[:, None]
    lean = 0.5 * pi + np.arcsin(np.minimum(1.0, 0.5 * reach / radius))
    rays = np.stack((edges.angle, edges.angle + edges.sweep), axis=1)
    round_ = rays + lean * np.array([1.0, -1.0])
    bearing = np.where(bent[:, None], round_, straight).ravel()
    out: Floats = np.mod(bearing + pi, tau)
    return out


def _along(center: Floats, radius: Floats, angle: Floats) -> Floats:
    out: Floats = center + radius[:, None] * np.stack((np.cos(angle), np.sin(angle)), axis=1)
    return out


def _areas(nodes: Floats, edges: Edges) -> Floats:
    """Green's contribution of each half-edge to the area on its left."""
    middle = nodes.mean(axis=0) if len(nodes) else np.zeros(2)
    (xa, ya), (xb, yb) = (nodes[edges.tail] - middle).T, (nodes[edges.head] - middle).T
    bow = edges.radius**2 * (edges.sweep - np.sin(edges.sweep))
    there = 0.5 * (xa * yb - xb * ya + bow)
    return np.stack((there, -there), axis=1).ravel()


def _orbits(following: Ints) -> Ints:
    """Return for each half-edge the least one of the cycle that it is on, by pointer doubling."""
    label, ahead = np.arange(len(following)), following
    while True:
        least = np.minimum(label, label[ahead])
        if np.array_equal(least, label):
            return label
        label, ahead = least, ahead[ahead]


def edge_rises(net: Net) -> Rises:
    """Return the rising and falling pieces of all edges, owned by their edges."""
    edges = net.edges
    (xa, ya), (xb, yb) = net.nodes[edges.tail].T, net.nodes[edges.head].T
    rows = []
    k = np.flatnonzero((edges.sweep == 0.0) & (ya != yb))
    up = yb[k] > ya[k]
    zero = np.zeros(len(k))
    low_x, low, high = (np.where(up, p[k], q[k]) for p, q in ((xa, xb), (ya, yb), (yb, ya)))
    slope = (xb[k] - xa[k]) / (yb[k] - ya[k])
    rows.append((k, np.where(up, 1.0, -1.0), low, high, low_x, slope, low, zero, zero))
    k = np.flatnonzero(edges.sweep > 0.0)
    begin, end = edges.angle[k], edges.angle[k] + edges.sweep[k]
    (cx, cy), r = edges.center[k].T, edges.radius[k]
    # Tops and bottoms stand half a turn apart: at most three inside a full turn.
    turn = np.floor(begin / pi - 0.5) + 1.0
    from_, y0 = begin, ya[k]
    for step in range(4):
        stop = (turn + step + 0.5) * pi
        inside = stop < end
        to = np.where(inside, stop, end)
        top = np.where((turn + step) % 2.0 == 0.0, cy + r, cy - r)
        y1 = np.where(inside, top, yb[k])
        ok = (to > from_) & (y0 != y1)
        side = np.where(np.cos(0.5 * (from_ + to)) > 0.0, 1.0, -1.0)
        columns = (
            k, np.where(y1 > y0, 1.0, -1.0), np.minimum(y0, y1), np.maximum(y0, y1), cx,
            np.zeros(len(k)), cy, r, side,
        )
        rows.append(tuple(c[ok] for c in columns))
        from_, y0 = to, np.where(inside, top, y0)
    return Rises.of_rows(np.concatenate([np.stack(row, axis=1) for row in rows]))
