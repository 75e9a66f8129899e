"""What a hand-in has besides the key: construction left standing, strays, features too many."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import dist, hypot

import numpy as np

from sketcher.geometry.chain import nodes
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.project import distance
from sketcher.intake.stray_chains import stray_chains
from sketcher.marking.carrier_spans import CarrierSpan, leaves, shared, span, united
from sketcher.marking.drawn_edges import Opening
from sketcher.marking.key_shape import KeyShape
from sketcher.marking.outline_features import Feature
from sketcher.marking.slip import Slip
from sketcher.part.whole import middle, whole

MOST_OF_ARC = 0.9
"""Share of an arc that chords on it must span to stand for it (common practice, no source)."""
TOUCHED = 2
"""Places of the key through which a construction line passes: two make one (a straight line is
given by two points; a circle by its center and one)."""


@dataclass(frozen=True, slots=True)
class ExtraChain:
    """Extra features that hang together at their ends; `free` are the ends where they stop."""

    hand: tuple[int, ...]
    free: tuple[XY, ...]


class ExtraChains:
    """Judges what draws nothing of the key.

    Parameters
    ----------
    shape : KeyShape
    key, hand : sequence of Feature
        What was to be drawn, what was drawn.
    missing : sequence of int
        Features of the key that are not drawn.
    extra : collection of int
        Features of the hand-in that draw none.
    openings : sequence of Opening
        Where the outline is open: an extra chain may bridge one.
    within : float
    """

    def __init__(
        self, shape: KeyShape, key: Sequence[Feature], hand: Sequence[Feature],
        missing: Sequence[int], extra: set[int], openings: Sequence[Opening], within: float,
    ) -> None:
        self.shape, self.key, self.hand, self.within = shape, key, hand, within
        self.missing, self.extra = list(missing), set(extra)
        self.openings = list(openings)
        self.slips: list[Slip] = []
        self._take_chords()
        for chain in self._chains():
            self._judge(chain)

    # Chords of an arc that is not there.

    def _take_chords(self) -> None:
        for i in list(self.missing):
            base = self.key[i].curve
            if isinstance(base, Line):
                continue
            on = {j: span(base, self.hand[j].curve) for j in sorted(self.extra)
                  if self._chord_of(base, self.hand[j].curve)}
            whole_ = CarrierSpan(0.0, base.length)
            if sum(shared(whole_, each) for each in united(on.values(), self.within)) < (
                    MOST_OF_ARC * base.length):
                continue
            self.missing.remove(i)
            self.extra -= set(on)
            self.slips.append(Slip("chords-for-arc", middle(base), (i,), tuple(on),
                                   amount=float(len(on))))

    def _chord_of(self, base: Arc | Circle, curve: Curve) -> bool:
        slack = 2.0 * self.within
        if not isinstance(curve, Line) or any(
                abs(dist(at, base.center) - base.radius) > slack
                for at in (curve.start, curve.end)):
            return False
        at = span(base, curve)
        return isinstance(base, Circle) or (
            at.low >= -slack and at.high <= base.length + slack)

    # The rest, chain by chain.

    def _chains(self) -> list[ExtraChain]:
        numbers = sorted(self.extra)
        net = nodes([self.hand[j].curve for j in numbers], self.within)
        return [ExtraChain(tuple(numbers[k] for k in each), tuple(
            net.points[node] for node, at in enumerate(net.at)
            if len(at) == 1 and at[0] in each))
            for each, _ in stray_chains(net, range(len(numbers)))]

    def _judge(self, chain: ExtraChain) -> None:
        curves = [self.hand[j].curve for j in chain.hand]
        bridged = self._bridged(chain)
        if bridged is not None:
            self.openings.remove(bridged)
            self._tell("extra-feature", chain, bridged.keys, "bridge")
        elif not chain.free:
            ring = isinstance(curves[0], Circle) and len(curves) == 1
            built = ring and self._built(curves[0])
            self._tell("construction-left" if built else "extra-feature", chain, (),
                       "hole" if ring else "loop")
        elif all(self._built(curve) for curve in curves):
            self._tell("construction-left", chain, self._beside(curves[0]))
        else:
            self._tell("stray", chain)

    def _tell(self, rule: str, chain: ExtraChain, keys: tuple[int, ...] = (),
              word: str = "") -> None:
        longest = max(chain.hand, key=lambda j: self.hand[j].curve.length)
        self.slips.append(Slip(rule, middle(self.hand[longest].curve), keys, chain.hand, (),
                               sum(self.hand[j].curve.length for j in chain.hand), word=word))

    def _bridged(self, chain: ExtraChain) -> Opening | None:
        """Return the opening of the outline that a chain closes."""
        if len(chain.free) != 2:
            return None
        a, b = chain.free
        slack = 2.0 * self.within
        return next((each for each in self.openings if min(
            max(dist(a, each.ends[0]), dist(b, each.ends[1])),
            max(dist(b, each.ends[0]), dist(a, each.ends[1]))) <= slack), None)

    @cached_property
    def _places(self) -> np.ndarray:
        """Places of the key that something is constructed from: ends, centers, named points."""
        found: list[XY] = list(self.shape.part.points.values())
        for piece in whole(self.shape.part):
            curve = piece.curve
            found += [curve.center] if not isinstance(curve, Line) else []
            found += [curve.start, curve.end] if not isinstance(curve, Circle) else []
        table = np.unique(np.round(np.array(found) / self.within), axis=0) * self.within
        return table.reshape(-1, 2)

    @cached_property
    def _scribed(self) -> list[Curve]:
        """Layout and axes of the key."""
        return [piece.curve for piece in whole(self.shape.part) if piece.role != "outline"]

    def _built(self, curve: Curve) -> bool:
        """Whether a curve constructs something of the key."""
        if any(leaves(base, curve) <= self.within
               for base in (*self._scribed, *(each.curve for each in self.key))):
            return True
        if not isinstance(curve, Line):
            at_center = np.hypot(*(self._places - curve.center).T).min() <= 2.0 * self.within
            return bool(at_center) and self._passed(curve) >= TOUCHED - 1
        return self._passed(curve) >= TOUCHED

    def _passed(self, curve: Curve) -> int:
        """How many places of the key a curve passes through, ends included."""
        slack = 2.0 * self.within
        if isinstance(curve, Line):
            (x0, y0), (x1, y1) = curve.start, curve.end
            size = hypot(x1 - x0, y1 - y0)
            x, y = (self._places - curve.start).T
            off = np.abs((x1 - x0) * y - (y1 - y0) * x) / size
            t = ((x1 - x0) * x + (y1 - y0) * y) / size
            on = self._places[(off <= slack) & (t >= -slack) & (t <= size + slack)]
        else:
            off = np.abs(np.hypot(*(self._places - curve.center).T) - curve.radius)
            on = np.array([p for p in self._places[off <= slack]
                           if distance(curve, (float(p[0]), float(p[1]))) <= slack])
        return len({(round(x / (4.0 * slack)), round(y / (4.0 * slack)))
                    for x, y in on.reshape(-1, 2).tolist()})

    def _beside(self, curve: Curve) -> tuple[int, ...]:
        """Return the feature of the key whose carrier a curve lies on."""
        return tuple(i for i, each in enumerate(self.key)
                     if leaves(each.curve, curve) <= self.within)[:1]
