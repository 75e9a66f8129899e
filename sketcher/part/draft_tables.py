"""The tables of a part under construction: copied when first changed, with ids and checks."""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite
from typing import Any

from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.part.node import MAX_NUMBER
from sketcher.part.value import (
    Binding,
    CircleCurve,
    Mirror,
    Part,
    PartCurve,
    Pattern,
    new_id,
)


class DraftTables:
    """Points, curves, bindings, patterns and mirrors as they stand while a part is built.

    A table that was not changed is the part's own, the very same object.

    Parameters
    ----------
    part : Part
        Where the work begins; it stays as it is.
    """

    def __init__(self, part: Part) -> None:
        self._part = part
        self._own: dict[str, dict[str, Any]] = {}
        self._mirrors = part.mirrors
        self._numbers: dict[str, int] = {}
        self._gone: dict[str, str] = {}  # removed bindings and their kinds
        self.dropped: list[str] = []

    @property
    def points(self) -> Mapping[str, XY]:
        """Points as they stand."""
        return self._own.get("points", self._part.points)

    @property
    def curves(self) -> Mapping[str, PartCurve]:
        """Curves as they stand."""
        return self._own.get("curves", self._part.curves)

    @property
    def bindings(self) -> Mapping[str, Binding]:
        """Bindings as they stand."""
        return self._own.get("bindings", self._part.bindings)

    @property
    def patterns(self) -> Mapping[str, Pattern]:
        """Patterns as they stand."""
        return self._own.get("patterns", self._part.patterns)

    @property
    def mirrors(self) -> tuple[Mirror, ...]:
        """Mirrors as they stand."""
        return self._mirrors

    def _table(self, what: str) -> dict[str, Any]:
        if what not in self._own:
            self._own[what] = dict(getattr(self._part, what))
        return self._own[what]

    def _named(self, name: str | None, prefix: str) -> str:
        if name is None:
            return self._next(prefix)
        if self._is_taken(name):
            raise EditError(name, "the id is taken", "choose another id")
        return name

    def _is_taken(self, name: str) -> bool:
        return (
            name in self.points
            or name in self.curves
            or name in self.bindings
            or name in self.patterns
        )

    def _next(self, prefix: str) -> str:
        # One walk through the ids a prefix and draft, then counting: adding n things costs n.
        number = self._numbers.get(prefix)
        if number is None:
            table = {"p": self.points, "b": self.bindings}.get(prefix, self.curves)
            number = int(new_id(table, prefix)[len(prefix):])
        while self._is_taken(f"{prefix}{number}"):
            number += 1
        self._numbers[prefix] = number + 1
        return f"{prefix}{number}"

    def _check_curve(self, place: str, curve: PartCurve) -> None:
        for point in curve.points:
            if point not in self.points:
                raise EditError(place, f"no point named '{point}'", "add the point first")
        if len(set(curve.points)) < len(curve.points):
            raise EditError(place, f"{', '.join(curve.points)} names one point twice",
                            "choose different points")
        if isinstance(curve, CircleCurve) and not (isfinite(curve.radius) and curve.radius > 0.0):
            raise EditError(place, f"a radius of {curve.radius:g}", "give a radius above 0")

    def _known(self, name: str, table: Mapping[str, Any], what: str) -> None:
        if name not in table:
            raise EditError(name, f"no {what} with this id", f"choose a {what} of the part")


def placed(xy: XY) -> XY:
    """Return a place as two floats that a file can hold."""
    x, y = float(xy[0]), float(xy[1])
    if not (abs(x) <= MAX_NUMBER and abs(y) <= MAX_NUMBER):  # catches what is not a number too
        raise EditError("point", f"({x:g}, {y:g}) is out of range", f"stay within {MAX_NUMBER:g}")
    return (x, y)
