"""How a part is turned in its file, by its axis or by its main edges, and turning it back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import degrees, pi

import numpy as np

from sketcher.geometry.curve_table import Floats
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.evaluate import carried
from sketcher.intake.joint_table import JointTable, Places
from sketcher.intake.linework import PlaceInFile, Repair, Shape, TakenCurve, repair_name
from sketcher.intake.wishes import Wishes

LONG = 50.0
"""Noises that an edge is long at least, to tell a direction."""
MOST = 0.5
"""Share of the length of all straight edges that has to follow the main directions."""
ACROSS = 0.08
"""Share of it that is square to the rest: without it nothing tells level from a mere slope."""
STANDING = 0.2
"""Share that is level or plumb in a file that is left as it stands."""
NOISES = 4.0
"""So many noises at the ends of what tells the direction turn nothing."""


def quarter_turn(angle: float) -> float:
    """Return the smallest turn, radians, that takes a direction to level or plumb, negated."""
    return (angle + 0.25 * pi) % (0.5 * pi) - 0.25 * pi


def turn_of_edges(table: JointTable, noise: float) -> float:
    """Return by how many radians the main edges are turned from level and plumb, or 0.

    A direction counts with the square to it. Where there is doubt the part stays as it stands:
    a part with slopes and no level edge is common.
    """
    way, off, allowed = _long_edges(table, noise)
    if not len(way) or stands(table, noise):
        return 0.0
    long = np.abs(way)
    longest = np.argsort(-long)[:64]
    apart = np.abs((off[longest, None] - off[None, :] + 0.25 * pi) % (0.5 * pi) - 0.25 * pi)
    agrees = apart <= allowed[longest, None] + allowed[None, :]
    best = int(np.argmax(agrees @ long))
    with_it = agrees[best]
    share = float(long[with_it].sum() / long.sum())
    unit = way / long
    crosswise = np.abs(np.imag(unit * np.conj(unit[longest[best]]))) > 0.5
    across = float(long[with_it & crosswise].sum() / long.sum())
    if share < MOST or min(across, share - across) < ACROSS:
        return 0.0
    # Weighted by length cubed: an end off by e turns an edge of length l by e / l.
    return 0.25 * float(np.angle((long[with_it] ** 3 * unit[with_it] ** 4).sum()))


def stands(table: JointTable, noise: float) -> bool:
    """Whether enough edges are level or plumb for a part to be left as it stands."""
    way, off, allowed = _long_edges(table, noise)
    long = np.abs(way)
    return bool(long[np.abs(off) <= allowed].sum() >= STANDING * long.sum() > 0.0)


def _long_edges(table: JointTable, noise: float) -> tuple[Places, Floats, Floats]:
    """Return long edges, by how much each is off level or plumb, and how much noise explains."""
    blur = max(noise, 1e-9 * table.size)
    way = (table.joints[table.last] - table.joints[table.first])[table.radius == 0.0]
    way = way[np.abs(way) > LONG * blur]
    off = (np.angle(way) + 0.25 * pi) % (0.5 * pi) - 0.25 * pi
    return way, off, NOISES * blur / np.abs(way)


def straightened(
    shape: Shape, turn: float, about: complex, wishes: Wishes, drawn: str = "level"
) -> tuple[Shape, PlaceInFile, tuple[Repair, ...]]:
    """Return a shape with a turn in its file taken back, unless a person keeps it turned.

    Parameters
    ----------
    shape : Shape
    turn : float
        Radians by which the file has it turned; 0 leaves it bit by bit.
    about : complex
        What stays in its place, the part's unit.
    wishes : Wishes
    drawn : str
        How it is drawn without the turn.
    """
    if turn == 0.0:
        return shape, PlaceInFile(), ()
    curves = [each for loop in shape.loops for each in loop]
    entities = tuple(sorted({entity for each in curves for entity in each.entities}))
    taken = wishes.makes("turned", repair_name("turned", entities))
    origin = (about.real, about.imag)
    frame = PlaceInFile(turn, origin)
    outside = tuple(each.curve for each in shape.loops[0])
    repair = Repair(
        "turned", origin, 0.0, entities,
        f"turned by {degrees(turn):.7g}\N{DEGREE SIGN} in the file, drawn {drawn}", taken,
        before=outside, after=tuple(_turned(curve, frame, about=origin) for curve in outside))
    if not taken:
        return shape, PlaceInFile(), (repair,)
    return replace(
        shape, loops=tuple(_each(loop, frame) for loop in shape.loops),
        strays=_each(shape.strays, frame)), frame, (repair,)


def _each(run: Sequence[TakenCurve], frame: PlaceInFile) -> tuple[TakenCurve, ...]:
    return tuple(TakenCurve(_turned(each.curve, frame), each.entities) for each in run)


def _turned(curve: Curve, frame: PlaceInFile, about: XY = (0.0, 0.0)) -> Curve:
    """Return a curve of the file in the frame, moved by `about`."""
    def at(p: XY) -> XY:
        x, y = frame.in_part(p)
        return (about[0] + x, about[1] + y)

    return carried(curve, at)


def told_by(noise: float, size: float) -> float:
    """Return the turn, radians, that the noise at the ends of a part explains."""
    return NOISES * max(noise, 1e-9 * size) / max(size, 1e-300)
