"""The conditions of a step, measured upon what somebody has drawn in the place of its curve."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import cos, dist, sin

from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import travelled_as
from sketcher.geometry.project import nearest
from sketcher.lesson.order_step import OrderStep
from sketcher.part import kinds
from sketcher.part.kinds import KINDS
from sketcher.part.renaming import repointed
from sketcher.part.value import ArcCurve, Binding, CircleCurve, LineCurve, Part, PartCurve
from sketcher.part.whole import curve_value
from sketcher.quantity.format import angle, length
from sketcher.quantity.parse import names_in

STAYS = "before"
"""Behind the name of a point: its twin at the old place. No id has a space in it."""
MOST = 3
"""Conditions that are told of one thing."""
ANGLE = 1e-4
"""Degrees within which two angles are one."""


def put_in(part: Part, name: str, own: Curve, ends: bool) -> Part:
    """Return the part with a curve lying where another one lies.

    Parameters
    ----------
    part : Part
    name : str
        The curve of the part.
    own : Curve
        Where it lies; a line for a line, a round for a round.
    ends : bool
        With its ends too; else with those of the part, moved onto it by the shortest way.
    """
    curve, meant = part.curves[name], curve_value(part, part.curves[name])
    moved: dict[str, XY] = {}
    if isinstance(curve, LineCurve) and isinstance(own, Line) and isinstance(meant, Line):
        run = travelled_as(own, meant)
        for key, at in zip(curve.ends, (run.start, run.end), strict=True):
            moved[key] = at if ends else nearest(own, part.points[key], bounded=False).point
    elif isinstance(curve, CircleCurve) and isinstance(own, Arc | Circle):
        moved[curve.center] = own.center
        curve = replace(curve, radius=own.radius)
    elif isinstance(curve, ArcCurve) and isinstance(own, Arc | Circle) and isinstance(meant, Arc):
        moved[curve.center] = own.center
        taken = _ends_as(own, meant) if ends and isinstance(own, Arc) else None
        for place, key in enumerate(curve.ends):
            moved[key] = taken[place] if taken is not None else _on(own, part.points[key])
    return _moved(part, name, curve, moved)


def _moved(part: Part, name: str, curve: PartCurve, moved: Mapping[str, XY]) -> Part:
    """Return the part with points moved for one curve; the others stay upon the places before."""
    points: dict[str, XY] = {**part.points, **moved}
    curves: dict[str, PartCurve] = {}
    for key, other in part.curves.items():
        stays = {point: f"{point} {STAYS}" for point in other.points if point in moved}
        if key == name:
            curves[key] = curve
        elif stays:
            points.update((twin, part.points[point]) for point, twin in stays.items())
            curves[key] = repointed(other, stays)
        else:
            curves[key] = other
    return part.having(points=points, curves=curves)


def _ends_as(own: Arc, meant: Arc) -> tuple[XY, XY]:
    """Return the ends of an arc in the order of another's."""
    if dist(own.start, meant.start) + dist(own.end, meant.end) \
            <= dist(own.start, meant.end) + dist(own.end, meant.start):
        return own.start, own.end
    return own.end, own.start


def _on(own: Arc | Circle, at: XY) -> XY:
    """Return the place of a round that is seen from its center where another place is."""
    (x, y), far = own.center, dist(own.center, at)
    if far == 0.0:
        return x + own.radius * cos(0.0), y + own.radius * sin(0.0)
    share = own.radius / far
    return x + share * (at[0] - x), y + share * (at[1] - y)


def differences(
    part: Part, step: OrderStep, about: str, ways: Sequence[Part], near: float
) -> list[str]:
    """Return which conditions of a step do not hold for a thing, in words, numbers first.

    What is said of the thing itself counts; of its points only where that holds.

    Parameters
    ----------
    part : Part
        As it should be.
    step : OrderStep
    about : str
        The curve or point.
    ways : sequence of Part
        Ways to take what was drawn: where it is longer only one of them may be meant, so a
        condition is told that holds in none.
    near : float
        Length within which a condition holds.
    """
    curve = part.curves.get(about)
    points = set(curve.points) if curve is not None else set()
    found: dict[bool, list[tuple[bool, str]]] = {True: [], False: []}
    for name in step.bindings:
        binding = part.bindings[name]
        itself = about in binding.of
        if itself or points.intersection(binding.of):
            off = [_off(way, binding, near) for way in ways]
            if all(off):
                found[itself].append((KINDS[binding.kind].quantity is None, off[0]))
    told = found[True] or found[False]
    return [text for _, text in sorted(told, key=lambda one: one[0])[:MOST]]


def _off(part: Part, binding: Binding, near: float) -> str:
    """Say in which way a condition does not hold; empty where it does."""
    kind = KINDS[binding.kind]
    slack = ANGLE if kind.quantity == "angle" else near
    try:
        off = kinds.residual(part, binding)
        if abs(off) <= slack:
            return ""
        phrase = kind.phrase(binding.of)
        for side in kinds.sides(part, binding):
            if side != binding.side and abs(
                    kinds.residual(part, replace(binding, side=side))) <= slack:
                return f"{phrase}, but on the other side" if kind.quantity is None \
                    else f"{phrase} is {binding.value}, but on the other side"
        if kind.quantity is None:
            return f"{phrase} does not hold, it is {length(abs(off), part.unit)} off"
        actual = abs(kinds.measure(part, replace(binding, side=None)))
        text = angle(actual) if kind.quantity == "angle" else length(actual, part.unit)
        return f"{phrase} is {text} where the paper says {paper_value(part, binding)}"
    except SketcherError:  # what was drawn leaves it without a meaning, as a line without length
        return f"{kind.phrase(binding.of)} cannot be measured on it"


def paper_value(part: Part, binding: Binding) -> str:
    """Return a value as the paper has it; one that names a parameter with what that comes to."""
    value, wanted = binding.value or "", kinds.wanted(part, binding)
    if wanted is None or not names_in(value):
        return value
    amount = angle(wanted) if KINDS[binding.kind].quantity == "angle" else length(
        wanted, part.unit)
    return f"{amount} ({value})"
