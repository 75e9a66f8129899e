"""Curves joined end to end: which ends are one place."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from sketcher.geometry.cluster import clusters
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import reversed_curve


class Nodes(NamedTuple):
    """Which ends of curves are one place.

    `ends` holds for each curve the numbers of its two nodes, (-1, -1) for a circle and for an arc
    of a full turn; `points` holds the place of each node, the first end that was found there.
    """

    ends: tuple[tuple[int, int], ...]
    points: tuple[XY, ...]
    at: tuple[tuple[int, ...], ...]
    """For each node the curves that end there; a curve that returns to its start stands twice."""


def nodes(curves: Sequence[Curve], tol: float) -> Nodes:
    """Join the ends of curves that are within `tol` of each other."""
    open_curves = [k for k, c in enumerate(curves) if not goes_round(c)]
    ends = [p for k in open_curves for p in (curves[k].start, curves[k].end)]  # type: ignore[union-attr]
    labels = clusters(np.array(ends, dtype=float).reshape(len(ends), 2), tol)
    first, number = np.unique(labels, return_inverse=True)
    pairs = [(-1, -1)] * len(curves)
    at: list[list[int]] = [[] for _ in first]
    for k, (u, v) in zip(open_curves, number.reshape(-1, 2).tolist(), strict=True):
        pairs[k] = (u, v)
        at[u].append(k)
        at[v].append(k)
    return Nodes(tuple(pairs), tuple(ends[k] for k in first), tuple(tuple(a) for a in at))


def goes_round(curve: Curve) -> bool:
    """Return whether the curve closes by itself: a circle, or an arc of a full turn."""
    return isinstance(curve, Circle) or (isinstance(curve, Arc) and curve.start == curve.end)


def oriented(curve: Curve, ends: tuple[int, int], turned: bool, points: Sequence[XY]) -> Curve:
    """Return the curve between the places of its nodes, turned round when `turned`."""
    if not isinstance(curve, Circle) and ends[0] != ends[1]:
        start, end = points[ends[0]], points[ends[1]]
        if isinstance(curve, Line):
            curve = Line(start, end)
        else:
            curve = Arc(curve.center, start, end, curve.ccw)
    return reversed_curve(curve) if turned else curve
