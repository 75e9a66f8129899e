"""One feature a carrier: what is drawn on one line or one circle, however it was put together.

A student draws an edge in two pieces, twice, or from the other end; a key draws half of an edge
across the axis. Both become the same feature here, so that how something was drawn costs nothing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import tau
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.cluster import components, groups_of
from sketcher.geometry.curve_table import Ints, pairs
from sketcher.geometry.curves import Arc, Circle, Curve, Line

Floats: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Feature:
    """What is drawn on one carrier without a break.

    Parameters
    ----------
    curve : Curve
        Arcs run counter-clockwise; a full turn is a circle.
    sources : tuple of int
        Numbers of the curves that it is made of, rising.
    ends : tuple of (int, int)
        For each end of `curve`, in its order: the number of the curve whose end it is, and which
        end of that one (0 the start). Empty for a circle.
    """

    curve: Curve
    sources: tuple[int, ...]
    ends: tuple[tuple[int, int], ...] = ()

    @property
    def is_line(self) -> bool:
        """Tell whether it is straight."""
        return isinstance(self.curve, Line)


def features(curves: Sequence[Curve], within: float) -> tuple[Feature, ...]:
    """Return the features of some curves, in the order of the first curve of each.

    Parameters
    ----------
    curves : sequence of Curve
    within : float
        Curves that touch and lie on one carrier within this length are one feature.
    """
    lines = {n: curve for n, curve in enumerate(curves) if isinstance(curve, Line)}
    rounds = {n: curve for n, curve in enumerate(curves) if not isinstance(curve, Line)}
    found = [*_straight(lines, within), *_round(rounds, within)]
    return tuple(sorted(found, key=lambda feature: feature.sources[0]))


def _straight(curves: Mapping[int, Line], within: float) -> list[Feature]:
    if not curves:
        return []
    numbers = list(curves)
    table = np.array([(*curves[n].start, *curves[n].end) for n in numbers])
    starts, ends = table[:, :2], table[:, 2:]
    along = ends - starts
    length = np.hypot(*along.T)
    unit = along / np.maximum(length, 1e-300)[:, None]
    i, j = _boxes_touch(np.minimum(starts, ends), np.maximum(starts, ends), within)
    longer = length[i] >= length[j]
    i, j = np.where(longer, i, j), np.where(longer, j, i)
    steps = [places[j] - starts[i] for places in (starts, ends)]
    off = np.max([np.abs(unit[i, 0] * step[:, 1] - unit[i, 1] * step[:, 0]) for step in steps],
                 axis=0, initial=0.0)
    t = np.array([(unit[i] * step).sum(axis=1) for step in steps])
    one = (off <= within) & (t.min(axis=0) <= length[i] + within) & (t.max(axis=0) >= -within)
    found = []
    for group in _groups(len(numbers), i[one], j[one]):
        if len(group) == 1:
            n = numbers[group[0]]
            found.append(Feature(curves[n], (n,), ((n, 0), (n, 1))))
            continue
        base = max(group, key=lambda k: length[k])
        t = np.array([[float(unit[base] @ (places[k] - starts[base])) for places in (starts, ends)]
                      for k in group])
        low, high = (np.unravel_index(at, t.shape) for at in (t.argmin(), t.argmax()))
        at = [(numbers[group[k]], int(end)) for k, end in (low, high)]
        start, end = (curves[n].end if e else curves[n].start for n, e in at)
        found.append(Feature(Line(start, end), tuple(sorted(numbers[k] for k in group)),
                             (at[0], at[1])))
    return found


def _round(curves: Mapping[int, Arc | Circle], within: float) -> list[Feature]:
    if not curves:
        return []
    numbers = list(curves)
    center = np.array([curves[n].center for n in numbers])
    radius = np.array([curves[n].radius for n in numbers])
    i, j = _boxes_touch(center, center, 2.0 * within)
    one = (np.hypot(*(center[i] - center[j]).T) <= within) & (
        np.abs(radius[i] - radius[j]) <= within)
    found = []
    for group in _groups(len(numbers), i[one], j[one]):
        found += _on_circle(curves, [numbers[k] for k in group], within)
    return found


def _on_circle(
    curves: Mapping[int, Arc | Circle], numbers: list[int], within: float
) -> list[Feature]:
    """Return the features on one circle."""
    first = curves[numbers[0]]
    slack = within / max(first.radius, within)
    arcs: dict[int, Arc] = {}
    for n in numbers:
        curve = curves[n]
        if isinstance(curve, Circle) or abs(curve.sweep) >= tau - slack:
            return [Feature(Circle(first.center, first.radius), tuple(numbers))]
        arcs[n] = curve
    found = []
    for run in _runs(arcs, slack):
        members = tuple(sorted({n for *_, n in run}))
        begin, end = min(run), max(run, key=lambda each: each[0] + each[1])
        if end[0] + end[1] - begin[0] >= tau - slack:
            found.append(Feature(Circle(first.center, first.radius), members))
            continue
        at = tuple((n, int((arcs[n].sweep > 0.0) == (which == 1)))
                   for which, n in ((0, begin[2]), (1, end[2])))
        start, stop = (arcs[n].end if e else arcs[n].start for n, e in at)
        found.append(Feature(Arc(first.center, start, stop), members, (at[0], at[1])))
    return found


def _runs(arcs: Mapping[int, Arc], slack: float) -> list[list[tuple[float, float, int]]]:
    """Return arcs that go on from each other on one circle: begin, sweep and number of each."""
    spans = sorted(((arc.start_angle if arc.sweep > 0.0 else arc.start_angle + arc.sweep) % tau,
                    abs(arc.sweep), n) for n, arc in arcs.items())
    runs: list[list[tuple[float, float, int]]] = []
    reach = 0.0
    for begin, sweep, n in spans:
        if runs and begin <= reach + slack:
            runs[-1].append((begin, sweep, n))
            reach = max(reach, begin + sweep)
        else:
            runs.append([(begin, sweep, n)])
            reach = begin + sweep
    if len(runs) > 1 and reach - tau >= runs[0][0][0] - slack:
        # the last run comes round again to the first
        runs[0] = [(b - tau, s, n) for b, s, n in runs.pop()] + runs[0]
    return runs


def _boxes_touch(low: Floats, high: Floats, within: float) -> tuple[Ints, Ints]:
    """Return pairs of boxes, the lesser number first, that come within a length of each other."""
    return pairs(np.hstack([low, high]), within)


def _groups(count: int, i: Ints, j: Ints) -> list[list[int]]:
    return groups_of(components(count, i, j))
