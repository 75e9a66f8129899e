"""Step 8: the axes of symmetry, and the half that is kept.

Right of a plumb axis and above a level one: the half that is drawn, as its dimensions from the axis
then run the way coordinates do (common practice, no source). What is in no contour tells nothing
of symmetry and stays as it is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import cos, pi, sin

import numpy as np

from sketcher.intake.axis_candidates import axis_angles
from sketcher.intake.halving import evened, kept_side
from sketcher.intake.joint_table import JointTable, joint_table
from sketcher.intake.linework import HalfShape, Shape, SymmetryAxis
from sketcher.intake.straighten import (
    quarter_turn,
    stands,
    straightened,
    told_by,
    turn_of_edges,
)
from sketcher.intake.turn_of_places import turn_of_places
from sketcher.intake.twin_fit import TwinFit, twin_fit
from sketcher.intake.wishes import Wishes
from sketcher.interrupt import check

MOST = 24
"""Axes that are looked for at most."""
SQUARE = 1e-3
"""Radians within which two axes are square to each other: they are nine degrees apart at least in
anything but a wheel of twenty and more equal spokes, and exact where they are meant."""
ALONG = 0.02
"""Radians within which an edge runs along or across an axis; level comes before plumb so."""
TRUSTED = 2.0
"""Times the noise that the file tells which its twins may tell: above, theirs takes its place."""
OVERHANG = 0.05
"""Share of the size by which an axis is drawn beyond the outline."""


def halved(shape: Shape, wishes: Wishes) -> HalfShape:
    """Return what is to be drawn of a shape, its axis or its main edges level or plumb.

    Parameters
    ----------
    shape : Shape
        With contours.
    wishes : Wishes
        `axis` takes no axis, or one by its id alone; else the first is taken, and with it one that
        is square to it. A part that lacks the one asked for takes its own first: of several parts
        in a file the wish is for those that have it.
    """
    table = joint_table(shape)
    found = _preferred(table, axes_of(table, shape.noise, shape.quantum), shape.noise)
    chosen = _chosen(found, wishes.axis)
    told = max([0.0, *(fit.noise for fit in chosen)])
    noise = told if told > max(TRUSTED * shape.noise, 1e-9 * table.size) else shape.noise
    drawn = "level"
    if chosen:
        turn = quarter_turn(chosen[0].angle)
        turn = 0.0 if abs(turn) <= told_by(noise, table.size) else turn
        about = chosen[0].through
    else:
        turn, about = turn_of_edges(table, noise), table.centroid
        if turn == 0.0 and not stands(table, noise):
            turn = turn_of_places(table, noise, shape.unit)
            drawn = "where its places and slopes are round"
    shape, frame, repairs = straightened(shape, turn, about, wishes, drawn)
    shape = replace(shape, noise=noise, repairs=(*shape.repairs, *repairs))
    if frame.turn:
        table = joint_table(shape)
    moved = [_in_frame(fit, frame.turn, about) for fit in found]
    kept = [fit for fit, of in zip(moved, found, strict=True) if of in chosen]
    kept = _leveled(kept, turned=turn == 0.0 or frame.turn != 0.0)
    even = evened(table, kept)
    offered = tuple(_drawn_axis(even, fit, f"x{n}") for n, fit in enumerate(moved, 1))
    named = [f"x{n}" for n, fit in enumerate(found, 1) if fit in chosen]
    axes = tuple(_drawn_axis(even, fit, name) for fit, name in zip(kept, named, strict=True))
    return HalfShape(shape, kept_side(even, kept) if kept else shape.loops, axes, offered,
                     frame=frame, repairs=shape.repairs)


def axes_of(table: JointTable, noise: float, quantum: float) -> list[TwinFit]:
    """Return all axes of symmetry; of a disc and its bore the level and the plumb one."""
    found: list[TwinFit] = []
    round_about = not len(table.joints) and bool(
        (np.abs(table.circle - table.centroid) <= max(6.0 * noise, 1e-5 * table.size)).all())
    # A wheel of a thousand teeth has as many axes: those nearest to level and plumb are enough.
    angles = sorted(axis_angles(table, noise), key=lambda angle: abs(quarter_turn(angle)))
    for angle in (0.0, 0.5 * pi) if round_about else angles:
        check()
        if len(found) == MOST:
            break
        fit = twin_fit(table, angle, noise, quantum)
        if fit is not None and round_about:
            fit = replace(fit, angle=angle)
        if fit is not None and all(_between(fit, other) > SQUARE for other in found):
            found.append(fit)
    return found


def _between(one: TwinFit, other: TwinFit) -> float:
    return abs((one.angle - other.angle + 0.5 * pi) % pi - 0.5 * pi)


def _preferred(table: JointTable, found: Sequence[TwinFit], noise: float) -> list[TwinFit]:
    """Put the axes that stand level or plumb first, then those along or across the most edges."""
    way = (table.joints[table.last] - table.joints[table.first])[table.radius == 0.0]
    long = np.abs(way)

    def edges(fit: TwinFit) -> float:
        off = np.abs(np.imag((way / np.maximum(long, 1e-300) * np.exp(-1j * fit.angle)) ** 2))
        return float(long[off <= ALONG].sum())

    def rank(fit: TwinFit) -> tuple[bool, float, bool, float, float]:
        turn = abs(quarter_turn(fit.angle))
        stands = turn <= max(told_by(max(noise, fit.noise), table.size), 1e-9)
        partner = any(abs(_between(fit, other) - 0.5 * pi) <= SQUARE for other in found)
        return (not stands, -round(edges(fit) / table.size, 1), not partner,
                round(turn, 2), (fit.angle + ALONG) % pi)

    return sorted(found, key=rank)


def _chosen(found: Sequence[TwinFit], wish: str | None) -> list[TwinFit]:
    if wish == "none":
        return []
    names = [f"x{n}" for n in range(1, len(found) + 1)]
    if wish in names:
        return [found[names.index(wish)]]
    square = [fit for fit in found[1:] if abs(_between(fit, found[0]) - 0.5 * pi) <= SQUARE]
    return [*found[:1], *square[:1]]


def _in_frame(fit: TwinFit, turn: float, about: complex) -> TwinFit:
    """Return an axis of the file in the frame."""
    if turn == 0.0:
        return fit
    through = (fit.through - about) * complex(np.exp(-1j * turn))
    return replace(fit, angle=fit.angle - turn, through=through)


def _leveled(fits: Sequence[TwinFit], turned: bool) -> list[TwinFit]:
    """Put axes level or plumb and through one place, the side that is kept to their left."""
    if not fits:
        return []
    base = quarter_turn(fits[0].angle) if not turned else 0.0
    if len(fits) == 2:
        # Each is known best along itself: their crossing from both.
        one, other = fits
        way = complex(np.exp(1j * one.angle))
        along = ((other.through - one.through) * way.conjugate()).real
        fits = [replace(one, through=one.through + along * way),
                replace(other, through=one.through + along * way)]
    made = []
    for fit in fits:
        quarter = round((fit.angle - base) / (0.5 * pi)) % 2
        # A level axis runs to the right, upper side left of it; a plumb one down, the right side.
        made.append(replace(fit, angle=base + (-0.5 * pi if quarter else 0.0)))
    return made


def _drawn_axis(table: JointTable, fit: TwinFit, name: str) -> SymmetryAxis:
    """Return an axis from end to end of the outline and a little more, to the right or up."""
    angle = fit.angle % pi
    way = complex(cos(angle), sin(angle))
    places = np.concatenate([table.joints, table.middle,
                             table.circle + table.circle_radius * way,
                             table.circle - table.circle_radius * way])
    along = ((places - fit.through) * way.conjugate()).real
    over = OVERHANG * table.size
    start = fit.through + (float(along.min()) - over) * way
    end = fit.through + (float(along.max()) + over) * way
    return SymmetryAxis(name, _exact(start, fit), _exact(end, fit), fit.differs)


def _exact(at: complex, fit: TwinFit) -> tuple[float, float]:
    """Return a place on an axis; of a level or plumb one with the very coordinate of the axis."""
    if fit.angle == 0.0:
        return (at.real, fit.through.imag)
    if fit.angle == -0.5 * pi:
        return (fit.through.real, at.imag)
    return (at.real, at.imag)
