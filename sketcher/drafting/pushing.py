"""Makes room where lettering would stand on something: what is in the way is put elsewhere.

Placing one dimension after the other can wall one in: all its places are taken, and the one that
took the last of them had others. So the walled-in dimension takes a place where little is in its
way, and that little is placed anew, itself pushing what is in its way where it must.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import numpy as np

from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.field import HARD, MARGIN, NEVER, Array, Field
from sketcher.drafting.primitives import Item, Text, item_box
from sketcher.interrupt import check

LOOKED_AT = 120  # places of one dimension that are held against all others
WIDTH, DEPTH, ROUNDS = 5, 2, 8
MOST_PUSHED = 4
CLASHES = 6_000
"""Pairs of dimensions that are held against each other, in some 2 s, before pushing ends: in a
crowd of hundreds there is no room to be found."""

Places: TypeAlias = Callable[[str], Iterable[tuple[float, Callable[[], Drawn]]]]
Best: TypeAlias = Callable[[str, Sequence[Drawn]], tuple[float, Drawn | None]]


@dataclass(frozen=True)
class Standing:
    """A dimension as it stands, alone on a field of its own."""

    drawn: Drawn
    box: tuple[float, float, float, float]
    inked: Array  # boxes of the items, (n, 4)
    lettered: Array  # those of the lettering with its clear space

    @staticmethod
    def of(drawn: Drawn) -> Standing:
        """Return a dimension where it is drawn."""
        boxes = np.array([item_box(item) for item in drawn.items])
        lettered = boxes[[isinstance(item, Text) for item in drawn.items]]
        around = (*boxes[:, :2].min(axis=0).tolist(), *boxes[:, 2:].max(axis=0).tolist())
        return Standing(drawn, around, boxes,
                        lettered + 1.5 * MARGIN * np.array((-1.0, -1.0, 1.0, 1.0)))

    @cached_property
    def field(self) -> Field:
        """A field with nothing else on it."""
        return Field(self.drawn.items)

    def near_lettering(self, other: Standing) -> bool:
        """Tell quickly whether lettering of one may stand on the other."""
        return _meet(self.lettered, other) or _meet(other.lettered, self)

    def near(self, other: Standing) -> bool:
        """Tell quickly whether the two may be in each other's way."""
        (a0, b0, a1, b1), (c0, d0, c1, d1) = self.box, other.box
        reach = 6.0  # dimension lines crowd each other within this
        return not (a1 + reach < c0 or c1 + reach < a0 or b1 + reach < d0 or d1 + reach < b0)

    def clash(self, other: Standing) -> float:
        """Return what it costs that two stand together; 0.0 where they may."""
        cost = max(self.field.cost(other.drawn), other.field.cost(self.drawn))
        return cost if cost >= HARD else 0.0


def _meet(lettered: Array, other: Standing) -> bool:
    x0, y0, x1, y1 = other.box
    at = lettered[(lettered[:, 0] <= x1) & (lettered[:, 2] >= x0)
                  & (lettered[:, 1] <= y1) & (lettered[:, 3] >= y0)][:, None]
    if not at.size:
        return False
    to = other.inked
    return bool(((at[..., 0] <= to[:, 2]) & (at[..., 2] >= to[:, 0])
                 & (at[..., 1] <= to[:, 3]) & (at[..., 3] >= to[:, 1])).any())


class Pusher:
    """Frees lettering on one sheet.

    Parameters
    ----------
    items : iterable of Item
        Outline and center lines.
    places : Places
        All places of a dimension with their own costs.
    best : Best
        The cheapest place of a dimension beside others.
    """

    def __init__(self, items: Iterable[Item], places: Places, best: Best) -> None:
        self._items, self._places, self._best = tuple(items), places, best
        self._paper = Field(self._items)
        self._left = CLASHES

    def freed(self, found: Mapping[str, Drawn], movable: Iterable[str]) -> dict[str, Drawn]:
        """Return the dimensions with as little lettering on lines as pushing can reach."""
        stand = {name: Standing.of(drawn) for name, drawn in found.items()}
        movable = frozenset(movable)
        for _ in range(ROUNDS):
            better = self._step(stand, movable) if self._left > 0 else None
            if better is None:
                break
            stand = better
        return {name: one.drawn for name, one in stand.items()}

    def _step(
        self, stand: dict[str, Standing], movable: frozenset[str]
    ) -> dict[str, Standing] | None:
        """Return the dimensions with fewer clashes, or None."""
        for name in sorted(self._walled(stand) & movable, key=list(stand).index):
            after = self._pushed(name, stand, movable, DEPTH)
            if after is not None:
                return after
        return None

    def _clash(self, one: Standing, other: Standing) -> float:
        if not one.near(other):
            return 0.0
        self._left -= 1
        return one.clash(other)

    def _walled(self, stand: Mapping[str, Standing]) -> set[str]:
        """Return the dimensions whose lettering stands on something, or that run through some."""
        names, found = list(stand), set[str]()
        for number, name in enumerate(names):
            if self._paper.cost(stand[name].drawn) >= NEVER:
                found.add(name)
            mine = stand[name]
            found.update(one for other in names[:number] if mine.near_lettering(stand[other])
                         and self._clash(mine, stand[other]) >= NEVER for one in (name, other))
        return found

    def _trouble(self, names: Iterable[str], stand: Mapping[str, Standing]) -> float:
        """Return what clashes cost in which some dimensions have a part."""
        total, counted = 0.0, set[str]()
        for name in names:
            counted.add(name)
            on_paper = self._paper.cost(stand[name].drawn)
            total += on_paper if on_paper >= HARD else 0.0
            total += sum(self._clash(stand[name], one) for other, one in stand.items()
                         if other not in counted)
        return total

    def _pushed(
        self, name: str, stand: dict[str, Standing], movable: frozenset[str], depth: int
    ) -> dict[str, Standing] | None:
        """Put one where little is in its way, and that little elsewhere; None if no gain."""
        for drawn, pushed in self._openings(name, stand, movable):
            check()
            after = dict(stand)
            after[name] = Standing.of(drawn)
            for one in pushed:
                del after[one]
            for one in pushed:
                cost, place = self._best(one, [s.drawn for s in after.values()])
                if place is None:
                    break
                after[one] = Standing.of(place)
                if cost >= HARD and depth > 1:
                    free = movable - {name}
                    after = self._pushed(one, after, free, depth - 1) or after
            moved = [n for n, one in after.items() if one is not stand[n]]
            if len(after) == len(stand) and (
                    self._trouble(moved, after) < self._trouble(moved, stand) - 0.5 * HARD):
                return {n: after[n] for n in stand}
        return None

    def _openings(
        self, name: str, stand: Mapping[str, Standing], movable: frozenset[str]
    ) -> Iterator[tuple[Drawn, tuple[str, ...]]]:
        """Places of one with what is in the way there, the least first."""
        found: dict[tuple[str, ...], tuple[float, Drawn]] = {}
        looked = 0
        for own, draw in sorted(self._places(name), key=lambda c: c[0]):
            drawn = draw()
            if self._paper.covered(drawn) or self._paper.cost(drawn, HARD) >= HARD:
                continue
            looked += 1
            if looked > LOOKED_AT or self._left <= 0:
                break
            here = Standing.of(drawn)
            way = tuple(sorted(n for n, s in stand.items() if n != name and self._clash(here, s)))
            if way not in found and len(way) <= MOST_PUSHED and movable.issuperset(way):
                found[way] = (own, drawn)
        ranked = sorted(found.items(), key=lambda f: (len(f[0]), f[1][0]))
        for way, (_, drawn) in ranked[:WIDTH]:
            yield drawn, way
