"""Center lines that were drawn twice: two strokes that lie on each other on paper."""

from __future__ import annotations

from collections.abc import Sequence
from math import dist, tau
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.cluster import components
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
    i, j = np.concatenate((_pairs_of_lines(strokes), _pairs_of_rounds(strokes))).T
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


def _pairs_of_lines(strokes: Sequence[CenterStroke]) -> Pairs:
    numbers = [n for n, each in enumerate(strokes) if isinstance(each.curve, Line)]
    ends = np.array([(*strokes[n].curve.start, *strokes[n].curve.end)  # type: ignore[union-attr]
                     for n in numbers]).reshape(-1, 2, 2)
    step = ends[:, 1] - ends[:, 0]
    size = np.hypot(*step.T)
    unit = step / np.maximum(size, 1e-12)[:, None]
    turned = np.abs(unit[:, None, 0] * unit[None, :, 1] - unit[:, None, 1] * unit[None, :, 0])
    rays = ends[None, :, :, :] - ends[:, None, :1, :]
    s = np.sort((rays * unit[:, None, None, :]).sum(axis=3), axis=2)
    off = np.abs(unit[:, None, None, 0] * rays[..., 1] - unit[:, None, None, 1] * rays[..., 0])
    shared = np.minimum(s[..., 1], size[:, None]) - np.maximum(s[..., 0], 0.0)
    hit = (turned <= 0.02) & (off.max(axis=2) <= CLOSE) & (shared > ALONG)
    i, j = np.nonzero(hit & (size[:, None] >= size[None, :]))
    pairs: Pairs = np.array(numbers, int)[np.stack((i, j), axis=1)[i != j].reshape(-1, 2)]
    return pairs


def _pairs_of_rounds(strokes: Sequence[CenterStroke]) -> Pairs:
    found = []
    rounds = [(n, each.curve) for n, each in enumerate(strokes) if not isinstance(each.curve, Line)]
    for k, (n, one) in enumerate(rounds):
        for m, other in rounds[:k]:
            if dist(one.center, other.center) > CLOSE or abs(one.radius - other.radius) > CLOSE:
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
