"""A half that is not the exact reflection of the other: one mistake, not one a feature."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sketcher.geometry.curves import XY, Circle, Line
from sketcher.marking.assignment import FeatureTable, Matching, matched
from sketcher.marking.key_shape import KeyShape
from sketcher.marking.outline_features import Feature, features
from sketcher.marking.rigid_move import RigidMove, rigid_move, shift_alone
from sketcher.part.mirror import axis_line, taken

FEWEST = 3
"""Features off their place that a half must have: less is told one by one."""
LEFT_OVER = 0.34
"""Share of them that may stay off when the half is taken to be moved as a whole."""


@dataclass(frozen=True, slots=True)
class BrokenMirror:
    """A half that was moved as a whole against the other.

    Parameters
    ----------
    axis : Line
        Of the key.
    move : RigidMove
        Of the half that lies elsewhere.
    key : tuple of Feature
        What was drawn to: the key with that half moved.
    matching : Matching
    at : (x, y)
        Middle of the moved half.
    """

    axis: Line
    move: RigidMove
    key: tuple[Feature, ...]
    matching: Matching
    at: XY

    @property
    def slide(self) -> float:
        """How far the half is moved along the axis."""
        x, y = self.axis.direction
        dx, dy = self._moved(self.axis.start)
        return dx * x + dy * y

    @property
    def apart(self) -> float:
        """How far the half is moved square to the axis, at that end where it is less."""
        x, y = self.axis.direction
        moved = [self._moved(at) for at in (self.axis.start, self.axis.end)]
        return min((x * dy - y * dx for dx, dy in moved), key=abs)

    def _moved(self, at: XY) -> XY:
        x, y = self.move.point(at)
        return x - at[0], y - at[1]


def broken_mirror(
    shape: KeyShape, hand: Sequence[Feature], matching: Matching, within: float
) -> BrokenMirror | None:
    """Return which half of a hand-in lies elsewhere as a whole; None where none does.

    Parameters
    ----------
    shape : KeyShape
        What the hand-in was drawn to.
    hand : sequence of Feature
        As they lie on the key.
    matching : Matching
        Of `shape` with `hand`.
    within : float
    """
    before = matching.wrong(within)
    if before < FEWEST or not shape.part.mirrors:
        return None
    best: BrokenMirror | None = None
    for number, side in _sides(shape):
        found = _tried(shape, hand, matching, within, number, side)
        if found is not None and (
                best is None or found.matching.wrong(within) < best.matching.wrong(within)):
            best = found
    if best is None:
        return None
    after = best.matching.wrong(within)
    return best if after <= LEFT_OVER * before and before - after >= FEWEST - 1 else None


def _sides(shape: KeyShape) -> Iterator[tuple[int, frozenset[int]]]:
    """Yield the pieces of each half of each mirror."""
    for number, mirror in enumerate(shape.part.mirrors):
        sources = taken(shape.part, mirror)
        across = {p.source for p in shape.pieces if p.image.mirrors >> number & 1}
        halves = [frozenset(
            k for k, p in enumerate(shape.pieces) if p.source in sources & across
            and bool(p.image.mirrors >> number & 1) == image) for image in (True, False)]
        for half in halves:
            yield number, half


def _tried(
    shape: KeyShape, hand: Sequence[Feature], matching: Matching, within: float, number: int,
    side: frozenset[int],
) -> BrokenMirror | None:
    pairs = [(shape.found[i].curve, hand[j].curve)
             for (i, j), off in zip(matching.pairs, matching.off, strict=True)
             if off > within and side.issuperset(shape.found[i].sources)]
    if len(pairs) < 2:
        return None
    best: BrokenMirror | None = None
    for move in (rigid_move(pairs, within), shift_alone(pairs)):
        if move is None:
            continue
        key = features([move.curve(p.curve) if k in side else p.curve
                        for k, p in enumerate(shape.pieces)], within)
        trial = matched(FeatureTable(key), FeatureTable(hand), shape.size)
        if best is None or trial.wrong(within) < best.matching.wrong(within):
            axis = axis_line(shape.part, shape.part.mirrors[number])
            curves = [shape.pieces[k].curve for k in sorted(side)]
            places = [c.center if isinstance(c, Circle) else c.start for c in curves]
            middle = (sum(x for x, _ in places) / len(places),
                      sum(y for _, y in places) / len(places))
            best = BrokenMirror(axis, move, key, trial, move.point(middle))
    return best
