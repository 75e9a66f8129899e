"""What a dimension of a part file says on the geometry: by trigonometry, from the file's numbers.

Two dimensions say the same when they measure between the same two parallel lines, the same round,
the same ring or the same two directions, whatever their kind and whatever points they name.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan2, cos, dist, hypot, pi, sin
from typing import Any, TypeAlias

from tests.damage.strokes import At

Tree: TypeAlias = Mapping[str, Any]


@dataclass(frozen=True)
class Feature:
    """An operand: a point, the two ends of a line, or a round's center and radius."""

    points: tuple[At, ...]
    radius: float = 0.0

    @property
    def kind(self) -> str:
        """``point``, ``line`` or ``round``."""
        return "line" if len(self.points) == 2 else "round" if self.radius else "point"


@dataclass(frozen=True)
class Said:
    """What a dimension says.

    Parameters
    ----------
    kind : str
        ``linear``, ``round``, ``ring`` or ``angle``.
    value : float
        A radius for a round, degrees for an angle.
    at : At
        Direction of a linear one, center of a round or ring.
    levels : tuple of float
        Of a linear one along its direction; the radii; the directions in degrees.
    """

    kind: str
    value: float
    at: At
    levels: tuple[float, ...]


def feature(tree: Tree, name: str) -> Feature:
    """Return what an operand's name stands for."""
    points = tree["points"]
    if name in points:
        return Feature((tuple(points[name]),))
    curve = tree["curves"][name]
    if curve["kind"] == "line":
        return Feature(tuple(tuple(points[end]) for end in curve["ends"]))
    center = tuple(points[curve["center"]])
    radius = curve.get("radius")
    if radius is None:
        radius = sum(dist(center, points[end]) for end in curve["ends"]) / 2.0
    return Feature((center,), float(radius))


def said(kind: str, of: tuple[Feature, ...], level: At) -> Said | None:
    """Return what a dimension of a kind says of features; `level` is where x points.

    None for a kind without a number.
    """
    if kind in ("radius", "diameter"):
        return Said("round", of[0].radius, of[0].points[0], (of[0].radius,))
    if kind == "angle":
        angles = [_direction(line) for line in of]
        if len(angles) == 1:
            angles.append(atan2(level[1], level[0]))
        turns = sorted(angle * 180.0 / pi % 180.0 for angle in angles)
        apart = turns[1] - turns[0]
        return Said("angle", min(apart, 180.0 - apart), (0.0, 0.0), tuple(turns))
    if kind in ("distance", "run", "rise"):
        a, b = of[0].points if len(of) == 1 else (of[0].points[0], of[1].points[0])
        u = {"run": level, "rise": (-level[1], level[0])}.get(kind) or _unit(a, b)
        return _linear(u, _dot(u, a), _dot(u, b))
    if kind == "web":
        u = _unit(of[0].points[0], of[1].points[0])
        return _linear(u, _dot(u, of[0].points[0]) + of[0].radius,
                       _dot(u, of[1].points[0]) - of[1].radius)
    if kind == "offset":
        return _offset(*of)
    return None


def _offset(one: Feature, other: Feature) -> Said:
    if one.kind == other.kind == "round":
        radii = tuple(sorted((one.radius, other.radius)))
        return Said("ring", radii[1] - radii[0], one.points[0], radii)
    line, mate = (one, other) if one.kind == "line" else (other, one)
    angle = _direction(line) + 0.5 * pi
    u = (cos(angle), sin(angle))
    base = 0.5 * (_dot(u, line.points[0]) + _dot(u, line.points[1]))
    far = _dot(u, mate.points[0])
    if mate.kind == "line":
        far = 0.5 * (far + _dot(u, mate.points[1]))
    if mate.kind == "round":  # to the near side of the rim
        far -= mate.radius if far > base else -mate.radius
    return _linear(u, base, far)


def _linear(u: At, one: float, other: float) -> Said:
    if u[1] < -1e-6 or (abs(u[1]) <= 1e-6 and u[0] < 0.0):
        u, one, other = (-u[0], -u[1]), -one, -other
    return Said("linear", abs(one - other), u, tuple(sorted((one, other))))


def _dot(u: At, at: At) -> float:
    return u[0] * at[0] + u[1] * at[1]


def _unit(a: At, b: At) -> At:
    long = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    return (b[0] - a[0]) / long, (b[1] - a[1]) / long


def _direction(line: Feature) -> float:
    (ax, ay), (bx, by) = line.points
    return atan2(by - ay, bx - ax)


def same(one: Said, other: Said, reach: float) -> bool:
    """Whether two dimensions say the same of the same features, within `reach`."""
    if one.kind != other.kind or abs(one.value - other.value) > reach:
        return False
    if one.kind == "angle":
        return any(all(abs((a - b + 90.0) % 180.0 - 90.0) <= reach
                       for a, b in zip(one.levels, levels, strict=True))
                   for levels in (other.levels, other.levels[::-1]))
    if one.kind == "linear":
        if abs(one.at[0] * other.at[1] - one.at[1] * other.at[0]) > 1e-3:
            return False
        flip = -1.0 if _dot(one.at, other.at) < 0.0 else 1.0
        levels = sorted(flip * level for level in other.levels)
        return all(abs(a - b) <= reach for a, b in zip(one.levels, levels, strict=True))
    return dist(one.at, other.at) <= reach and all(
        abs(a - b) <= reach for a, b in zip(one.levels, other.levels, strict=True))
