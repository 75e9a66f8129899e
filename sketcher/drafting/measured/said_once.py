"""Nothing is said twice: the same levels give one dimension, what is spare is in parentheses.

A size or place is dimensioned once; what closes a chain is a reference dimension, in parentheses
(ASME Y14.5M-1994, 1.4 and 1.7; ISO 129-1; both from memory).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from math import inf

from sketcher.drafting.dimension_text import in_parentheses
from sketcher.drafting.measured.paper_measures import (
    Measured,
    MeasuredAngle,
    MeasuredLength,
    MeasuredRound,
)
from sketcher.geometry.curves import XY, Line
from sketcher.part.value import Part

PARALLEL = 1e-9
"""Sine below which two directions are one."""


@dataclass(frozen=True, slots=True)
class Once:
    """What decides which of several that say the same is printed.

    Parameters
    ----------
    part : Part
    near : float
        Distance in mm on paper within which two places are one.
    spare : collection of str
        Bindings that follow from all others.
    edges : sequence of Line
        Straight outline of the whole part, on paper.
    centers : sequence of XY
        Centers of holes and of the round ends of slots, on paper.
    reach : float
        Distance in mm on paper over which places are seen to lie on one level.
    """

    part: Part
    near: float
    spare: Collection[str]
    edges: Sequence[Line] = ()
    centers: Sequence[XY] = ()
    reach: float = inf

    def of(self, found: Sequence[Measured]) -> tuple[Measured, ...]:
        """Return each dimension once, in the order of the first that says it."""
        groups: list[list[Measured]] = []
        for one in found:
            for group in groups:
                if self._says_the_same(group[0], one) and self._may_stand_for(group, one):
                    group.append(one)
                    break
            else:
                groups.append([one])
        return tuple(self._one_of(group) for group in groups)

    def _says_the_same(self, one: Measured, other: Measured) -> bool:
        if isinstance(one, MeasuredLength) and isinstance(other, MeasuredLength):
            return self._levels_agree(one, other)
        if isinstance(one, MeasuredRound) and isinstance(other, MeasuredRound):
            return (one.diameter == other.diameter and one.wording == other.wording
                    and type(one.curve) is type(other.curve)
                    and _apart(one.curve.center, other.curve.center) < self.near
                    and abs(one.curve.radius - other.curve.radius) < self.near)
        return (isinstance(one, MeasuredAngle) and isinstance(other, MeasuredAngle)
                and one.options == other.options)

    def _levels_agree(self, one: MeasuredLength, other: MeasuredLength) -> bool:
        """Tell whether two lengths run between the same two levels."""
        (ux, uy), (vx, vy) = one.direction, other.direction
        if abs(ux * vy - uy * vx) > PARALLEL:
            return False
        if one.inline or other.inline:
            return one.first == other.first and one.second == other.second
        mine, its = _by_level(one, one.direction), _by_level(other, one.direction)
        return all(abs(a - b) < self.near and self._is_seen(one.direction, a, here, there)
                   for (a, here), (b, there) in zip(mine, its, strict=True))

    def _is_seen(self, way: XY, level: float, one: Sequence[XY], other: Sequence[XY]) -> bool:
        """Tell whether two sides are seen to lie on one level: both on edges, or near centers.

        That a center happens to stand in line with an edge or a corner is not seen.
        """
        gap = min(abs((ax - bx) * way[1] - (ay - by) * way[0])
                  for ax, ay in one for bx, by in other)
        return gap <= self.near or (
            self._on_edge(way, level, one) and self._on_edge(way, level, other)) or (
            gap <= self.reach and self._is_center(one) and self._is_center(other))

    def _is_center(self, side: Sequence[XY]) -> bool:
        return any(_apart(at, center) < self.near for at in side for center in self.centers)

    def _on_edge(self, way: XY, level: float, side: Sequence[XY]) -> bool:
        (ux, uy) = way
        for edge in self.edges:
            ends = (edge.start, edge.end)
            if any(abs(x * ux + y * uy - level) > self.near for x, y in ends):
                continue
            low, high = sorted(y * ux - x * uy for x, y in ends)
            if any(low - self.near <= y * ux - x * uy <= high + self.near for x, y in side):
                return True
        return False

    def _may_stand_for(self, group: Sequence[Measured], one: Measured) -> bool:
        """Tell whether no requirement is lost: two tolerances that differ are both printed."""
        bounds = {b for each in (*group, one) if (b := self._tolerance(each)) is not None}
        return len(bounds) < 2

    def _tolerance(self, one: Measured) -> tuple[float, float] | None:
        binding = self.part.bindings.get(one.id)
        return None if binding is None or not binding.drives else binding.tolerance

    def _one_of(self, group: Sequence[Measured]) -> Measured:
        """Return the one that speaks for all, with the places of all."""
        speaker = min(group, key=self._rank)
        names = tuple(dict.fromkeys(name for one in group for name in one.stands_for or (one.id,)))
        if self._drives(speaker) and names and set(names) <= set(self.spare):
            speaker = replace(speaker, wording=in_parentheses(speaker.wording))
        if isinstance(speaker, MeasuredLength) and not speaker.inline:
            first, second = list(speaker.first), list(speaker.second)
            for one in group:
                if isinstance(one, MeasuredLength):
                    for mine, its in self._by_side(speaker, one, first, second):
                        mine += [at for at in its if at not in mine]
            return replace(speaker, first=tuple(first), second=tuple(second), stands_for=names)
        return replace(speaker, stands_for=names)

    def _by_side(
        self, speaker: MeasuredLength, one: MeasuredLength, first: list[XY], second: list[XY]
    ) -> tuple[tuple[list[XY], tuple[XY, ...]], tuple[list[XY], tuple[XY, ...]]]:
        """Pair the sides of two lengths that lie on the same level."""
        x, y = speaker.direction
        level = first[0][0] * x + first[0][1] * y
        same = abs(one.first[0][0] * x + one.first[0][1] * y - level) < self.near
        return ((first, one.first), (second, one.second)) if same else (
            (first, one.second), (second, one.first))

    def _rank(self, one: Measured) -> tuple[bool, bool, bool]:
        return (not self._drives(one), self._tolerance(one) is None,
                one.id not in self.part.drawing.placed)

    def _drives(self, one: Measured) -> bool:
        binding = self.part.bindings.get(one.id)
        return binding is None or binding.drives


def _by_level(one: MeasuredLength, way: XY) -> list[tuple[float, tuple[XY, ...]]]:
    """Return both sides of a length with their levels along a direction, the lower one first."""
    return sorted((side[0][0] * way[0] + side[0][1] * way[1], side)
                  for side in (one.first, one.second))


def _apart(one: XY, other: XY) -> float:
    return max(abs(one[0] - other[0]), abs(one[1] - other[1]))
