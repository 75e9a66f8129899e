"""Form of a dimension: between which places, in which direction or around which curve it is taken.

Three forms, as drawing practice has them (ISO 129-1, linear, angular and radial; from memory). A
kind gives one for its operands as they stand; the screen and the sheet draw it, each in its way.
Places and directions are those of the part: its unit, y up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.part.value import Part
from sketcher.part.whole import curve_value


@dataclass(frozen=True, slots=True)
class Side:
    """One end of a length.

    Parameters
    ----------
    places : tuple of XY
        Where an extension line may begin: one place, or both ends of a line.
    points : tuple of str
        The part's points at these places, in the same order; empty where there are none.
    """

    places: tuple[XY, ...]
    points: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Linear:
    """A length between two sides.

    Parameters
    ----------
    first, second : Side
    direction : XY
        Unit vector along which it is taken.
    coordinate : bool
        True for a length along level or plumb, which stands outside the part; others stand beside
        what they measure.
    around : Arc or Circle, optional
        The length is the same in every direction about this curve's center, over its sweep.
    """

    first: Side
    second: Side
    direction: XY
    coordinate: bool = False
    around: Arc | Circle | None = None


@dataclass(frozen=True, slots=True)
class Radial:
    """A radius or diameter of a round, shown by a leader.

    Parameters
    ----------
    curve : Arc or Circle
    source : str
        Id of the round.
    diameter : bool
        Counted across the whole circle.
    """

    curve: Arc | Circle
    source: str
    diameter: bool = False


@dataclass(frozen=True, slots=True)
class Angular:
    """An angle between two lines, or of one line against level.

    Parameters
    ----------
    lines : tuple of Line
        One or two.
    drawn : tuple of bool
        Which of them the sheet draws as outline.
    """

    lines: tuple[Line, ...]
    drawn: tuple[bool, ...]


DimensionForm: TypeAlias = Linear | Radial | Angular


def unknown_form(form: object) -> TypeError:
    """Return the error of a form that a drawer does not know: a fault of the program."""
    return TypeError(f"no way to draw a dimension of the form {type(form).__name__}")


def side_of(part: Part, operand: str) -> Side:
    """Return a point, or both ends of a line, as a side."""
    names = (operand,) if operand in part.points else part.curves[operand].points[:2]
    return Side(tuple(part.points[name] for name in names), names)


def ends_of_length(part: Part, of: Sequence[str]) -> tuple[Side, Side]:
    """Return the sides of a length between two points or from end to end of a line."""
    names = tuple(of) if len(of) == 2 else part.curves[of[0]].points
    one, other = (side_of(part, name) for name in names)
    return one, other


def radial(part: Part, of: Sequence[str], diameter: bool = False) -> Radial:
    """Return the form of a round's size."""
    curve = curve_value(part, part.curves[of[0]])
    if isinstance(curve, Line):
        raise TypeError(f"{of[0]} is no circle or arc")
    return Radial(curve, of[0], diameter)
