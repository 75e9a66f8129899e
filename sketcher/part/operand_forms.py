"""How a binding kind says what it takes and which equations it means."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import chain, permutations, product
from math import hypot
from typing import NamedTuple, TypeAlias

import numpy as np

from sketcher.errors import EditError
from sketcher.part.equations import Array, Equation
from sketcher.part.value import ArcCurve, Binding, CircleCurve, LineCurve, Part

Slot: TypeAlias = tuple[str, str]
"""One unknown before reduction: (point id, "x" or "y") or (round's id, "r")."""

ROUNDS = ("arc", "circle")


class Row(NamedTuple):
    """An equation put to points and radii (ids of arcs and circles)."""

    equation: Equation
    points: tuple[str, ...] = ()
    radii: tuple[str, ...] = ()


@dataclass(slots=True)
class Meeting:
    """Which points lie on which curves by the bindings, and how tangencies sign their radii.

    `on` maps a curve to the points that are its ends or bound on it, in order; `signed` maps
    (point, round) to the row that stands for |point - center| = radius at a tangent joint, with
    the binding whose side it takes.
    """

    on: dict[str, dict[str, None]] = field(default_factory=dict)
    signed: dict[tuple[str, str], tuple[Row, str]] = field(default_factory=dict)

    def joint(self, first: str, second: str) -> str | None:
        """Return the first point that lies on both curves, or None."""
        other = self.on.get(second, {})
        return next((p for p in self.on.get(first, {}) if p in other), None)


def operand_type(part: Part, name: str) -> str | None:
    """Return ``point``, ``line``, ``arc`` or ``circle``; None for an unknown id."""
    if name in part.points:
        return "point"
    curve = part.curves.get(name)
    return None if curve is None else curve.kind


def line_ends(part: Part, name: str) -> tuple[str, str]:
    """Ends of a line."""
    curve = part.curves[name]
    if not isinstance(curve, LineCurve):
        raise EditError(f"curves.{name}", "is not a line")
    return curve.ends


def center_of(part: Part, name: str) -> str:
    """Center point of an arc or circle."""
    curve = part.curves[name]
    if isinstance(curve, LineCurve):
        raise EditError(f"curves.{name}", "is not an arc or a circle")
    return curve.center


def radius_of(part: Part, name: str) -> float:
    """Radius of a circle, mean end distance of an arc."""
    curve = part.curves[name]
    if isinstance(curve, CircleCurve):
        return curve.radius
    if not isinstance(curve, ArcCurve):
        raise EditError(f"curves.{name}", "is not an arc or a circle")
    cx, cy = part.points[curve.center]
    apart = [hypot(part.points[p][0] - cx, part.points[p][1] - cy) for p in curve.ends]
    return 0.5 * (apart[0] + apart[1])


def local(part: Part, row: Row) -> Array:
    """Local slots of one row as they stand, shape (1, n)."""
    at = [coordinate for p in row.points for coordinate in part.points[p]]
    at += [radius_of(part, name) for name in row.radii]
    return np.array([at])


class Kind:
    """Base of all binding kinds.

    A kind is solved either by the equations of `rows`, or, where `substitutes` is True, by making
    unknowns one (`unions`); its rows then only measure. A kind may do both.

    Attributes
    ----------
    name : str
        Name in files and on the screen.
    quantity : str or None
        ``length`` or ``angle`` for a dimension, None for a kind without a value.
    hint : str
        One sentence for the person who looks for it.
    forms : tuple of tuple of str
        Operand types that it takes; ``round`` stands for an arc or a circle.
    """

    name = ""
    quantity: str | None = None
    hint = ""
    forms: tuple[tuple[str, ...], ...] = ()
    substitutes = False
    incident = False  # says that a point lies on a curve
    joins = False  # may be a tangent joint
    has_sides = True  # False spares a look where no form has any

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[Row]:
        """Equations that measure, and unless `substitutes` solve, the binding."""
        raise NotImplementedError

    def solved(
        self, part: Part, of: Sequence[str], side: str | None, meeting: Meeting
    ) -> list[Row]:
        """Equations for the solver, which knows where curves meet."""
        return [] if self.substitutes else self.rows(part, of, side)

    def wishes(self, part: Part, of: Sequence[str]) -> list[Row]:
        """Rows that are not solved but whose side a solution should keep."""
        return []

    def unions(self, part: Part, of: Sequence[str]) -> list[tuple[Slot, Slot]]:
        """Pairs of unknowns that become one."""
        return []

    def held(self, part: Part, of: Sequence[str]) -> list[Slot]:
        """Unknowns that keep the value which they have."""
        return []

    def signed(
        self, part: Part, of: Sequence[str], meeting: Meeting
    ) -> tuple[tuple[str, str], Row] | None:
        """Row that stands for a point's distance from a center at a tangent joint."""
        return None

    def sided(self, part: Part, of: Sequence[str]) -> tuple[str, ...]:
        """Words for the sides of this form; empty where there is none."""
        for row in (*self.rows(part, of, None), *self.wishes(part, of)):
            if row.equation.sides:
                return row.equation.sides
        return ()

    def choices(self, part: Part, of: Sequence[str]) -> tuple[str, ...]:
        """Sides among which only the geometry can choose; empty where the part implies one."""
        return self.sided(part, of)

    def settle(self, part: Part, of: Sequence[str], value: float | None) -> str | None:
        """Word for the side on which the geometry stands; `value` in equation units."""
        both = (*self.rows(part, of, None), *self.wishes(part, of))
        rows = [row for row in both if row.equation.sides]
        if not rows:
            return None
        equation = rows[0].equation
        if len(rows) > 1:
            lean = sum(float(row.equation.lean(local(part, row))[0]) for row in rows)
            return equation.sides[0 if lean >= 0.0 else 1]
        code = equation.settle(local(part, rows[0]), np.array([value or 0.0]))
        return equation.sides[int(code[0])]

    def first_value(
        self, part: Part, of: Sequence[str], side: str | None
    ) -> tuple[float, str | None]:
        """Value as the geometry stands for a dimension made without one, and its side."""
        side = side or self.settle(part, of, None)
        return self.actual(part, Binding(self.name, tuple(of), None, side), None), side

    def code(self, row: Row, side: str | None) -> Array:
        """Position of a side's word, shape (1,)."""
        sides = row.equation.sides
        return np.array([sides.index(side) if side in sides else 0])

    def actual(self, part: Part, binding: Binding, wanted: float | None) -> float:
        """Measured value in equation units, or the worst row as a length for kinds without one.

        Of several rows the one furthest from `wanted` counts.
        """
        worst, size = 0.0, -1.0
        value = np.array([wanted or 0.0])
        for row in self.rows(part, binding.of, binding.side):
            at = local(part, row)
            side = self.code(row, binding.side)
            found = row.equation.residual(at, value, side)
            off = row.equation.deviation(found, side)
            if self.quantity is None and row.equation.angular:
                off = off * row.equation.span(at)[:, None]
            for amount in off.ravel().tolist():
                if abs(amount) > size:
                    worst, size = amount, abs(amount)
        return worst + float(value[0])

    @cached_property
    def accepted(self) -> frozenset[tuple[str, ...]]:
        """Every tuple of operand types that fits as it stands, `round` written out."""
        spread = [product(*(ROUNDS if want == "round" else (want,) for want in form))
                  for form in self.forms]
        return frozenset(chain.from_iterable(spread))

    def arrange(self, part: Part, ids: Sequence[str]) -> tuple[str, ...] | None:
        """Ids in the order that a form wants, or None where no form fits."""
        if len(ids) > max(map(len, self.forms)):
            return None
        types = [operand_type(part, name) or "" for name in ids]
        for order in permutations(range(len(ids))):
            if tuple(types[at] for at in order) in self.accepted:
                return tuple(ids[at] for at in order)
        return None


def axes_last(part: Part, ids: Iterable[str]) -> list[str]:
    """Ids with lines of the role axis moved to the end, otherwise in the same order."""
    names = list(ids)
    axes = [n for n in names if (c := part.curves.get(n)) is not None and c.role == "axis"]
    return [n for n in names if n not in axes] + axes
