"""Step 9: equal circles in columns and rows, or evenly round a center.

What reflection alone makes is no pattern: two holes about an axis, four about two. A pattern across
an axis is kept whole, and its seed is not reflected; one beside the axes is drawn on the kept side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import degrees, pi

import numpy as np

from sketcher.geometry.curve_table import Bools, Floats, Ints
from sketcher.geometry.curves import Arc, Circle
from sketcher.intake.hole_grids import LEAST, PlaceGrid, place_grid, ring_order
from sketcher.intake.joint_table import Places
from sketcher.intake.linework import FoundPattern, HalfShape, SymmetryAxis, TakenCurve
from sketcher.intake.twin_fit import NOISES, parted
from sketcher.intake.wishes import Wishes
from sketcher.interrupt import check

FINEST = 1e-8
"""Share of the size by which holes may be off in a file written out to the last digit."""
CENTERS = 100
"""Rounds about which rings are looked for, the largest first."""
DRAWN = 3
"""Holes of a grid that the half would have to draw without a pattern; of a ring two."""


def patterned(half: HalfShape, wishes: Wishes) -> HalfShape:
    """Return the half with the patterns of its circles, of which only the seeds are kept."""
    holes = _Holes(half)
    for rows in parted(holes.radius, holes.near):
        check()
        holes.look(rows)
    gone = holes.members - {id(found.seed) for found in holes.found}
    kept = tuple(chain for chain in half.kept if id(chain[0]) not in gone)
    return replace(half, kept=kept, patterns=tuple(holes.found))


class _Holes:
    """All circles but the outside, those of the kept side as they are kept, and what they make."""

    def __init__(self, half: HalfShape) -> None:
        self.half = half
        kept = [chain[0] for chain in half.kept
                if isinstance(chain[0].curve, Circle) and not _outside(half, chain[0])]
        self.circles = list(kept)
        self.circles += _images(kept, half.axes)
        self.drawn = np.arange(len(self.circles)) < len(kept)
        curves = [each.curve for each in self.circles if isinstance(each.curve, Circle)]
        self.at: Places = np.array([complex(*curve.center) for curve in curves], dtype=complex)
        self.radius: Floats = np.array([curve.radius for curve in curves], dtype=float)
        size = float(np.abs(self.at - self.at[0]).max()) if curves else 0.0
        self.near = max(NOISES * half.shape.noise, FINEST * size)
        self.found: list[FoundPattern] = []
        self.members: set[int] = set()

    def look(self, rows: Ints) -> None:
        """Find the patterns of circles of one size: the largest first."""
        if len(rows) < LEAST:
            return
        # Of four in a square the bore in their middle makes a ring.
        if len(rows) > 4 and int(self.drawn[rows].sum()) >= DRAWN and self._grid(rows, False):
            return
        for center in self._centers():
            out = np.abs(self.at[rows] - center)
            for ring in _rings(out, 2.0 * self.near):
                one = rows[ring]
                if int(self.drawn[one].sum()) >= 2 and self._ring(one, center):
                    self.look(np.setdiff1d(rows, one))
                    return
        groups = (rows, rows[self.drawn[rows]]) if self.half.axes else (rows,)
        for beside, group in enumerate(groups):
            if beside and self._on_axis(group).any():
                continue
            if int(self.drawn[group].sum()) >= DRAWN and self._grid(group, bool(beside)):
                return

    def _centers(self) -> list[complex]:
        """Return where rounds are centered, and where axes cross: none twice."""
        curves = [each.curve for chain in self.half.kept for each in chain]
        rounds = [curve for curve in curves if isinstance(curve, (Arc, Circle))]
        rounds.sort(key=lambda curve: -curve.radius)
        there = [complex(*curve.center) for curve in rounds]
        if len(self.half.axes) == 2:
            there = [_crossing(self.half.axes), *there]
        cells = {(round(at.real / (4.0 * self.near)), round(at.imag / (4.0 * self.near))): at
                 for at in reversed(there)} if self.near else {}
        return [at for at in reversed(cells.values()) if self._closed(at)][:CENTERS]

    def _closed(self, at: complex) -> bool:
        """Whether a ring about a place is its own reflection: the place lies on all axes."""
        return all(abs(_height(axis, at)) <= self.near for axis in self.half.axes)

    def _on_axis(self, rows: Ints) -> Bools:
        return np.array([any(abs(_height(axis, at)) <= self.near for axis in self.half.axes)
                         for at in self.at[rows].tolist()], dtype=bool)

    def _ring(self, rows: Ints, center: complex) -> bool:
        order = ring_order(self.at[rows], center, self.near)
        if order is None:
            return False
        ordered = rows[order]
        first = int(np.flatnonzero(self.drawn[ordered])[0])
        ordered = np.roll(ordered, -first)
        self._note("polar", ordered, (len(rows), 1), (360.0, 0.0), 0.0, center)
        return True

    def _grid(self, rows: Ints, beside: bool) -> bool:
        grid = place_grid(self.at[rows], self.near)
        if grid is None:
            return False
        # Its middle on all axes, a grid is its own reflection: all that is drawn of it lies in it.
        if not beside and not self._closed(complex(self.at[rows].mean())):
            return False
        at, step, angle = _from_drawn(rows[grid.at], grid, self.drawn)
        self._note("grid", at.ravel(), (at.shape[1], at.shape[0]), step, degrees(angle), None)
        return True

    def _note(
        self, kind: str, ordered: Ints, count: tuple[int, int], step: tuple[float, float],
        angle: float, center: complex | None,
    ) -> None:
        members = tuple(self.circles[k] for k in ordered.tolist())
        place = None if center is None else (center.real, center.imag)
        self.found.append(FoundPattern(kind, members[0], members, count, step, angle, place))
        self.members |= {id(each) for each in members}


def _rings(out: Floats, gap: float) -> list[Ints]:
    """Return the places of three and more distances that are one: most of many are alone."""
    order = np.argsort(out, kind="stable")
    ends = np.flatnonzero(np.diff(out[order], append=np.inf) > gap) + 1
    begins = np.concatenate([[0], ends[:-1]])
    return [order[first:last] for first, last in zip(begins.tolist(), ends.tolist(), strict=True)
            if last - first >= LEAST]


def _from_drawn(
    at: Ints, grid: PlaceGrid, drawn: Bools
) -> tuple[Ints, tuple[float, float], float]:
    """Begin a grid at a corner that is drawn, its steps still positive: it is turned for that."""
    step, angle = grid.step, grid.angle
    for _ in range(4):
        if drawn[at[0, 0]]:
            break
        # The corner at the end of the first row becomes the first, and columns become rows.
        at, step, angle = np.rot90(at), (step[1], step[0]), angle + 0.5 * pi
    return at, step, pi - (pi - angle) % (2.0 * pi)


def _outside(half: HalfShape, each: TakenCurve) -> bool:
    first = half.shape.loops[0]
    return len(first) == 1 and first[0].entities == each.entities


def _images(kept: Sequence[TakenCurve], axes: Sequence[SymmetryAxis]) -> list[TakenCurve]:
    """Return the reflections of circles, those on an axis left out."""
    made: list[TakenCurve] = []
    for axis in axes:
        for each in [*kept, *made]:
            assert isinstance(each.curve, Circle)
            at = complex(*each.curve.center)
            off = _height(axis, at)
            if abs(off) <= FINEST * max(abs(complex(*axis.end) - complex(*axis.start)), 1e-300):
                continue
            image = at - 2j * off * _way(axis)
            made.append(TakenCurve(Circle((image.real, image.imag), each.curve.radius),
                                   each.entities))
    return made


def _way(axis: SymmetryAxis) -> complex:
    way = complex(*axis.end) - complex(*axis.start)
    return way / abs(way)


def _height(axis: SymmetryAxis, at: complex) -> float:
    return float(((at - complex(*axis.start)) * _way(axis).conjugate()).imag)


def _crossing(axes: Sequence[SymmetryAxis]) -> complex:
    """Return where two axes that are square to each other cross."""
    one, other = axes
    start = complex(*one.start)
    along = ((complex(*other.start) - start) * _way(one).conjugate()).real
    return start + along * _way(one)
