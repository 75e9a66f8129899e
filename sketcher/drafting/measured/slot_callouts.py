"""Slots on the sheet: a width, and the mark of their round ends, whatever binds them.

The radius of the ends follows from the width, so they are marked ``R`` without a number (ASME
Y14.5, slotted holes; ISO 129-1, a radius that follows from other dimensions; both from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import replace
from math import dist

from sketcher.drafting.dimension_text import Wording, times
from sketcher.drafting.measured.binding_reader import across
from sketcher.drafting.measured.paper_measures import Measured, MeasuredLength, MeasuredRound
from sketcher.drafting.measured.shown_rounds import ShownRounds
from sketcher.drafting.measured.wedges import upright
from sketcher.drafting.slots import Slot
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.part.dimension_form import Linear, Side
from sketcher.part.value import Part
from sketcher.part.whole import Piece

MOST_IMAGES = 5

Say = Callable[[str, int, float], Wording]
"""Wording of a binding by its id, with a count and by what its value is multiplied."""


class SlotCallouts:
    """The callouts of the slots of a part.

    Parameters
    ----------
    part : Part
    rounds : ShownRounds
    every : sequence of Slot
        All of the whole part.
    near : float
        Distance in mm on paper within which two places are one.
    """

    def __init__(
        self, part: Part, rounds: ShownRounds, every: Sequence[Slot], near: float
    ) -> None:
        self.part, self.every = part, every
        self._rounds, self._view, self._near = rounds, rounds.view, near

    def with_ends(self, sources: Collection[str]) -> list[Slot]:
        """Return the slots whose round ends come from some sources."""
        return [slot for slot in self.every if any(cap.source in sources for cap in slot.caps)]

    def width(
        self, id_: str, slots: Sequence[Slot], said: Wording, source: str = ""
    ) -> MeasuredLength | None:
        """Return the width of one of equal slots, that with a source's end first.

        None where a view of the half shows no two sides of any.
        """
        order = sorted(slots, key=lambda s: not any(c.source == source and c.drawn for c in s.caps))
        for slot in order:
            sides = [self._seen(side) for side in slot.sides]
            if not all(sides):
                continue
            if slot.middle is not None:
                return self._radial_width(id_, sides, said)
            way = Line(*slot.ends).direction
            first, second = (tuple(self._view.point(at) for curve in side
                                   for at in (curve.start, curve.end)) for side in sides)
            return MeasuredLength(id_, upright((-way[1], way[0])), first, second, said)
        return None

    def _seen(self, side: Sequence[Piece]) -> list[Line | Arc]:
        return [p.curve for p in side if not isinstance(p.curve, Circle)
                and self._rounds.is_shown(p)]

    def _radial_width(
        self, id_: str, sides: Sequence[Sequence[Curve]], said: Wording
    ) -> MeasuredLength:
        inner, outer = (side[0] for side in sides)
        assert isinstance(inner, Arc)
        assert isinstance(outer, Arc)
        form = Linear(Side((inner.start,)), Side((outer.start,)), (1.0, 0.0), around=inner)
        return across(id_, form, inner, self._view, said)

    def ends(self, id_: str, slots: Sequence[Slot], source: str = "") -> MeasuredRound:
        """Return the mark of the round ends of equal slots."""
        sources = frozenset(cap.source for slot in slots for cap in slot.caps)
        curves = self._rounds.shown(source if source in sources else min(sources), sources)
        said = Wording(f"{times(2 * len(slots), self.part.drawing.practice)}R")
        return MeasuredRound(id_, curves[0], False, said, tuple(curves[1:1 + MOST_IMAGES]))

    # Slots whose ends nobody has sized: by the offset of their sides, or of one from the middle.

    def otherwise(self, found: Sequence[Measured], sized: Collection[str], say: Say
                  ) -> list[Measured]:
        """Return dimensions with the widths that make slots whole and counted, their ends marked.

        Parameters
        ----------
        found : sequence of Measured
        sized : collection of str
            Sources of round ends that have a size of their own.
        say : Say
        """
        replaced: dict[str, list[Measured]] = {}
        done: set[str] = set(sized)
        for slot in self.every:
            sources = {cap.source for cap in slot.caps}
            if not done.isdisjoint(sources):
                continue
            for one in found:
                share = self._share(slot, one) if isinstance(one, MeasuredLength) else 0.0
                if share and one.id not in replaced and one.id in self.part.bindings:
                    slots = self.with_ends(sources)
                    width = self.width(one.id, slots, say(one.id, len(slots), 1.0 / share))
                    if width is not None:
                        names = one.stands_for or (one.id,)
                        replaced[one.id] = [replace(width, stands_for=names), replace(
                            self.ends(f"{one.id}.ends", slots), stands_for=names)]
                        done |= sources
                        break
        return [each for one in found for each in replaced.get(one.id, [one])]

    def _share(self, slot: Slot, one: MeasuredLength) -> float:
        """Return how much of a slot's width a length is: 1, 0.5, or 0 where it is another."""
        half = slot.radius * self._view.factor
        if slot.middle is not None:
            if not one.inline:
                return 0.0
            middle = self._view.point(slot.middle)
            path = dist(middle, self._view.point(slot.ends[0]))
            levels = [dist(middle, at) - path for at in one.inline[0]]
        else:
            axis = self._view.curve(Line(*slot.ends))
            assert isinstance(axis, Line)
            (x, y), (dx, dy) = axis.start, axis.direction
            if one.inline or abs(one.direction[0] * dx + one.direction[1] * dy) > 1e-9:
                return 0.0
            ends = [end for side in slot.sides for curve in self._seen(side)
                    for end in (self._view.point(curve.start), self._view.point(curve.end))]
            if not any(dist(at, end) < self._near for at in (*one.first, *one.second)
                       for end in ends):
                return 0.0
            levels = [dx * (side[0][1] - y) - dy * (side[0][0] - x)
                      for side in (one.first, one.second)]
        low, high = sorted(levels)
        for share, there in ((1.0, (-half, half)), (0.5, (-half, 0.0)), (0.5, (0.0, half))):
            if abs(low - there[0]) < self._near and abs(high - there[1]) < self._near:
                return share
        return 0.0
