"""Step 10, first half: what a half shows that has no value, in the order in which it is said.

On the axis, level and plumb, tangent, square and parallel, equal, in line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import atan2, dist, pi
from typing import NamedTuple

import numpy as np

from sketcher.geometry.curves import Arc, Circle
from sketcher.intake.half_sketch import NOISES, HalfSketch, center_doubt
from sketcher.intake.measuring_base import measuring_base
from sketcher.intake.sketch_datum import Datum, edges, ends_at, level, long, plumb, slopes
from sketcher.part.operand_forms import line_ends, radius_of
from sketcher.part.value import CircleCurve, LineCurve, Part
from sketcher.part.whole import curve_value

SHORTEST = 50.0
"""A line shorter than so many noises says nothing by its direction."""
KINKED = 1e-6
"""Radians within which a joint is tangent, beside what the noise explains."""

Condition = tuple[str, tuple[str, ...]]
"""A kind without a value, and its operands."""


@dataclass(frozen=True)
class Seen:
    """A half with what stands fast in it."""

    sketch: HalfSketch
    datum: Datum

    @property
    def part(self) -> Part:
        """The part without bindings."""
        return self.sketch.part

    @cached_property
    def on_axes(self) -> frozenset[str]:
        """Points on an axis, its ends among them."""
        ends = (end for name in self.sketch.axes for end in line_ends(self.part, name))
        return frozenset((*ends, *(point for _, (point, _) in _on_axes(self))))

    @cached_property
    def bases(self) -> tuple[str, str]:
        """Points from which runs and rises count: across an axis that is the datum on it."""
        part, sketch, datum = self.part, self.sketch, self.datum.point
        assert datum is not None
        return tuple(  # type: ignore[return-value]
            datum if any(across(part, axis, sketch.near) for axis in sketch.axes)
            else measuring_base(part, datum, index, sketch.near, sketch.noise)
            for index, across in enumerate((plumb, level)))


def shown(seen: Seen) -> tuple[tuple[Condition, ...], ...]:
    """Return the conditions that a half shows, class by class, the surest first."""
    classes: tuple[Callable[[Seen], Iterator[Condition]], ...] = (
        _axes, _on_axes, _straight, _tangent, _turned, _equal, _aligned)
    return tuple(tuple(each(seen)) for each in classes)


def _axes(seen: Seen) -> Iterator[Condition]:
    for name in seen.sketch.axes:
        (x0, y0), (x1, y1) = ends_at(seen.part, name)
        if min(abs(x1 - x0), abs(y1 - y0)) <= 1e-3 * dist((x0, y0), (x1, y1)):
            yield ("plumb" if abs(x1 - x0) < abs(y1 - y0) else "level"), (name,)


def _on_axes(seen: Seen) -> Iterator[Condition]:
    part, sketch = seen.part, seen.sketch
    for axis in sketch.axes:
        curve = part.curves[axis]
        assert isinstance(curve, LineCurve)
        (x0, y0), (x1, y1) = ends_at(part, axis)
        size = dist((x0, y0), (x1, y1))
        for name, (x, y) in part.points.items():
            if name in curve.ends or (name == seen.datum.point and name in curve.ends):
                continue
            away = abs((x - x0) * (y1 - y0) - (y - y0) * (x1 - x0)) / size
            if away <= max(sketch.near, NOISES * sketch.doubt.get(name, 0.0)):
                yield "on", (name, axis)


def _straight(seen: Seen) -> Iterator[Condition]:
    yield from level_and_plumb(seen.sketch)


def level_and_plumb(sketch: HalfSketch) -> Iterator[Condition]:
    """Yield what lines are level or plumb, the longest first; too short ones do not tell."""
    part, near = sketch.part, sketch.near
    for name in sorted(edges(part), key=lambda name: -long(part, name)):
        if long(part, name) <= SHORTEST * sketch.noise:
            continue
        if level(part, name, near):
            yield "level", (name,)
        elif plumb(part, name, near):
            yield "plumb", (name,)


def _tangent(seen: Seen) -> Iterator[Condition]:
    for joint in round_joints(seen.part):
        if joint.kink <= max(KINKED, min(told_kink(seen.sketch, joint), 0.03)):
            yield "tangent", (joint.one, joint.other)


class RoundJoint(NamedTuple):
    """A point where two outline curves meet, one of them a round; by how much it breaks, radians.

    A line stands first.
    """

    point: str
    one: str
    other: str
    kink: float


def round_joints(part: Part) -> Iterator[RoundJoint]:
    """Yield the joints of a half at which a round ends."""
    at: dict[str, list[str]] = {}
    for name, curve in part.curves.items():
        if not isinstance(curve, CircleCurve) and curve.role == "outline":
            for end in curve.ends:
                at.setdefault(end, []).append(name)
    for point, names in at.items():
        if len(names) != 2 or all(isinstance(part.curves[n], LineCurve) for n in names):
            continue
        one, other = sorted(names, key=lambda name: not isinstance(part.curves[name], LineCurve))
        ways = [_outward(part, name, point) for name in (one, other)]
        turn = abs((ways[0] - ways[1] + pi) % (2.0 * pi) - pi)
        yield RoundJoint(point, one, other, abs(pi - turn))


def told_kink(sketch: HalfSketch, joint: RoundJoint) -> float:
    """Return the break of a tangent joint that the drawing's noise explains, radians."""
    return sum(NOISES * sketch.noise / max(_steady(sketch.part, name), sketch.noise)
               for name in (joint.one, joint.other))


def _outward(part: Part, name: str, point: str) -> float:
    """Direction of a curve away from one of its ends."""
    value = curve_value(part, part.curves[name])
    assert not isinstance(value, Circle)
    if not isinstance(value, Arc):
        (x0, y0), (x1, y1) = value.start, value.end
        return atan2(y1 - y0, x1 - x0) if part.points[point] == (x0, y0) else atan2(
            y0 - y1, x0 - x1)
    x, y = part.points[point]
    spoke = atan2(y - value.center[1], x - value.center[0])
    begins = part.points[point] == value.start
    return spoke + (0.5 * pi if value.ccw == begins else -0.5 * pi)


def _steady(part: Part, name: str) -> float:
    """Length by which ends that are off turn the direction of a curve at its end."""
    value = curve_value(part, part.curves[name])
    if isinstance(value, Arc):
        return value.radius / center_doubt(value, 1.0)
    return value.length


def _turned(seen: Seen) -> Iterator[Condition]:
    """Lines that are neither level nor plumb: parallel or square to the longest of their kind."""
    part, sketch = seen.part, seen.sketch
    rest = [name for name in slopes(part, sketch.near)
            if long(part, name) > SHORTEST * sketch.noise]
    leading, count = np.empty(len(rest)), 0
    names: list[str] = []
    for name in sorted(rest, key=lambda name: -long(part, name)):
        (x0, y0), (x1, y1) = ends_at(part, name)
        angle = atan2(y1 - y0, x1 - x0) % pi
        apart = angle - leading[:count]
        off = np.abs((apart + 0.25 * pi) % (0.5 * pi) - 0.25 * pi)
        (alike,) = np.nonzero(np.sin(off) * long(part, name) <= sketch.near)
        if len(alike):
            first = int(alike[0])
            across = abs((float(apart[first]) + 0.5 * pi) % pi - 0.5 * pi) > 0.25 * pi
            yield ("square" if across else "parallel"), (name, names[first])
        else:
            leading[count] = angle
            names.append(name)
            count += 1


def _equal(seen: Seen) -> Iterator[Condition]:
    """Rounds of one size and one sense: holes, rounded corners, hollows."""
    part, sketch = seen.part, seen.sketch
    sorts: dict[str, list[tuple[float, float, str]]] = {}
    for name, curve in part.curves.items():
        if isinstance(curve, LineCurve):
            continue
        value = curve_value(part, curve)
        sort = "hole" if isinstance(curve, CircleCurve) else curve.turn
        sorts.setdefault(sort, []).append(
            (radius_of(part, name), center_doubt(value, sketch.noise), name))
    for group in sorts.values():
        for members in _clusters(group, 1e-8 * max(size for size, _, _ in group)):
            first = min(members, key=lambda one: one[1])[2]
            yield from (("equal", (first, name)) for _, _, name in members if name != first)


def _clusters(
    items: Sequence[tuple[float, float, str]], least: float
) -> Iterator[list[tuple[float, float, str]]]:
    """Group sizes that are one within their doubts; no group spans more than one such doubt.

    Groups begin at the sizes that are known best, so that 5, 5.05 and 5.1 do not run together.
    """
    rest = sorted(items, key=lambda one: (one[1], one[0]))
    sizes, doubts = (np.array([one[k] for one in rest], dtype=float) for k in (0, 1))
    left = np.ones(len(rest), dtype=bool)
    for k in range(len(rest)):
        if not left[k]:
            continue
        allowed = NOISES * np.maximum(doubts[k], np.minimum(doubts, 8 * doubts[k]))
        inside = left & (np.abs(sizes - sizes[k]) <= np.maximum(least, allowed))
        left &= ~inside
        if inside.sum() > 1:
            yield sorted((rest[j] for j in np.flatnonzero(inside).tolist()), key=lambda one: one[2])


def _aligned(seen: Seen) -> Iterator[Condition]:
    """Edges in one line, and holes on one level or one plumb line."""
    part, sketch = seen.part, seen.sketch
    for word, index, straight in (("level", 1, level), ("plumb", 0, plumb)):
        lines = [(ends_at(part, name)[0][index], 0.0, line_ends(part, name)[0])
                 for name in edges(part) if straight(part, name, sketch.near)
                 and long(part, name) > SHORTEST * sketch.noise]
        holes = [(part.points[name][index], 0.0, name) for name in _holes(part)]
        for group in (lines, holes):
            for kind, pair in _in_rows(word, group, sketch.near):
                if not set(pair) <= seen.on_axes:  # said by the axis, or no matter
                    yield kind, pair


def _in_rows(
    word: str, places: Iterable[tuple[float, float, str]], near: float
) -> Iterator[Condition]:
    ordered = sorted(places)
    first: tuple[float, float, str] | None = None
    for place in ordered:
        if first is not None and place[0] - first[0] <= near:
            if place[2] != first[2]:
                yield word, (first[2], place[2])
        else:
            first = place


def _holes(part: Part) -> list[str]:
    found = [curve.center for curve in part.curves.values() if isinstance(curve, CircleCurve)]
    return list(dict.fromkeys(found))
