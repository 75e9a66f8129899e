"""Draws once what several dimensions share: extension lines that lie on one another.

Lengths in rows above one another begin at one corner, each with an extension line of its own. On
paper they would be inked over one another, and a plotter would draw them twice. So they are one
line, as long as all together, which belongs to the dimension whose own was the longest.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.layout.ink import Array
from sketcher.drafting.primitives import Item, Stroke
from sketcher.geometry.curves import Line

ON_ONE_LINE, SHARED = 0.03, 0.05
"""mm: lines nearer to one another than a fifth of a thin line are one, if they share more."""


def drawn_once(drawn: Sequence[Drawn]) -> tuple[Drawn, ...]:
    """Return dimensions without extension lines that lie on those of others.

    Parameters
    ----------
    drawn : sequence of Drawn
    """
    found = [(n, k, item.curve) for n, one in enumerate(drawn)
             for k, item in enumerate(one.items)
             if isinstance(item, Stroke) and item.line == "extension"
             and isinstance(item.curve, Line) and item.curve.length > SHARED]
    items: list[list[Item | None]] = [list(one.items) for one in drawn]
    for group in _groups(np.array([(*c.start, *c.end) for _, _, c in found]).reshape(-1, 4)):
        longest = max(group, key=lambda j: found[j][2].length)
        for j in group:
            n, k, _ = found[j]
            items[n][k] = None
        n, k, curve = found[longest]
        stroke = drawn[n].items[k]
        assert isinstance(stroke, Stroke)
        items[n][k] = replace(stroke, curve=_together(curve, [found[j][2] for j in group]))
    return tuple(replace(one, items=tuple(i for i in some if i is not None))
                 for one, some in zip(drawn, items, strict=True))


def _groups(lines: Array) -> list[list[int]]:
    """Return which straight lines (n, 4) lie on one another, two or more together."""
    start, way = lines[:, :2], lines[:, 2:] - lines[:, :2]
    size = np.hypot(way[:, 0], way[:, 1])
    u = way / size[:, None]
    offset = lines.reshape(-1, 1, 2, 2) - start[None, :, None]  # ends of i as seen from j
    along = offset @ u[None, :, :, None]
    off = np.abs(offset[..., 0] * u[None, :, None, 1] - offset[..., 1] * u[None, :, None, 0])
    s = along[..., 0]
    shared = np.minimum(s.max(axis=2), size[None]) - np.maximum(s.min(axis=2), 0.0)
    on = (off < ON_ONE_LINE).all(axis=2) & (shared > SHARED)
    on |= on.T
    left, groups = set(range(len(lines))), []
    while left:
        group, ends = [], [left.pop()]
        while ends:
            j = ends.pop()
            group.append(j)
            further = left.intersection(on[j].nonzero()[0].tolist())
            left -= further
            ends += sorted(further)
        if len(group) > 1:
            groups.append(sorted(group))
    return groups


def _together(along: Line, lines: Sequence[Line]) -> Line:
    """Return one line over several that lie on it."""
    (x, y), (ux, uy) = along.start, along.direction
    at = [(px - x) * ux + (py - y) * uy for one in lines for px, py in (one.start, one.end)]
    low, high = min(at), max(at)
    return Line((x + low * ux, y + low * uy), (x + high * ux, y + high * uy))
