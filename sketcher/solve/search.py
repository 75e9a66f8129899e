"""From any sketch to the solution that is meant: direct, walked, moved a little."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from sketcher.part.equations import Array
from sketcher.solve.newton import EXACT, NewtonOutcome, newton
from sketcher.solve.system import System
from sketcher.solve.walk import walk

TRIES, TRIES_SURE = 8, 2
"""Moved starts for a small sketch, and for a large one or one that was solved before."""
NEAR = 0.2
"""A solution that moves nothing by more than this part of the size is what the sketch meant."""
CLEARLY = 0.8
"""A later solution has to be nearer than an earlier one by this factor."""


def search(system: System, x: Array | None = None) -> NewtonOutcome:
    """Return the solution nearest in meaning to the geometry at `x`.

    A sketch that holds already is only polished; one of another scale is scaled first. Where only
    dimensions are off, their values are walked. Otherwise Newton's method starts from the sketch
    itself. When it fails, ends with a wish unmet or far from the sketch, further starts are tried:
    corners at the nearer of two crossings; then, with wishes mended, dimensions first left as they
    are and walked, small random moves (seeded, so that the same sketch always gives the same part).
    Of several solutions the one with the fewest unmet wishes counts, then the nearest.
    """
    x = system.x0 if x is None else x
    rows = system.residual(x)
    stands = np.abs(rows).max(initial=0.0) <= EXACT * system.size
    if stands and system.kept(x) == (True, 0):
        return newton(system, x)
    sketch, x = x, system.rescaled(x)
    if x is not sketch:
        rows = system.residual(x)
    best, failed = None, None
    rank, count = (1 << 30, np.inf), 0
    for found, sure in _attempts(system, x, rows):
        count += found.iterations
        sound, unmet = system.kept(found.x)
        if not (found.converged and sound):
            if failed is None or found.worst < failed.worst:
                failed = replace(found, converged=False)
            continue
        moved = system.moved(found.x, x)
        if unmet < rank[0] or (unmet == rank[0] and moved < CLEARLY * rank[1]):
            best, rank = found, (unmet, moved)
        if unmet == 0 and (sure or moved <= NEAR):
            break
    best = best or failed
    assert best is not None
    return replace(best, iterations=count)


def _attempts(system: System, x: Array, rows: Array) -> Iterator[tuple[NewtonOutcome, bool]]:
    """Outcomes of ever bolder starts; True where the branch is kept by continuity.

    `rows` are those at `x`.
    """
    # all but the dimensions hold
    solved = bool(np.abs(rows[~system.row_valued]).max(initial=0.0) <= EXACT * system.size)
    if solved:
        yield walk(system, x), True
    direct = straight(system, x)
    yield direct, False
    start = system.mended(x)
    settled = newton(system, start, system.measured(start))
    if settled.converged and not solved:
        yield walk(system, settled.x, 0.25), False
    # what no equation moves stays where it was drawn
    concerned = np.abs(direct.x - x) > 1e-12 * system.size
    rng = np.random.default_rng(7)
    for number in range(TRIES if system.small and not solved else TRIES_SURE):
        reach = 0.01 * (1 + number) * system.size
        start = np.where(concerned, x + rng.uniform(-reach, reach, len(x)), x)
        yield newton(system, system.mended(start)), False


def straight(system: System, x: Array, most: int = 60) -> NewtonOutcome:
    """Outcome of Newton's method from a sketch itself, corners at the nearer crossing.

    Parameters
    ----------
    system : System
    x : array, shape (width,)
        The sketch.
    most : int
        Largest number of steps.
    """
    direct = newton(system, x, most=most)
    if direct.converged:
        # corrected before it is offered: both crossings satisfy every equation
        nearer = system.nearer(direct.x, x)
        if system.moved(nearer, direct.x) > 1e-6:
            found = newton(system, nearer, most=most)
            if found.converged:
                return replace(found, iterations=direct.iterations + found.iterations)
    return direct
