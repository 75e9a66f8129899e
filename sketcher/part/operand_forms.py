"""What binding kinds are put to: operands of a part, the unknowns and equations behind them.

Operands are the geometric elements of a constraint; a line or an arc stands for the points and the
radius that it names, for those alone are unknowns of the system.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from math import dist
from typing import NamedTuple, TypeAlias

import numpy as np

from sketcher.errors import EditError
from sketcher.part.curve_questions import ends_of
from sketcher.part.equations import RADIAL, Array, Equation
from sketcher.part.value import ArcCurve, Binding, CircleCurve, LineCurve, Part, PartCurve

Slot: TypeAlias = tuple[str, str]
"""One unknown before reduction: (point id, "x" or "y") or (round's id, "r")."""

ROUNDS = ("arc", "circle")


STRAIGHT = 1e-7
"""Sine within which a line is drawn level or plumb: it is solved a hundred times better."""


class EquationRow(NamedTuple):
    """An equation put to points and radii (ids of arcs and circles)."""

    equation: Equation
    points: tuple[str, ...] = ()
    radii: tuple[str, ...] = ()


class MeantJoint(NamedTuple):
    """A point that two curves share and where they are tangent.

    `place` is the point and the round whose radius is signed there, `points` what both rows are put
    to. The equation `direction` says that the curves run into each other, `radial` stands for
    |point - center| = radius of that round.
    """

    place: tuple[str, str]
    points: tuple[str, ...]
    direction: Equation
    radial: Equation


@dataclass(slots=True)
class Incidence:
    """Which points lie on which curves by the bindings, and the tangent joints.

    `bound` maps a curve to the points bound on it, in order; its ends lie on it besides. `joints`
    maps the operands of a tangency to its joint; `signed` maps (point, round) to the first tangency
    that signs the radius there.
    """

    curves: Mapping[str, PartCurve]
    bound: dict[str, list[str]] = field(default_factory=dict)
    joints: dict[tuple[str, ...], MeantJoint] = field(default_factory=dict)
    signed: dict[tuple[str, ...], Binding] = field(default_factory=dict)

    def shared(self, first: str, second: str) -> str | None:
        """Return the first point that lies on both curves, or None."""
        here, there = ends_of(self.curves[first]), ends_of(self.curves[second])
        if self.bound:
            here = (*here, *self.bound.get(first, ()))
            there = (*there, *self.bound.get(second, ()))
        for point in here:
            if point in there:
                return point
        return None

    def radial(self, point: str, of: str) -> tuple[EquationRow, str | None]:
        """Return the row for |point - center| = radius of a round, with its side if signed."""
        binding = self.signed.get((point, of))
        if binding is None:
            center = self.curves[of].points[-1]
            return EquationRow(RADIAL, (point, center), (of,)), None
        joint = self.joints[binding.of]
        return EquationRow(joint.radial, joint.points, (of,)), binding.side


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


def round_center(part: Part, name: str) -> str:
    """Center point of an arc or circle."""
    curve = part.curves[name]
    if isinstance(curve, LineCurve):
        raise EditError(f"curves.{name}", "is not an arc or a circle")
    return curve.center


def radius_of(part: Part, name: str) -> float:
    """Radius of a circle, mean end distance of an arc."""
    curve = part.curves[name]
    if isinstance(curve, ArcCurve):
        at, (first, last) = part.points, curve.ends
        center = at[curve.center]
        return 0.5 * (dist(at[first], center) + dist(at[last], center))
    if isinstance(curve, CircleCurve):
        return curve.radius
    raise EditError(f"curves.{name}", "is not an arc or a circle")


def local(part: Part, row: EquationRow) -> Array:
    """Local slots of one row as they stand, shape (1, n)."""
    at = [coordinate for p in row.points for coordinate in part.points[p]]
    at += [radius_of(part, name) for name in row.radii]
    return np.array([at])


def axes_last(part: Part, ids: Iterable[str]) -> list[str]:
    """Ids with lines of the role axis moved to the end, otherwise in the same order."""
    names = list(ids)
    axes = [n for n in names if (c := part.curves.get(n)) is not None and c.role == "axis"]
    return [n for n in names if n not in axes] + axes


def drawn_straight(part: Part, line: str) -> bool:
    """Tell whether a line is level or plumb as it stands."""
    (ax, ay), (bx, by) = (part.points[end] for end in line_ends(part, line))
    return min(abs(bx - ax), abs(by - ay)) <= STRAIGHT * dist((ax, ay), (bx, by))
