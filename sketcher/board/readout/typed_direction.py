"""Which way typed values go: what paper says of a line, and what the pointer adds to it.

Paper says "55 degrees to level, run 14" and shows the way in the picture. So an angle typed without
a sign, up to 90 degrees, leaves the four ways at that angle to level, and the pointer chooses the
nearest that the other held value allows. A signed or larger one is a direction by itself, counted
counter-clockwise from level; so is every angle of a place round a center (the end of a curved slot,
of an arc, of a move), and any while the pointer still rests on the start and says nothing. A run or
rise is an amount that goes the way of the angle, or else to the side of the pointer, unless its own
sign is typed.
"""

from __future__ import annotations

from sketcher.board.places.pending_bindings import Typed
from sketcher.geometry.curves import XY
from sketcher.part.scribing import unit

SQUARE = 90.0  # degrees: no angle between two lines is printed larger than it has to be


def is_signed(typed: Typed) -> bool:
    """Tell whether the person gave the sign, which then outweighs the pointer."""
    return typed.amount < 0.0 or typed.text.lstrip().startswith("+")


def is_direction(typed: Typed) -> bool:
    """Tell whether a typed angle is one direction, not an angle to level that four ways have."""
    return is_signed(typed) or typed.amount > SQUARE


def signed(typed: Typed, toward: float) -> float:
    """Return a typed run or rise with its sign: as typed, else that of the way or the pointer."""
    return typed.amount if is_signed(typed) or toward >= 0.0 else -typed.amount


def to_level(angle: float) -> float:
    """Return the angle to level, 0 to 90 degrees, of a direction in degrees."""
    turn = angle % 180.0
    return min(turn, 180.0 - turn)


def ways(typed: Typed, toward: XY, base: float = 0.0, turns: bool = False) -> list[XY]:
    """Return the unit directions that a typed angle allows, the nearest to the pointer first.

    Parameters
    ----------
    typed : Typed
        The angle in degrees.
    toward : tuple of float
        From the start to the pointer; zero leaves the angle counter-clockwise first.
    base : float
        Direction that the angle is counted from, in degrees; level when left out.
    turns : bool
        True where an angle is a turn about a center, and so always one direction.
    """
    turn, single = typed.amount, turns or is_direction(typed)
    every = (turn,) if single else (turn, 180.0 - turn, -turn, 180.0 + turn)
    found = list(dict.fromkeys(unit(base + each) for each in every))
    return sorted(found, key=lambda way: -(way[0] * toward[0] + way[1] * toward[1]))
