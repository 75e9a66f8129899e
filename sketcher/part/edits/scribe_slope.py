"""Scribe a line through a point at an angle."""

from __future__ import annotations

from math import atan2, degrees

from sketcher.errors import EditError
from sketcher.geometry.curves import XY, Line
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.scribing import STRAIGHT, bind_direction, point_named, positive, unit
from sketcher.part.splice import amount, finished, tie
from sketcher.part.value import Part
from sketcher.part.whole import curve_at
from sketcher.quantity.format import angle as format_angle


def scribe_slope(
    part: Part,
    start: str,
    angle: str | float,
    toward: XY,
    base: str | None = None,
    extent: tuple[str, str | float] = ("length", 0.0),
) -> Edited:
    """Scribe a layout line from a point at an angle from level or from a line, with a fixed end.

    Parameters
    ----------
    part : Part
        The part.
    start : str
        Point that it starts from.
    angle : str or float
        Expression or number, in degrees.
    toward : tuple of float
        Which of the four ways at that angle is meant: the one nearest to this place.
    base : str, optional
        Line that the angle is measured from; level when left out.
    extent : tuple of str and (str or float)
        Where it ends: ``"length"``, ``"run"`` or ``"rise"`` and its value.

    Returns
    -------
    Edited
        `made` holds the line, its direction and its extent.

    Raises
    ------
    EditError
        When a plumb line should have a run, a level one a rise, or the extent is zero.
    QuantityError
        When a value cannot be evaluated.
    """
    x, y = point_named(part, start)
    turn, text = amount(part, angle, "angle", "angle")
    what, given = extent
    size, size_text = amount(part, given, "length", what)
    if size == 0.0:
        raise EditError(what, "the line has no length", "give a value other than zero")
    ux, uy = _direction(turn, _base_direction(part, base), (toward[0] - x, toward[1] - y))
    part_of = {"length": 1.0, "run": abs(ux), "rise": abs(uy)}[what]
    if part_of < STRAIGHT:
        raise EditError(what, f"a line of this direction has no {what}", "give another extent")
    length = abs(size) / part_of
    draft = Draft(part)
    name = draft.line(start, (x + length * ux, y + length * uy), "layout")
    heading = bind_direction(draft, name, turn, text, base)
    kind = "distance" if what == "length" else what
    reach = tie(draft, kind, (name,), positive(size, size_text))
    against = f"to {base}" if base else "to level"
    written = text if any(letter.isalpha() for letter in text) else format_angle(turn)
    said = f"scribed {name} at {written} {against}"
    return finished(draft, said, name, heading, reach)


def _base_direction(part: Part, base: str | None) -> float:
    """Return the direction of the base line in degrees."""
    if base is None:
        return 0.0
    line = curve_at(part.points, part.curves[base]) if base in part.curves else None
    if not isinstance(line, Line) or line.length == 0.0:
        raise EditError(base, "is no line to measure an angle from", "choose a line")
    ux, uy = line.direction
    return degrees(atan2(uy, ux))


def _direction(turn: float, base: float, wish: XY) -> XY:
    """Return the nearest of the four ways at an angle to a line."""
    ways = [unit(base + s * turn + half) for half in (0.0, 180.0) for s in (1.0, -1.0)]
    return max(ways, key=lambda way: way[0] * wish[0] + way[1] * wish[1])
