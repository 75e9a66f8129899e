"""Step 11: dimensions are read off one by one, each only where it takes a freedom away.

In passes: what is usual and plainly round, what is usual and round more finely, lengths and points
that are round, and at last what keeps its digits. A figure is taken only when the rest of the
half, which then moves, stays within the file's noise; later values are judged where it has moved.
"""

from __future__ import annotations

from math import ceil, degrees, log10, radians

import numpy as np

from sketcher.intake.outline_moves import OutlineMoves
from sketcher.intake.round_figures import RoundFigure, round_figures
from sketcher.intake.taken import TakenValue
from sketcher.intake.value_candidates import Readable, ValueCandidates
from sketcher.interrupt import check
from sketcher.part.equations import Array
from sketcher.part.kinds import bind
from sketcher.part.part_size import part_size
from sketcher.part.value import Binding, Part
from sketcher.quantity.format import exact
from sketcher.solve.free_motions import FreeMotions

MOVES = 3.0
"""Noises by which the outline may move, square to itself, for the sake of round figures."""
TRUSTED = {"mm": 0.005, "in": 0.0002}
"""Noise from which no figure is trusted: at 0.01 mm every seventh round figure was wrong (tried on
five parts)."""
COARSE, FINE, OTHER_UNIT = 2, 4, 5
"""Ranks of round figures up to which a pass takes them. Lengths and points are what is left when
the rest is said: of tangent points a tenth is round by chance, so that only plain figures count."""
LEAST_DOUBT = 0.5
"""Noises that every value may be off: what is nearly said already is known no better than that."""
TRANSLATIONS = 2
"""What stays free to the end: all values count from the datum, which is held when they are read."""


class ReadValues:
    """Reads the dimensions of a half off where it stands, solved under what has no value.

    Parameters
    ----------
    candidates : ValueCandidates
        Of the half where it stands, with the conditions that are said already in its part.
    motions : FreeMotions
        What they leave free; used up here.
    grid : float, optional
        Step of the round figures that a person asks for.
    drawn : Part
        The half as the file has it: moves count from there.
    foreign : bool
        Whether figures of the other unit count as well: the file may say millimetres and hold
        thousandths of an inch.
    """

    def __init__(
        self, candidates: ValueCandidates, motions: FreeMotions, grid: float | None, drawn: Part,
        foreign: bool = False,
    ) -> None:
        self.seen, self.motions, self.grid = candidates.seen, motions, grid
        self._candidates = {False: candidates.usual, True: candidates.further}
        self.part, self.foreign = self.seen.part, foreign
        self.noise = self.seen.sketch.noise
        self.reach = part_size(self.part)
        self.trusted = self.noise < TRUSTED[self.part.unit]
        self.moves = OutlineMoves(drawn)
        self.since = motions.slots.values(self.part) - motions.slots.values(drawn)
        self.most = max(MOVES * self.noise, self.moves.largest(self.since))
        self.bindings: dict[str, Binding] = {}
        self.values: dict[str, TakenValue] = {}

    @property
    def round_ones(self) -> int:
        """How many of the values that were read are round."""
        return sum(value.round for value in self.values.values())

    def read_round(self) -> None:
        """Read what is round."""
        fine = OTHER_UNIT if self.foreign else FINE
        for late, rank in ((False, COARSE), (False, fine), (True, COARSE)):
            if self.trusted or self.grid:
                self._pass(late, rank if self.trusted else 0)

    def read_rest(self) -> None:
        """Read values until nothing is free."""
        for late in (False, True):
            self._pass(late, None)

    def _pass(self, late: bool, rank: int | None) -> None:
        for group in self._candidates[late]:
            for rivals in group:
                check()
                if self.motions.count <= TRANSLATIONS:
                    return
                self._choose(rivals, rank)

    def _choose(self, rivals: list[Readable], rank: int | None) -> None:
        """Take the plainest of some dimensions that say nearly the same, or none."""
        told = ((each, seen) for each in rivals
                if self.motions.tells(each.row, seen := self.motions.seen(each.row)))
        if rank is None:
            if (first := next(told, None)) is not None:
                self._take(*first, None)
            return
        left = list(told)
        ranked = [(figure.rank, number, figure) for number, one in enumerate(left)
                  for figure in self._figures(*one) if figure.rank <= rank]
        for _, number, figure in sorted(ranked, key=lambda one: one[:2]):
            each, seen = left[number]
            motion = self.motions.along(self._amounts(each, seen, figure.value))
            if self.moves.largest(self.since + self.motions.shift + motion) <= self.most:
                self._take(each, seen, figure)
                return

    def _now(self, each: Readable) -> float:
        """What a candidate measures where the half has moved to, in the equation's units."""
        return each.measured + self.motions.moved(each.row)

    def _doubt(self, each: Readable, seen: Array) -> float:
        told = 2.0 * float(np.linalg.norm(seen))
        return self.noise * max(told, LEAST_DOUBT / (self.reach if each.angle else 1.0))

    def _figures(self, each: Readable, seen: Array) -> tuple[RoundFigure, ...]:
        now, doubt = self._now(each), self._doubt(each, seen)
        if each.angle:
            now, doubt = degrees(now), degrees(doubt)
        if abs(now) <= self.seen.sketch.near and not each.angle:
            return ()
        return round_figures(
            now, doubt, each.offered.sort, self.part.unit, self.grid)

    def _amounts(self, each: Readable, seen: Array, value: float) -> Array:
        """Return the least motion that gives a candidate its value, as amounts of each."""
        wanted = radians(value) if each.angle else value
        return seen * ((wanted - self._now(each)) / float(seen @ seen))

    def _take(self, each: Readable, seen: Array, figure: RoundFigure | None) -> None:
        name = f"v{len(self.bindings) + 1}"
        now = self._now(each)
        if not each.angle and abs(now) <= self.seen.sketch.near:
            self._put_level(name, each, seen)
            return
        if each.angle:
            now = degrees(now)
        if figure is None:
            doubt = self.noise * (degrees(1.0) / self.reach if each.angle else 1.0)
            text = exact(round(now, digits(doubt)))
        else:
            text = figure.text
        value = float(text) if figure is None else figure.value
        self.motions.move(self._amounts(each, seen, value))
        self.motions.add(each.row)
        self.bindings[name] = Binding(each.binding.kind, each.binding.of, text, each.binding.side)
        self.values[name] = TakenValue(name, now, figure is not None, text)

    def _put_level(self, name: str, each: Readable, seen: Array) -> None:
        """A distance of nothing is no dimension: the points are level or plumb to each other."""
        kind = {"run": "plumb", "rise": "level"}.get(each.offered.kind)
        if kind is None or len(each.binding.of) != 2:
            return
        self.motions.move(self._amounts(each, seen, 0.0))
        self.motions.add(each.row)
        self.bindings[name] = bind(self.part, kind, each.binding.of)


def digits(noise: float) -> int:
    """Decimals that a value keeps: one more than the noise leaves sure, at most nine.

    >>> digits(5e-5)
    6
    """
    return max(0, min(9, 1 + ceil(-log10(max(noise, 1e-12)))))


def moved(part: Part, motions: FreeMotions, shift: Array) -> Part:
    """Return a part with its points moved along."""
    return part.having(points={
        name: (x + float(shift[at]), y + float(shift[at + 1]))
        for (name, (x, y)), at in zip(part.points.items(), motions.slots.points.values(),
                                      strict=True)})
