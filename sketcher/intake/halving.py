"""The half, or the quarter, of a shape whose axes are known."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from sketcher.geometry.curves import Circle
from sketcher.geometry.evaluate import midpoint
from sketcher.intake.joint_table import JointTable, curve_between
from sketcher.intake.linework import TakenCurve
from sketcher.intake.twin_fit import TwinFit, mirrored

LEAST = 1e-12
"""Share of the size within which a place is on an axis once twins are the means of each other."""


def evened(table: JointTable, fits: Sequence[TwinFit]) -> JointTable:
    """Return a table whose twins are exactly each other's reflection.

    Each place becomes the mean of itself and its twin's reflection, which is the least move that
    does it and halves the square of the noise. With two axes square to each other the second leaves
    what the first has made.
    """
    for fit in fits:
        joints = 0.5 * (table.joints + mirrored(table.joints[fit.joint], fit.angle, fit.through))
        center = 0.5 * (table.center + mirrored(table.center[fit.curve], fit.angle, fit.through))
        circle = 0.5 * (table.circle + mirrored(table.circle[fit.circle], fit.angle, fit.through))
        radius = 0.5 * (table.circle_radius + table.circle_radius[fit.circle])
        table = replace(table, joints=joints, center=center, circle=circle, circle_radius=radius)
    return table


def kept_side(
    table: JointTable, fits: Sequence[TwinFit]
) -> tuple[tuple[TakenCurve, ...], ...]:
    """Return the chains to the left of all axes, those that cross an axis cut on it.

    Parameters
    ----------
    table : JointTable
        Evened.
    fits : sequence of TwinFit
        Their angles say which side is left.

    Returns
    -------
    tuple of tuple of TakenCurve
        A contour on this side whole; of one across an axis the run that begins and ends on axes;
        a circle on an axis whole.
    """
    chains: list[tuple[TakenCurve, ...]] = []
    for run, offset in zip(table.runs, table.offsets, strict=False):
        pieces = _pieces(table, run, offset, fits)
        inside = [_is_left(table, fits, complex(*midpoint(each.curve))) for each in pieces]
        if any(inside):
            # The last piece outside is followed by the first of the run.
            turn = 0 if all(inside) else next(
                k for k in range(len(pieces)) if inside[k] and not inside[k - 1])
            ordered = [*zip(pieces[turn:], inside[turn:], strict=True),
                       *zip(pieces[:turn], inside[:turn], strict=True)]
            chains.append(tuple(each for each, within in ordered if within))
    for k, run in enumerate(table.runs[len(table.offsets):]):
        center = complex(table.circle[k])
        if _is_left(table, fits, center, LEAST * table.size):
            place = (center.real, center.imag)
            chains.append((TakenCurve(Circle(place, float(table.circle_radius[k])),
                                      run[0].entities),))
    return tuple(chains)


def _pieces(
    table: JointTable, run: Sequence[TakenCurve], offset: int, fits: Sequence[TwinFit]
) -> list[TakenCurve]:
    """Return the curves of a contour over evened places, cut where they cross an axis."""
    pieces: list[TakenCurve] = []
    for k, each in enumerate(run, offset):
        center = None if np.isnan(table.center[k]) else complex(table.center[k])
        ends = [complex(table.joints[table.first[k]])]
        for fit in fits:
            if fit.curve[k] == k and fit.joint[table.first[k]] != table.first[k]:
                ends.append(_on_axis(table, k, fit, center))
        ends.append(complex(table.joints[table.last[k]]))
        if len(ends) > 3:
            # Across both axes: nearest the beginning first, as it is travelled.
            ends[1:-1] = sorted(ends[1:-1], key=lambda at: abs(at - ends[0]))
        pieces += [TakenCurve(curve_between(a, b, center, each.curve), each.entities)
                   for a, b in pairwise(ends)]
    return pieces


def _on_axis(table: JointTable, k: int, fit: TwinFit, center: complex | None) -> complex:
    """Return where a curve that is its own twin crosses the axis."""
    start, end = complex(table.joints[table.first[k]]), complex(table.joints[table.last[k]])
    if center is None:
        return 0.5 * (start + end)
    radius = 0.5 * (abs(start - center) + abs(end - center))
    way = complex(np.exp(1j * fit.angle))
    if ((complex(table.middle[k]) - center) * way.conjugate()).real < 0.0:
        way = -way
    return center + radius * way


def _is_left(
    table: JointTable, fits: Sequence[TwinFit], at: complex, near: float = 0.0
) -> bool:
    return all(((at - fit.through) * complex(np.exp(-1j * fit.angle))).imag >= -near
               for fit in fits)
