"""The contours of a shape as columns: joints, curves from joint to joint, circles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from sketcher.geometry.curve_table import Bools, Floats, Ints
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import reversed_curve
from sketcher.geometry.moments import section, signed_area
from sketcher.intake.linework import Shape, TakenCurve

if TYPE_CHECKING:
    from numpy.typing import NDArray

Places: TypeAlias = "NDArray[np.complex128]"
"""Places as complex numbers: a turn is a product, a reflection the conjugate."""

SMOOTH = 0.035
"""Radians by which a joint breaks that is not taken for a corner: 2 degrees, as for tangency."""


@dataclass(frozen=True)
class JointTable:
    """Columns of n joints, m curves between them and k circles; all in the shape's place.

    Parameters
    ----------
    joints : complex (n,)
    corner : bool (n,)
        Where the outline breaks; other joints slide along it with the least noise.
    slide : float (n,)
        Largest radius of the arcs that meet at a joint; 0 where none does.
    first, last : int (m,)
        Joints of each curve, each contour travelled counter-clockwise.
    center : complex (m,)
        Of arcs; of lines it is nothing (nan).
    radius : float (m,)
        Of arcs; of lines 0.
    middle : complex (m,)
        Halfway along each curve.
    length : float (m,)
    circle : complex (k,)
    circle_radius : float (k,)
    runs : tuple of tuple of TakenCurve
        The contours travelled so; those of joints come first.
    offsets : tuple of int
        Where the curves of each run of joints begin in the columns.
    area, perimeter, size : float
        Of the plate; the diagonal of its box.
    centroid : complex
    """

    joints: Places
    corner: Bools
    slide: Floats
    first: Ints
    last: Ints
    center: Places
    radius: Floats
    middle: Places
    length: Floats
    circle: Places
    circle_radius: Floats
    runs: tuple[tuple[TakenCurve, ...], ...]
    offsets: tuple[int, ...]
    area: float
    perimeter: float
    size: float
    centroid: complex


def joint_table(shape: Shape) -> JointTable:
    """Return the contours of a shape as columns.

    Raises
    ------
    GeometryError
        When the contours enclose nothing.
    """
    runs = sorted((_counter_clockwise(loop) for loop in shape.loops),
                  key=lambda run: isinstance(run[0].curve, Circle))
    first: list[int] = []
    last: list[int] = []
    curves: list[Line | Arc] = []
    offsets: list[int] = []
    circles: list[Circle] = []
    for run in runs:
        if isinstance(run[0].curve, Circle):
            circles.append(run[0].curve)
            continue
        n = len(curves)
        offsets.append(n)
        first += range(n, n + len(run))
        last += [*range(n + 1, n + len(run)), n]
        curves += [each.curve for each in run if not isinstance(each.curve, Circle)]
    # Two moments are needed and the outside is one contour: that with the largest area.
    whole = section((tuple(each.curve for each in loop), k > 0)
                    for k, loop in enumerate(shape.loops))
    joints = _complex([curve.start for curve in curves])
    circle = _complex([each.center for each in circles])
    circle_radius = np.array([each.radius for each in circles], dtype=float)
    arcs = np.array([isinstance(curve, Arc) for curve in curves], dtype=bool)
    center = _complex([curve.center if isinstance(curve, Arc) else (0.0, 0.0) for curve in curves])
    radius = np.array([curve.radius if isinstance(curve, Arc) else 0.0 for curve in curves])
    sweep = np.array([curve.sweep if isinstance(curve, Arc) else 0.0 for curve in curves])
    ends = joints[np.array(last, dtype=np.intp)] if curves else joints
    middle = np.where(arcs, center + (joints - center) * np.exp(0.5j * sweep),
                      0.5 * (joints + ends))
    box = np.concatenate([middle, joints, circle + circle_radius * (1 + 1j),
                          circle - circle_radius * (1 + 1j)])
    size = float(np.hypot(np.ptp(box.real), np.ptp(box.imag)))
    leaving = np.where(arcs, 1j * np.sign(sweep) * (joints - center), ends - joints)
    coming = np.where(arcs, 1j * np.sign(sweep) * (ends - center), ends - joints)
    before = np.empty(len(curves), dtype=np.intp)
    before[np.array(last, dtype=np.intp)] = np.arange(len(curves))
    corner = np.abs(np.angle(leaving * np.conj(coming[before]))) > SMOOTH
    return JointTable(
        joints, corner, np.maximum(radius, radius[before]), np.array(first, dtype=np.intp),
        np.array(last, dtype=np.intp), np.where(arcs, center, np.nan), radius, middle,
        np.array([curve.length for curve in curves], dtype=float), circle, circle_radius,
        tuple(runs), tuple(offsets), whole.area, whole.perimeter, size,
        complex(*whole.centroid))


def _counter_clockwise(loop: tuple[TakenCurve, ...]) -> tuple[TakenCurve, ...]:
    one = loop[0].curve
    if len(loop) == 1 and isinstance(one, Arc):
        return (TakenCurve(Circle(one.center, one.radius), loop[0].entities),)
    if signed_area(each.curve for each in loop) >= 0.0 or isinstance(one, Circle):
        return loop
    return tuple(TakenCurve(reversed_curve(each.curve), each.entities) for each in reversed(loop))


def _complex(places: Sequence[XY]) -> Places:
    pairs = np.array(places, dtype=float).reshape(len(places), 2)
    return np.asarray(pairs[:, 0] + 1j * pairs[:, 1])


def curve_between(start: complex, end: complex, center: complex | None, like: Curve) -> Curve:
    """Return a line, or an arc that turns as another does, over given places."""
    a, b = (start.real, start.imag), (end.real, end.imag)
    if center is None or not isinstance(like, Arc):
        return Line(a, b)
    return Arc((center.real, center.imag), a, b, like.ccw)
