"""What somebody has drawn, held against what the step draws, in words.

A curve counts by where it lies: which way round it runs, what it is called, how it was found and
whether it goes on beyond its ends makes no difference, though it is told what is still to be cut.
Where it lies elsewhere, the conditions of the step are measured upon it, and those that do not hold
are told with the paper's own numbers.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import dist, floor, hypot

from sketcher.board.teaching.beats import Beat
from sketcher.board.teaching.own_try import TryStart
from sketcher.board.teaching.try_measure import differences, put_in
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.meet import meet, overlap, same_carrier
from sketcher.geometry.project import distance, parameter_at
from sketcher.lesson.order_step import OrderStep
from sketcher.part.kinds import KINDS
from sketcher.part.part_size import part_size
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part
from sketcher.part.whole import Piece, half, whole
from sketcher.quantity.format import length

NEAR = 1e-6
"""Share of the part's size within which two places are one: far below what a solve leaves."""
WHOLE = 1e-4
"""Share of a curve's length within which it is all there."""


@dataclass(frozen=True, slots=True)
class Judged:
    """What is told of one thing that the step draws.

    Parameters
    ----------
    name : str
    right : bool
        It lies as it should; what is longer than it has to be is right.
    text : str
        One sentence.
    own : tuple of str
        Curves of the person that are meant.
    """

    name: str
    right: bool
    text: str
    own: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Judgement:
    """What is told of a try: of each thing, and how much of it is right."""

    told: tuple[Judged, ...]

    @property
    def right(self) -> bool:
        """Whether everything lies as it should."""
        return all(one.right for one in self.told)


def judge(part: Part, step: OrderStep, start: TryStart, drawn: Part) -> Judgement:
    """Hold what was drawn against a step.

    Parameters
    ----------
    part : Part
        Solved, with the curve as it should be.
    step : OrderStep
    start : TryStart
        What was there before.
    drawn : Part
        The same with what was drawn since.
    """
    judging = _Judging(part, step, start, drawn)
    return Judgement(tuple(judging.told()))


class _Judging:
    """One comparison."""

    def __init__(self, part: Part, step: OrderStep, start: TryStart, drawn: Part) -> None:
        self.part, self.step, self.start, self.drawn = part, step, start, drawn
        self.near = NEAR * part_size(part)
        self.before = half(start.part)
        pieces = whole(drawn)
        self.own = [p for p in pieces if not p.drawn or p.curve != self.before.get(p.source)]
        self.there = [p.curve for p in pieces if p.drawn and p.curve == self.before.get(p.source)]
        self.last = {beat.name: beat for beat in start.wanted}

    def told(self) -> Iterable[Judged]:
        """Tell of every thing of the step."""
        curves = [beat for beat in self.last.values() if beat.curves and not self._is_there(beat)]
        ends = {name for beat in curves if beat.name in self.part.curves
                for name in self.part.curves[beat.name].points}
        for beat in self.last.values():
            if beat.at is not None and beat.name not in ends:
                yield self._point(beat.name, beat.at)
        singly = [beat for beat in curves if not beat.at_once]
        meant = self._meant(singly)
        for beat in singly:
            yield self._curve(beat, meant.get(beat.name))
        images = [curve for beat in curves if beat.at_once for curve in beat.curves]
        if images:
            yield self._images(images)

    # Curves.

    def _is_there(self, beat: Beat) -> bool:
        """Tell whether a curve runs there already; the step then only finds its ends."""
        before = self.before.get(beat.name)
        return before is not None and same_carrier(before, beat.curves[0], self.near)

    def _meant(self, beats: Sequence[Beat]) -> dict[str, Piece]:
        """Pair what lies elsewhere with what was drawn for it: what lies nearest comes first."""
        off = [beat for beat in beats if not self._on(beat.curves[0])]
        free = [piece for piece in self.own if not any(
            same_carrier(beat.curves[0], piece.curve, self.near) for beat in beats)]
        pairs = sorted(((apart(beat.curves[0], piece.curve), beat.name, row)
                        for beat in off for row, piece in enumerate(free)
                        if alike(beat.curves[0], piece.curve)))
        found: dict[str, Piece] = {}
        taken: set[int] = set()
        for _, name, row in pairs:
            if name not in found and row not in taken:
                found[name] = free[row]
                taken.add(row)
        return found

    def _on(self, wanted: Curve) -> list[Piece]:
        """Return what was drawn on the line or circle of a curve."""
        return [piece for piece in self.own if alike(wanted, piece.curve)
                and same_carrier(wanted, piece.curve, self.near)]

    def _curve(self, beat: Beat, meant: Piece | None) -> Judged:
        name, wanted = beat.name, beat.curves[0]
        on = self._on(wanted)
        if on:
            return self._lies(name, wanted, on)
        if meant is None:
            noun = "line" if isinstance(wanted, Line) else "circle or arc"
            return Judged(name, False, f"{name}: no {noun} is drawn for it yet.")
        return Judged(name, False, f"{name}: {self._off(name, wanted, meant.curve)}.", (meant.id,))

    def _lies(self, name: str, wanted: Curve, on: Sequence[Piece]) -> Judged:
        """Tell of curves that lie on the right line or circle how much of it they cover."""
        own = tuple(piece.id for piece in on)
        exact = self._is_exact(name, wanted)
        if not exact:  # its ends are found later
            return Judged(name, True, f"{name}: lies as it should.", own)
        missing = uncovered(wanted, [p.curve for p in on], self.near)
        if missing > WHOLE * wanted.length:
            if missing > (1.0 - WHOLE) * wanted.length:
                where = "the right line, but elsewhere" if isinstance(wanted, Line) \
                    else "the right circle, but on its other side"
                return Judged(name, False, f"{name}: lies on {where}.", own)
            return Judged(name, False, f"{name}: lies on the right "
                          f"{'line' if isinstance(wanted, Line) else 'circle'}, but "
                          f"{self._length(missing)} of it is missing.", own)
        over = max(p.curve.length for p in on) - wanted.length
        if over <= WHOLE * wanted.length or isinstance(wanted, Circle):
            return Judged(name, True, f"{name}: lies as it should.", own)
        return Judged(name, True, f"{name}: lies as it should; cut it back to "
                      f"{self._ends(name)}.", own)

    def _is_exact(self, name: str, wanted: Curve) -> bool:
        curve = self.part.curves.get(name)
        if isinstance(curve, LineCurve) and isinstance(wanted, Line):
            ends = [self.part.points[end] for end in curve.ends]
            return sum(dist(a, b) for a, b in zip(
                ends, (wanted.start, wanted.end), strict=True)) <= self.near
        return not (isinstance(curve, ArcCurve) and isinstance(wanted, Circle))

    def _ends(self, name: str) -> str:
        curve = self.part.curves.get(name)
        return "its length" if curve is None or isinstance(curve, CircleCurve) \
            else " and ".join(curve.ends)

    def _off(self, name: str, wanted: Curve, own: Curve) -> str:
        """Say what does not hold of a curve that lies elsewhere."""
        found: list[str] = []
        curve = self.part.curves.get(name)
        if isinstance(own, Arc | Circle) and isinstance(wanted, Arc | Circle) \
                and isinstance(curve, ArcCurve | CircleCurve) \
                and curve.center in self.start.part.points \
                and dist(own.center, wanted.center) > self.near:
            found.append(f"its center is {self._way(wanted.center, own.center)} {curve.center}")
        if name in self.part.curves:
            ways = [put_in(self.part, name, own, ends) for ends in (True, False)]
            if not self._says_size(name):
                found += self._other_radius(wanted, own)
            found += differences(self.part, self.step, name, ways, self.near)
        return "; ".join(found) if found else self._off_by(wanted, own)

    def _off_by(self, wanted: Curve, own: Curve) -> str:
        """Say how far a curve lies off, where no condition of the step tells it."""
        if isinstance(wanted, Line) or isinstance(own, Line):
            far = max(distance(own, at, False) for at in both_ends(wanted))
            return f"it lies {self._length(far)} off"
        far = dist(wanted.center, own.center)
        return next(iter(self._other_radius(wanted, own)),
                    f"its center lies {self._length(far)} off")

    def _says_size(self, name: str) -> bool:
        """Tell whether a number of the step is the radius of a curve, or is measured from it."""
        bindings = [self.part.bindings[key] for key in self.step.bindings]
        return any(name in binding.of and KINDS[binding.kind].quantity for binding in bindings)

    def _other_radius(self, wanted: Curve, own: Curve) -> list[str]:
        if isinstance(wanted, Line) or isinstance(own, Line) \
                or abs(wanted.radius - own.radius) <= self.near:
            return []
        return [f"its radius is {self._length(own.radius)} where the construction has "
                f"{self._length(wanted.radius)}"]

    # Points and images.

    def _point(self, name: str, at: XY) -> Judged:
        places = list(self._places())
        if any(dist(place, at) <= self.near for place in places):
            return Judged(name, True, f"{name}: is where it should be.")
        if not places:
            return Judged(name, False, f"{name}: nothing is drawn that marks it; "
                          "two lines or circles that cross there do.")
        best = min(places, key=lambda place: dist(place, at))
        moved = self.part.having(points={**self.part.points, name: best})
        found = differences(self.part, self.step, name, [moved], self.near)
        for key, curve in self.before.items():
            meant = self.part.curves.get(key)
            off = distance(curve, best, False)
            if meant is not None and name in meant.points and off > self.near \
                    and not (isinstance(meant, ArcCurve | CircleCurve) and name == meant.center):
                found.append(f"it lies {self._length(off)} beside {key}")
        said = "; ".join(found) or f"it lies {self._length(dist(best, at))} from its place"
        return Judged(name, False, f"{name}: {said}.")

    def _places(self) -> Iterable[XY]:
        """Give the points that were drawn, and where what was drawn meets."""
        before = self.start.part.points
        yield from (at for name, at in self.drawn.points.items() if name not in before)
        own = [piece.curve for piece in self.own]
        for k, one in enumerate(own):
            if isinstance(one, Circle | Arc):
                yield one.center
            for other in (*own[k + 1:], *self.there):
                yield from (meeting.point for meeting in meet(one, other, tol=self.near))

    def _images(self, wanted: Sequence[Curve]) -> Judged:
        """Tell of images: all of them, in whatever way they were made."""
        near = _Beside([piece.curve for piece in self.own], self.near)
        right = sum(uncovered(curve, near.curves(curve), self.near) <= WHOLE * curve.length
                    for curve in wanted)
        if right == len(wanted):
            return Judged("", True, "The images lie as they should.")
        return Judged("", False, f"{right or 'None'} of {len(wanted)} images lie as they should.")

    # Words.

    def _length(self, amount: float) -> str:
        return length(amount, self.part.unit)

    def _way(self, a: XY, b: XY) -> str:
        """Say where a place lies from another: ``2 to the right of and 1 above``."""
        dx, dy = b[0] - a[0], b[1] - a[1]
        words = []
        if abs(dx) > self.near:
            words.append(f"{self._length(abs(dx))} to the {'right' if dx > 0.0 else 'left'} of")
        if abs(dy) > self.near:
            words.append(f"{self._length(abs(dy))} {'above' if dy > 0.0 else 'below'}")
        return " and ".join(words)


class _Beside:
    """Finds the rounds about a center without a look at all others; of lines it gives all."""

    def __init__(self, curves: Iterable[Curve], near: float) -> None:
        self._cell = 1000.0 * near
        self._lines: list[Curve] = []
        self._rounds: dict[tuple[int, int], list[Curve]] = {}
        for curve in curves:
            if isinstance(curve, Line):
                self._lines.append(curve)
            else:
                self._rounds.setdefault(self._key(curve.center), []).append(curve)

    def _key(self, at: XY) -> tuple[int, int]:
        return floor(at[0] / self._cell), floor(at[1] / self._cell)

    def curves(self, wanted: Curve) -> Iterable[Curve]:
        """Give the curves that may lie where one does."""
        if isinstance(wanted, Line):
            yield from self._lines
            return
        x, y = self._key(wanted.center)
        for dx in (-1, 0, 1):
            for dy in (-1, 0, 1):
                yield from self._rounds.get((x + dx, y + dy), ())


def both_ends(curve: Curve) -> tuple[XY, ...]:
    """Return the ends of a curve; of a circle its center."""
    return (curve.center,) if isinstance(curve, Circle) else (curve.start, curve.end)


def alike(wanted: Curve, own: Curve) -> bool:
    """Tell whether both are straight, or both are round."""
    return isinstance(wanted, Line) == isinstance(own, Line)


def apart(wanted: Curve, own: Curve) -> float:
    """Return how far two curves of one kind lie from each other, as a length."""
    if isinstance(wanted, Line) and isinstance(own, Line):
        off = max(distance(own, at, False) for at in both_ends(wanted))
        return off + distance(own, wanted.start)
    if isinstance(wanted, Line) or isinstance(own, Line):
        return float("inf")
    return hypot(dist(wanted.center, own.center), wanted.radius - own.radius)


def uncovered(wanted: Curve, own: Iterable[Curve], tol: float) -> float:
    """Return how much of a curve's length none of the others lies on."""
    spans = []
    for curve in own:
        for shared in overlap(wanted, curve, tol):
            if isinstance(shared, Circle):
                return 0.0
            if isinstance(wanted, Circle):
                begin = parameter_at(wanted, shared.start)
                spans.append((begin, begin + shared.length / wanted.length))
            else:
                ends = sorted((parameter_at(wanted, shared.start),
                               parameter_at(wanted, shared.end)))
                spans.append((ends[0], ends[1]))
    spans += [(a - 1.0, b - 1.0) for a, b in spans if b > 1.0 + NEAR]
    left, reached = 0.0, 0.0
    for begin, end in sorted(spans):
        left += max(0.0, begin - reached)
        reached = max(reached, end)
    return (left + max(0.0, 1.0 - reached)) * wanted.length
