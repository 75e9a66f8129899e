"""The torch's way through a plan, to be played: where it is, and what is done by then.

Places on the way are counted in lengths of cut: a rapid move takes a share of its length, a punch
mark a moment. That is the screen's time, not the machine's.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate, cycle, pairwise
from math import dist
from typing import Literal, TypeAlias

from sketcher.exchange.cut_entities import between, travelled
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.geometry.evaluate import end_of, piece, point_at
from sketcher.shop.cut_plan import CutMark, CutPath, CutPlan

LegKind: TypeAlias = Literal["rapid", "cut", "mark", "tab"]
RAPID = 5.0
"""How much quicker a rapid move is on the screen (common practice, no source)."""
MOMENT = 0.004
"""Share of all cuts that a punch mark takes."""
ROUNDING = 1e-9
"""Share of a curve below which a piece of it is none."""


@dataclass(frozen=True, slots=True)
class CutLeg:
    """One stretch of the way.

    Parameters
    ----------
    kind : str
        A rapid move, a cut, a punch mark, or a tab that is passed over.
    curves : tuple of Curve
        Head to tail; a mark has none.
    number : int
        Of the mark or path to which it belongs or leads, from 1.
    at : (float, float)
        Where it ends.
    takes : float
        Lengths of cut.
    """

    kind: LegKind
    curves: tuple[Curve, ...]
    number: int
    at: XY
    takes: float


class CutRun:
    """A plan as one way.

    Parameters
    ----------
    plan : CutPlan
    """

    def __init__(self, plan: CutPlan) -> None:
        self.plan = plan
        self.steps: tuple[CutMark | CutPath, ...] = (*plan.marks, *plan.paths)
        self.legs = tuple(self._legs())
        self._ends = list(accumulate(leg.takes for leg in self.legs))

    @property
    def takes(self) -> float:
        """Lengths of cut that the whole way takes."""
        return self._ends[-1] if self._ends else 0.0

    @cached_property
    def stops(self) -> tuple[float, ...]:
        """Where the way stands at first and when each mark and path is done."""
        found = [0.0] * (len(self.steps) + 1)
        for leg, end in zip(self.legs, self._ends, strict=True):
            found[leg.number] = end
        return tuple(found)

    def begin_of(self, number: int) -> float:
        """Return the place at which the torch goes down for a mark or path, by number from 1."""
        at = 0.0
        for leg, end in zip(self.legs, self._ends, strict=True):
            if leg.number == number and leg.kind != "rapid":
                break
            at = end
        return at

    def index(self, place: float) -> int:
        """Return the leg that is under way at a place; as many as there are when all is done."""
        return bisect_right(self._ends, place) if place < self.takes else len(self.legs)

    def number(self, place: float) -> int:
        """Return the mark or path that is under way or was done last, from 1; 0 at the begin."""
        if place <= 0.0 or not self.legs:
            return 0
        return self.legs[min(bisect_left(self._ends, place), len(self.legs) - 1)].number

    def torch(self, place: float) -> XY | None:
        """Return where the torch is."""
        if not self.legs:
            return None
        number = self.index(place)
        if number == len(self.legs):
            return self.legs[-1].at
        under_way = self.begun(place)
        if under_way:
            return end_of(under_way[-1])
        leg = self.legs[number]
        return point_at(leg.curves[0], 0.0) if leg.curves else leg.at

    def begun(self, place: float) -> tuple[Curve, ...]:
        """Return what is behind the torch of the leg that is under way."""
        number = self.index(place)
        if number == len(self.legs):
            return ()
        leg = self.legs[number]
        share = (place - self._ends[number] + leg.takes) / leg.takes if leg.takes else 0.0
        left = share * sum(curve.length for curve in leg.curves)
        found: list[Curve] = []
        for curve in leg.curves:
            if left <= ROUNDING * curve.length:
                break
            if left >= curve.length:
                found.append(curve)
            else:
                found.append(piece(curve, 0.0, left / curve.length))
            left -= curve.length
        return tuple(found)

    # Legs.

    def _legs(self) -> Iterator[CutLeg]:
        moment = MOMENT * self.plan.length
        place: XY | None = None
        for number, step in enumerate(self.steps, 1):
            begin = down_at(step)
            if place is not None and place != begin:
                yield CutLeg("rapid", (Line(place, begin),), number, begin,
                             dist(place, begin) / RAPID)
            if isinstance(step, CutMark):
                yield CutLeg("mark", (), number, begin, moment)
                place = begin
            else:
                yield from _cuts(step, number)
                place = step.end


def down_at(step: CutMark | CutPath) -> XY:
    """Return where the torch goes down."""
    return step.at if isinstance(step, CutMark) else step.pierce


def _cuts(path: CutPath, number: int) -> Iterator[CutLeg]:
    """Yield what is cut of a path, and the tabs that it passes over."""
    if path.lead_in:
        yield _leg("cut", path.lead_in, number)
    edges = (0.0, *(length for tab in path.tabs for length in tab), path.contour.length)
    kinds: tuple[LegKind, LegKind] = ("cut", "tab")
    for kind, (start, end) in zip(cycle(kinds), pairwise(edges), strict=False):
        curves = tuple(between(travelled(path.contour), start, end))
        if curves:  # a tab may begin where the contour does
            yield _leg(kind, curves, number)
    if path.lead_out:
        yield _leg("cut", path.lead_out, number)


def _leg(kind: LegKind, curves: tuple[Curve, ...], number: int) -> CutLeg:
    takes = sum(curve.length for curve in curves) / (RAPID if kind == "tab" else 1.0)
    return CutLeg(kind, curves, number, end_of(curves[-1]), takes)
