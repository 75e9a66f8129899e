"""How far a value can be led from where it holds towards one that no geometry has.

The walk of `walk` is taken in ever smaller steps until it gets no further. It ends where a line or
a round has shrunk to nothing, so that beyond it would run backwards, or at a turning point, where
two branches of solutions meet and neither goes on: a triangle whose sides lie in one line
(Allgower & Georg, *Introduction to Numerical Continuation Methods*, SIAM 2003, ch. 2; from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from math import hypot

import numpy as np

from sketcher.geometry.bounds import extent
from sketcher.interrupt import check
from sketcher.part.curve_questions import ends_of
from sketcher.part.equations import Array
from sketcher.part.value import Part
from sketcher.part.whole import half
from sketcher.solve.linear import Rows
from sketcher.solve.system import System
from sketcher.solve.walk import advance

FINE = 1e-6
"""Share of the way to which the limit is found. At a turning point the geometry then is within a
thousandth of the way of it, for it goes with the root of what is left."""
TRIES = 60
"""Solves at most: 18 halvings lead from `FIRST` to `FINE`, with a step between any two of them."""
FIRST = 0.25
GONE = 1e-3
"""A curve with less than this part of its extent left is what stopped the walk."""
DETERMINED = 1e-6
"""What may be left of a slope of one where it is a combination of the rows; what is free leaves a
good part of it."""
COUNTS = 1e-3
"""Share of the largest weight from which on a binding takes part in a limit; at a turning point the
others are left with about `FINE`."""


@dataclass(frozen=True, slots=True)
class Limit:
    """Where the way to the wanted values ends.

    Parameters
    ----------
    part : Part
        The geometry there, under the bindings as they are.
    share : float
        Part of the way from the values as they stand, at 0, to those that are wanted, at 1.
    against : tuple of str
        Driving bindings that keep it from going on, in the part's order; none where that cannot
        be told, as where something loose happened to stand in the way.
    gone : str
        The line or round that has shrunk to nothing there; empty at a turning point.
    """

    part: Part
    share: float
    against: tuple[str, ...]
    gone: str = ""


def limit_of(
    part: Part, changed: Collection[str], toward: Callable[[float], Part] | None = None
) -> Limit | None:
    """Return how far the values of some bindings can go; None where they cannot move at all.

    Parameters
    ----------
    part : Part
        All holds but the values of `changed`.
    changed : collection of str
        Their binding ids.
    toward : callable, optional
        From a share of the way to the part with the values there, where these do not go in
        proportion to it.

    Returns
    -------
    Limit or None
        None too where the whole way can be gone in small steps.
    """
    system = System(part)
    begin, end = system.measured(system.x0), system.values

    def values(share: float) -> Array:
        return begin + share * (end - begin) if toward is None else System(toward(share)).values

    x, share, before = _led(system, values)
    if share <= FINE or share >= 1.0:
        return None
    ahead = values(min(share + FINE, 1.0)) - values(share)
    there = system.to_part(x)
    gone = _gone(system.part, there)
    if gone:
        weights = _shrinking(system, before, gone)
    else:
        # (J J')^-1 times where the values go is next to the left null vector of J, for the
        # smallest singular value of J there is far below the others.
        weights = Rows(system, x).factor()(system.residual(x, system.measured(x) + ahead))
        before = x
    against = () if weights is None else _owners(system, before, weights, frozenset(changed))
    return Limit(there, share, against, gone)


def _led(system: System, values: Callable[[float], Array]) -> tuple[Array, float, Array]:
    """Return the last unknowns that could be reached, the share of the way there, and others.

    These are of a place well before the end, where nothing has become so short that the rows of
    its angle would outweigh all others.
    """
    x, done, step, fast = system.x0, 0.0, FIRST, True
    before = x
    worst = system.kept(x)[1]
    for _ in range(TRIES):
        check()
        ahead = min(done + step, 1.0)
        found, drift = advance(system, x, values(ahead))
        sound, unmet = system.kept(found.x)
        if found.converged and sound and unmet <= worst and drift <= 0.5:
            x, done, worst = found.x, ahead, unmet
            if done >= 1.0:
                break
            step *= 2.0 if fast and drift < 0.2 else 1.0
            continue
        before = x if fast else before
        fast, step = False, 0.5 * step  # from here on it only closes in
        if step < FINE:
            break
    return x, done, before


def _owners(
    system: System, x: Array, weights: Array, changed: frozenset[str]
) -> tuple[str, ...]:
    row, _ = system.structure
    lengths = np.sqrt(np.bincount(row, system.entries(x) ** 2, system.height))
    told = np.abs(weights) * lengths
    owners = np.unique(system.row_binding[told >= COUNTS * told.max(initial=0.0)])
    names = {system.binding_ids[k] for k in owners if k >= system.first_binding}
    return tuple(name for name in system.part.bindings if name in names - changed)


def _gone(before: Part, after: Part) -> str:
    """Return a curve that has shrunk to nothing; empty where there is none."""
    was = half(before)
    return next((name for name, curve in half(after).items()
                 if extent(curve) < GONE * extent(was[name])), "")


def _shrinking(system: System, x: Array, name: str) -> Array | None:
    """Return the weights of the rows whose sum is the change of a curve's extent; None if none is.

    What is gone cannot go on shrinking. Where its extent is a combination of the rows they leave
    it no choice; else something loose shares in it.
    """
    part = system.to_part(x)
    slopes = np.zeros(system.width)
    ends = ends_of(part.curves[name])
    if not ends:
        parts = [((name, "r"), 1.0)]
    else:
        (x0, y0), (x1, y1) = (part.points[end] for end in ends)
        long = hypot(x1 - x0, y1 - y0) or 1.0
        way = ((x1 - x0) / long, (y1 - y0) / long)
        parts = [((end, axis), sign * amount) for end, sign in zip(ends, (-1.0, 1.0), strict=True)
                 for axis, amount in zip("xy", way, strict=True)]
    for slot, amount in parts:
        column = system.unknowns[slot]
        if column >= 0:
            slopes[column] += amount
    rows = Rows(system, x)
    wanted = rows.change(slopes)
    if np.abs(rows.step(wanted) - slopes).max(initial=0.0) > DETERMINED:
        return None
    return np.asarray(rows.factor()(wanted))
