"""What the scribe edits share: ladders of values, values as a binding holds them, directions.

A scribed line is as long as the line that it was scribed from: its ends stand square over the ends
of the other, so that scribing leaves no freedom and one value lengthens the whole family.

Square means plumb or level where that is what it means. A slope ends at a run, a rise or a length,
and a start that no snap holds is counted from the zero.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import cos, dist, radians, sin

from sketcher.errors import EditError
from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.geometry.project import distance
from sketcher.geometry.tangent_circles import (
    TouchCircle,
    Touched,
    circles_of_radius,
    circles_touching,
)
from sketcher.geometry.tangent_lines import common_tangents, tangents_from
from sketcher.part.edits.draft import Draft
from sketcher.part.splice import amount, tie
from sketcher.part.value import Part
from sketcher.part.whole import curve_value
from sketcher.quantity.format import exact

INNER_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9])")

STRAIGHT = 1e-12
"""Degrees (or, of a unit vector, lengths) within which a direction is one of the four quarters."""

ONE_PLACE = 1e-6
"""Share of a radius within which two places of contact are one: there a touch is a double root."""


@dataclass(frozen=True, slots=True)
class Rung:
    """One value of a ladder; `onward` counts it from the one before."""

    text: str
    onward: bool = False


def read_ladder(text: str) -> tuple[Rung, ...]:
    """Return the values of a ladder typed in one line.

    Values stand between semicolons, or commas with a blank behind. A comma between two digits is a
    decimal mark (``12,5; 24``), unless there are several and no other sign between: ``12,24,36``
    can only be a list. A value with a plus sign in front counts from the one before it. Where the
    first has a plus sign, blanks before a plus sign part values as well:
    ``12, 24, 36.5`` and ``+12 +12 +12.5`` are the same places.

    Raises
    ------
    EditError
        When there is no value between two commas.
    """
    parts: list[str] = [""]
    depth, blanks = 0, text.strip().startswith("+")
    inner = {found.end() for found in INNER_COMMA.finditer(text)}
    if len(inner) > 1 and len(inner) == text.count(",") and ";" not in text:
        inner = set()
    for at, letter in enumerate(text):
        depth += (letter == "(") - (letter == ")")
        parted = letter in ",;" and depth <= 0 and at + 1 not in inner
        if blanks and depth <= 0 and letter == "+" and parts[-1].strip():
            following = text[at + 1:at + 2]
            parted = text[at - 1].isspace() and not following.isspace()
            if parted:
                parts.append("+")
                continue
        if parted:
            parts.append("")
        else:
            parts[-1] += letter
    rungs = []
    for each in parts:
        body = each.strip()
        if not body.removeprefix("+").strip():
            raise EditError("ladder", "a value is missing", "type values with commas: 12, 24, 36.5")
        rungs.append(Rung(body.removeprefix("+").strip(), body.startswith("+")))
    return tuple(rungs)


def positive(value: float, text: str) -> str:
    """Return the text of a value as a binding holds it: its amount, whatever its sign."""
    if value >= 0.0:
        return text.removeprefix("+").strip()
    body = text.removeprefix("-").strip()
    return body if _is_number(body) and text.startswith("-") else f"-({text})"


def angle_held(value: float, text: str) -> str:
    """Return the text of an angle in degrees as a binding holds it.

    A binding's angle runs from 0 to 180 and its side tells the sense. An expression stays one: its
    parameters drive the angle.
    """
    full = value % 360.0
    if -180.0 < value < 180.0:
        return positive(value, text)
    if _is_number(text):
        return exact(full if full < 180.0 else 360.0 - full)
    if full < 180.0:
        return f"({text}) - {exact(value - full)}"
    return f"{exact(value - full + 360.0)} - ({text})"


def _is_number(text: str) -> bool:
    return text.replace(",", ".", 1).replace(".", "", 1).isdigit()


def positive_length(part: Part, text: str | float, place: str) -> tuple[float, str]:
    """Return a length above zero and its text.

    Raises
    ------
    EditError
        When it is not above zero.
    """
    size, body = amount(part, text, "length", place)
    if not size > 0.0:
        raise EditError(place, f"{body} is not above zero", "give a positive length")
    return size, body


def unit(degrees: float) -> XY:
    """Return the direction of an angle, exact where a person would see it."""
    if abs(degrees % 90.0) < STRAIGHT:
        turn = round(degrees / 90.0) % 4
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[turn]
    return (cos(radians(degrees)), sin(radians(degrees)))


def bind_direction(
    draft: Draft, line: str, value: float, text: str, base: str | None = None
) -> str:
    """Bind the direction of a line against level or a base line; return the binding's id.

    `value` is the angle in degrees that `text` comes to; quarters become level, plumb, parallel or
    square.
    """
    turn = value % 180.0
    if min(turn, 180.0 - turn) < STRAIGHT:
        return tie(draft, "level", [line]) if base is None else tie(draft, "parallel", [base, line])
    if abs(turn - 90.0) < STRAIGHT:
        return tie(draft, "plumb", [line]) if base is None else tie(draft, "square", [base, line])
    text = angle_held(value, text)
    return tie(draft, "angle", [line] if base is None else [base, line], text)


def point_named(part: Part, name: str) -> XY:
    """Return where a point of the part stands.

    Raises
    ------
    EditError
        When there is no such point.
    """
    if name not in part.points:
        raise EditError(name, "no point with this id", "choose a point")
    return part.points[name]


def touched(part: Part, name: str) -> Touched:
    """Return a point's place or a curve's geometry."""
    if name in part.points:
        return part.points[name]
    if name not in part.curves:
        raise EditError(name, "no point or curve with this id", "choose another")
    return curve_value(part, part.curves[name])


def touching(part: Part, names: tuple[str, ...], radius: float | None) -> tuple[TouchCircle, ...]:
    """Return the circles that touch two things at a radius, or three.

    Raises
    ------
    EditError
        When the number does not fit or one is named twice.
    """
    if len(set(names)) != len(names):
        raise EditError("scribe", "one thing was chosen twice", "choose different ones")
    values = [touched(part, name) for name in names]
    if len(values) == 2 and radius is not None:
        return _apart(circles_of_radius(values[0], values[1], radius))
    if len(values) == 3 and radius is None:
        return _apart(circles_touching(*values))
    raise EditError("scribe", "a circle is tangent to two things at a radius, or to three",
                    "choose two and a radius, or three")


def _apart(found: tuple[TouchCircle, ...]) -> tuple[TouchCircle, ...]:
    """Leave out circles that touch two things at one place: no tangency fixes those."""
    return tuple(
        each for each in found
        if all(dist(a, b) > ONE_PLACE * each.circle.radius
               for a, b in combinations(each.touches, 2))
    )


def nearest_circle(found: tuple[TouchCircle, ...], near: XY) -> TouchCircle | None:
    """Return the circle whose rim or center is nearest to a place."""

    def away(each: TouchCircle) -> tuple[float, float]:
        apart = dist(near, each.circle.center)
        return min(apart, abs(apart - each.circle.radius)), apart

    return min(found, key=away, default=None)


CLEAR = 0.6
"""A choice is clear when the next best is further off than the best by more than this share."""


def chosen_by_presses(contacts: Sequence[Sequence[XY]], presses: Sequence[XY]) -> int | None:
    """Return which of several solutions touches nearest to where things were pressed.

    Parameters
    ----------
    contacts : sequence of sequence of (float, float)
        For each solution where it touches each thing, in the order of the presses.
    presses : sequence of (float, float)
        Where each thing was pressed.

    Returns
    -------
    int or None
        Its index; None where there is none, or where two are about as near as each other.
    """
    away = sorted(
        (sum(dist(at, press) for at, press in zip(places, presses, strict=True)), index)
        for index, places in enumerate(contacts)
    )
    if not away or (len(away) > 1 and away[0][0] > CLEAR * away[1][0]):
        return None
    return away[0][1]


def tangents(part: Part, a: str, b: str) -> tuple[Line, ...]:
    """Return the lines that touch two rounds, or one from a point, from `a` to `b`."""
    one, other = touched(part, a), touched(part, b)
    if a == b or isinstance(one, Line) or isinstance(other, Line):
        raise EditError("scribe", f"{a} and {b} have no common tangent",
                        "choose two circles or arcs, or a point and one of them")
    if isinstance(one, Arc | Circle) and isinstance(other, Arc | Circle):
        least = ONE_PLACE * max(one.radius, other.radius)
        return tuple(found.line for found in common_tangents(one, other, least))
    if isinstance(one, Arc | Circle):
        assert isinstance(other, tuple)
        return tuple(Line(line.end, line.start) for line in tangents_from(other, one))
    if isinstance(other, Arc | Circle):
        return tangents_from(one, other)
    raise EditError("scribe", "two points have no tangent", "choose a circle or an arc")


def nearest_line(found: tuple[Line, ...], near: XY) -> Line | None:
    """Return the line nearest to a place."""
    return min(found, key=lambda line: distance(line, near), default=None)
