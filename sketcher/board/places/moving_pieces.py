"""The curves of the whole part while it moves: only those whose points moved are made anew."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import compress, count
from operator import is_not
from typing import TYPE_CHECKING

import numpy as np

from sketcher.errors import SketcherError
from sketcher.geometry.curves import Curve, Line
from sketcher.part.mirror import Reflector, reflector, taken
from sketcher.part.value import CircleCurve, Part, PolarPattern
from sketcher.part.whole import Piece, curve_value, drawn_pieces, middle, whole

if TYPE_CHECKING:
    from numpy.typing import NDArray

_SERIAL = count()


class Pieces:
    """Every curve of one part, images included, and what differs from the part before it.

    Parameters
    ----------
    part : Part

    Attributes
    ----------
    all : tuple of Piece
        As `whole` gives them; the drawn curves alone while an axis has no length.
    serial : int
        Number of this value; no two have the same.
    follows : int or None
        Number of the value that `changed` counts from.
    changed : tuple of int
        Places in `all` of the curves that differ from those before.
    """

    def __init__(self, part: Part, made: tuple[Piece, ...], reflects: bool = True) -> None:
        self.part, self.all = part, made
        self.serial = next(_SERIAL)
        self.follows: int | None = None
        self.changed: tuple[int, ...] = ()
        self._reflects = reflects

    @classmethod
    def of(cls, part: Part) -> Pieces:
        """Return the curves of a whole part, all made anew."""
        try:
            return cls(part, whole(part))
        except SketcherError:  # an axis without length: what is drawn can still be picked
            return cls(part, drawn_pieces(part), reflects=False)

    def after(self, part: Part) -> Pieces:
        """Return the curves of the next part; those that did not move are the same objects.

        The images of what moved follow it as long as this cannot change which images there are:
        an axis or what a pattern repeats moves, a curve comes to lie on another one or leaves the
        place of one that was left out for it. Then everything is made anew.
        """
        names = self._moved(part)
        if names is None or not self._reflects or self._steers(names):
            return Pieces.of(part)
        tables = self._tables
        places = [k for name in names for k in tables.places.get(name, ())]
        made = {k: self._piece(part, k) for k in places}
        if tables.meets(places, [made[k].curve for k in places]):
            return Pieces.of(part)
        pieces = list(self.all)
        for k, piece in made.items():
            pieces[k] = piece
        following = Pieces(part, tuple(pieces))
        following.follows, following.changed = self.serial, tuple(places)
        following._users = self._users
        following._tables = tables.having(places, [made[k].curve for k in places])
        return following

    def _moved(self, part: Part) -> tuple[str, ...] | None:
        """Names of the points and curves that moved; None where more than geometry differs."""
        was = self.part
        if any(getattr(was, name) is not getattr(part, name)
               for name in ("mirrors", "patterns", "parameters", "unit")):
            return None
        if list(was.points) != list(part.points) or list(was.curves) != list(part.curves):
            return None
        moved: dict[str, None] = {}
        if was.points is not part.points:
            for point in compress(part.points,
                                  map(is_not, was.points.values(), part.points.values())):
                moved[point] = None
                moved.update(dict.fromkeys(self._users.get(point, ())))
        if was.curves is not part.curves:
            for name in compress(part.curves,
                                 map(is_not, was.curves.values(), part.curves.values())):
                old, new = was.curves[name], part.curves[name]
                if not isinstance(old, CircleCurve) or not isinstance(new, CircleCurve) \
                        or replace(old, radius=new.radius) != new:
                    return None
                moved[name] = None
        return tuple(moved)

    def _steers(self, names: Iterable[str]) -> bool:
        """Whether other curves than their own images depend on these."""
        part = self.part
        steering = {mirror.axis for mirror in part.mirrors}
        for pattern in part.patterns.values():
            steering.update(pattern.curves)
            if isinstance(pattern, PolarPattern):
                steering.add(pattern.center)
        return not steering.isdisjoint(names) or (
            bool(part.mirrors) and not self._tables.lost.isdisjoint(names))

    @cached_property
    def _users(self) -> dict[str, list[str]]:
        """Curves by the points that they name."""
        users: dict[str, list[str]] = defaultdict(list)
        for name, curve in self.part.curves.items():
            for point in curve.points:
                users[point].append(name)
        return dict(users)

    @cached_property
    def _tables(self) -> _PieceTables:
        return _PieceTables.of(self.part, self.all)

    def _piece(self, part: Part, place: int) -> Piece:
        piece = self.all[place]
        curve = curve_value(part, part.curves[piece.source])
        for number, reflection in enumerate(self._tables.reflections):
            if piece.image.mirrors >> number & 1:
                curve = reflection.curve(curve)
        return Piece(piece.image, curve, piece.role)


@dataclass(frozen=True, slots=True)
class _PieceTables:
    """What following needs to know of the curves, kept from part to part.

    `keys` and `left_out` tell where each curve and each image that was left out lies, shape
    (n, 3): middle and size. `lost` are the curves with an image that was left out.
    """

    places: dict[str, tuple[int, ...]]
    reflections: tuple[Reflector, ...]
    keys: NDArray[np.float64]
    left_out: NDArray[np.float64]
    lost: frozenset[str]
    reach: float

    @classmethod
    def of(cls, part: Part, pieces: tuple[Piece, ...]) -> _PieceTables:
        places: dict[str, list[int]] = defaultdict(list)
        for k, piece in enumerate(pieces):
            places[piece.source].append(k)
        reflections = tuple(reflector(part, mirror) for mirror in part.mirrors)
        there, lost, left_out = {piece.id for piece in pieces}, set(), []
        for number, (mirror, reflection) in enumerate(zip(part.mirrors, reflections, strict=True)):
            sources = taken(part, mirror)
            for piece in pieces:
                if piece.image.mirrors < 1 << number and piece.source in sources \
                        and piece.image.reflected(number).name not in there:
                    lost.add(piece.source)
                    left_out.append(_key(reflection.curve(piece.curve)))
        # as far as `whole` looks for curves in the same place, with some to spare
        reach = 5e3 * max((each.tolerance for each in reflections), default=0.0)
        return cls({name: tuple(found) for name, found in places.items()}, reflections,
                   _table(_key(piece.curve) for piece in pieces), _table(left_out),
                   frozenset(lost), reach)

    def meets(self, places: list[int], curves: list[Curve]) -> bool:
        """Whether curves come to lie on others, or leave a place where an image was left out."""
        if not self.reflections or not places:
            return False
        now = _table(_key(curve) for curve in curves)
        keys = self.keys.copy()
        keys[places] = now
        # two of the largest moves at a time would be a large table; a loop over what moved is not
        for place, key in zip(places, now, strict=True):
            near = (np.abs(keys - key) <= self.reach).all(axis=1)
            near[place] = False
            if near.any():
                return True
            was = self.keys[place]
            if (np.abs(self.left_out - was) <= self.reach).all(axis=1).any():
                return True
        return False

    def having(self, places: list[int], curves: list[Curve]) -> _PieceTables:
        """Return the tables with some curves moved."""
        if not self.reflections or not places:
            return self
        keys = self.keys.copy()
        keys[places] = _table(_key(curve) for curve in curves)
        return replace(self, keys=keys)


def _key(curve: Curve) -> tuple[float, float, float]:
    return (*middle(curve), curve.length if isinstance(curve, Line) else curve.radius)


def _table(keys: Iterable[tuple[float, float, float]]) -> NDArray[np.float64]:
    return np.array(list(keys), float).reshape(-1, 3)
