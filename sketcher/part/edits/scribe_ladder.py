"""Scribe a whole ladder of offsets from one line, or of circles about one center."""

from __future__ import annotations

from math import dist

from sketcher.errors import EditError
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.project import signed_distance
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.scribing import STRAIGHT, Rung, positive, read_ladder
from sketcher.part.splice import amount, finished, tie
from sketcher.part.value import LineCurve, Part
from sketcher.part.whole import curve_at


def scribe_ladder(part: Part, base: str, ladder: str, toward: XY) -> Edited:
    """Scribe offsets of a line or a round, or circles about a point, at several values.

    Every rung is a layout curve with its value as a dimension. A line's rungs are as long as the
    line: their ends stand square over its ends.

    Parameters
    ----------
    part : Part
        The part.
    base : str
        A line: offsets from it. A circle or an arc: concentric circles at radial offsets. A point:
        concentric circles at radii.
    ladder : str
        Values as typed, ``"12, 24, 36.5"`` or as differences ``"+12 +12 +12.5"``; a negative one
        lies on the other side.
    toward : tuple of float
        A place on the side that is meant.

    Returns
    -------
    Edited
        `made` holds the curves in the order of the ladder, then their bindings.

    Raises
    ------
    EditError
        When a value is zero or a radius not above zero.
    QuantityError
        When a value cannot be evaluated.
    """
    rungs = read_ladder(ladder)
    draft = Draft(part)
    if base in part.points:
        made = _about(draft, part, base, rungs)
    elif isinstance(part.curves.get(base), LineCurve):
        made = _beside(draft, part, base, rungs, toward)
    elif base in part.curves:
        made = _round(draft, part, base, rungs, toward)
    else:
        raise EditError(base, "nothing with this id", "choose a line, a circle or arc, or a point")
    curves = made[0]
    said = f"scribed {', '.join(curves)} from {base}"
    return finished(draft, said, *curves, *made[1])


Made = tuple[list[str], list[str]]


def _value(part: Part, rung: Rung) -> tuple[float, str]:
    value, text = amount(part, rung.text, "length", "ladder")
    if value == 0.0:
        raise EditError("ladder", f"{rung.text} is zero", "a rung needs a distance")
    return value, text


def _beside(draft: Draft, part: Part, base: str, rungs: tuple[Rung, ...], toward: XY) -> Made:
    line = curve_at(part.points, part.curves[base])
    assert isinstance(line, Line)
    ux, uy = line.direction
    if (ux, uy) == (0.0, 0.0):
        raise EditError(base, "the line has no length", "choose another")
    side = 1.0 if signed_distance(line, toward) >= 0.0 else -1.0
    foot = _foot_kind(ux, uy)
    curves, bindings, last, at = [], [], base, 0.0
    for rung in rungs:
        value, text = _value(part, rung)
        source = last if rung.onward else base
        at = (at if rung.onward else 0.0) + value
        step = side * at
        start, end = ((x - step * uy, y + step * ux) for x, y in (line.start, line.end))
        name = draft.line(start, end, "layout")
        bindings.append(tie(draft, "offset", (source, name), positive(value, text)))
        for pair in zip(_ends(draft, base), _ends(draft, name), strict=True):
            over = (base, *pair) if foot == "square" else pair
            bindings.append(tie(draft, foot, over))
        curves.append(name)
        last = name
    return curves, bindings


def _foot_kind(ux: float, uy: float) -> str:
    """Return what holds an end square over the base's: for level and plumb lines the short word."""
    if abs(uy) < STRAIGHT:
        return "plumb"
    return "level" if abs(ux) < STRAIGHT else "square"


def _ends(draft: Draft, name: str) -> tuple[str, str]:
    curve = draft.curves[name]
    assert isinstance(curve, LineCurve)
    return curve.ends


def _about(draft: Draft, part: Part, center: str, rungs: tuple[Rung, ...]) -> Made:
    curves, bindings, last, radius = [], [], "", 0.0
    for rung in rungs:
        value, text = _value(part, rung)
        onward = rung.onward and bool(last)
        radius = radius + value if onward else value
        name = _circle(draft, center, radius, text)
        if onward:
            bindings.append(tie(draft, "offset", (last, name), positive(value, text)))
        else:
            bindings.append(tie(draft, "radius", (name,), text))
        curves.append(name)
        last = name
    return curves, bindings


def _round(draft: Draft, part: Part, base: str, rungs: tuple[Rung, ...], toward: XY) -> Made:
    given = part.curves[base]
    assert not isinstance(given, LineCurve)
    value_of = curve_at(part.points, given)
    assert not isinstance(value_of, Line)
    first = value_of.radius
    side = 1.0 if dist(toward, value_of.center) >= first else -1.0
    curves, bindings, last, radius = [], [], base, first
    for rung in rungs:
        value, text = _value(part, rung)
        source = last if rung.onward else base
        radius = (radius if rung.onward else first) + side * value
        name = _circle(draft, given.center, radius, text)
        bindings.append(tie(draft, "offset", (source, name), positive(value, text)))
        curves.append(name)
        last = name
    return curves, bindings


def _circle(draft: Draft, center: str, radius: float, text: str) -> str:
    if not radius > 0.0:
        raise EditError("ladder", f"{text} leaves no radius", "give values that stay above zero")
    return draft.circle(center, radius, "layout")
