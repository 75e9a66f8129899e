"""Center lines that were drawn twice: two strokes that lie on each other on paper."""

from __future__ import annotations

from collections.abc import Sequence
from math import dist, tau
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.bounds import bounds
from sketcher.geometry.cluster import components
from sketcher.geometry.curve_table import Ints, pairs
from sketcher.geometry.curves import Circle, Line
from sketcher.marking.center_runs import CenterRun, CenterStroke

Pairs: TypeAlias = NDArray[np.int64]

CLOSE = 0.4
"""mm on paper; lines nearer each other print as one thick line."""
ALONG = 1.0
"""mm on paper that they lie on each other."""


def doubled_strokes(
    strokes: Sequence[CenterStroke], runs: Sequence[CenterRun]
) -> list[list[CenterStroke]]:
    """Return the strokes that lie on each other, those of one center line together.

    Parameters
    ----------
    strokes : sequence of CenterStroke
    runs : sequence of CenterRun
        What they make.
    """
    boxes = np.array([bounds(each.curve) for each in strokes]).reshape(-1, 4)
    near = pairs(boxes, 2.0 * CLOSE)  # rounds: centers and radii may both be off by that
    i, j = np.concatenate((_pairs_of_lines(strokes, *near), _pairs_of_rounds(strokes, *near))).T
    number = {id(stroke): n for n, stroke in enumerate(strokes)}
    lines = [[number[id(placed.stroke)] for placed in run.strokes] for run in runs]
    ties = [(line[0], n) for line in lines for n in line[1:]]
    a, b = np.array([*zip(i.tolist(), j.tolist(), strict=True), *ties], int).reshape(-1, 2).T
    label = components(len(strokes), a, b)
    groups: dict[int, list[CenterStroke]] = {}
    for k in sorted({*i.tolist(), *j.tolist()}):
        groups.setdefault(int(label[k]), []).append(strokes[k])
    return list(groups.values())


def is_doubled(run: CenterRun, groups: Sequence[Sequence[CenterStroke]]) -> bool:
    """Tell whether some stroke of a run was drawn twice."""
    twice = {id(stroke) for group in groups for stroke in group}
    return any(id(placed.stroke) in twice for placed in run.strokes)


def _pairs_of_lines(strokes: Sequence[CenterStroke], one: Ints, other: Ints) -> Pairs:
    """Return the pairs of lines, the longer first, of which the second lies along the first."""
    ends = np.array([(*each.curve.start, *each.curve.end) if isinstance(each.curve, Line) else (
        np.nan,) * 4 for each in strokes]).reshape(-1, 2, 2)
    step = ends[:, 1] - ends[:, 0]
    size = np.hypot(*step.T)
    unit = step / np.maximum(size, 1e-12)[:, None]
    i, j = np.concatenate((one, other)), np.concatenate((other, one))
    longer = size[i] >= size[j]  # never with a round
    i, j = i[longer], j[longer]
    turned = np.abs(unit[i, 0] * unit[j, 1] - unit[i, 1] * unit[j, 0])
    rays = ends[j] - ends[i, :1]
    s = np.sort((rays * unit[i, None]).sum(axis=2), axis=1)
    off = np.abs(unit[i, 0, None] * rays[..., 1] - unit[i, 1, None] * rays[..., 0])
    shared = np.minimum(s[:, 1], size[i]) - np.maximum(s[:, 0], 0.0)
    hit = (turned <= 0.02) & (off.max(axis=1) <= CLOSE) & (shared > ALONG)
    return np.stack((i[hit], j[hit]), axis=1)


def _pairs_of_rounds(strokes: Sequence[CenterStroke], i: Ints, j: Ints) -> Pairs:
    found = []
    for n, m in zip(j.tolist(), i.tolist(), strict=True):
        one, other = strokes[n].curve, strokes[m].curve
        if isinstance(one, Line) or isinstance(other, Line) or dist(
                one.center, other.center) > CLOSE or abs(one.radius - other.radius) > CLOSE:
            continue
        sizes = [(0.0, tau) if isinstance(curve, Circle) else (
            curve.start_angle + min(curve.sweep, 0.0), abs(curve.sweep))
            for curve in (one, other)]
        (a, wide), (b, narrow) = sizes
        shared = max(min(a + wide, b + turn + narrow) - max(a, b + turn)
                     for turn in (-2.0 * tau, -tau, 0.0, tau, 2.0 * tau))
        if shared * one.radius > ALONG:
            found.append((n, m))
    return np.array(found, int).reshape(-1, 2)
