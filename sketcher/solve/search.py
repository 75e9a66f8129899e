"""From any sketch to the solution that is meant: direct, walked, mended, moved a little."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from sketcher.part.equations import Array
from sketcher.solve.newton import EXACT, Outcome, newton
from sketcher.solve.system import System
from sketcher.solve.walk import walk

TRIES = 6


def search(system: System, x: Array | None = None) -> Outcome:
    """Return the solution nearest in meaning to the geometry at `x`.

    Where only dimensions are off, their values are walked. Otherwise Newton's method starts from
    the sketch itself. When it fails or ends with a wish unmet, further starts are tried: wishes
    mended, dimensions first left as they are and then walked, small random moves (seeded, so that
    the same sketch always gives the same part). A solution with all wishes met ends the search;
    one with some unmet is better than none.
    """
    x = system.x0 if x is None else x
    best: Outcome | None = None
    fewest, count = 1 << 30, 0
    for found in _attempts(system, x):
        count += found.iterations
        sound, unmet = system.kept(found.x)
        good = found.converged and sound
        if good and unmet < fewest:
            best, fewest = found, unmet
        if good and unmet == 0:
            break
        if best is None or (not best.converged and found.worst < best.worst):
            best = replace(found, converged=False)
    assert best is not None
    return replace(best, iterations=count)


def _attempts(system: System, x: Array) -> Iterator[Outcome]:
    """Outcomes of ever bolder starts."""
    shape = system.residual(x, system.measured(x))
    if np.abs(shape).max(initial=0.0) <= EXACT * system.size:
        yield walk(system, x)
    direct = newton(system, x)
    yield direct
    mended = system.mended(direct.x)
    if not np.array_equal(mended, direct.x):
        yield newton(system, mended)
    mended = system.mended(x)
    if not np.array_equal(mended, x):
        yield newton(system, mended)
    settled = newton(system, mended, system.measured(mended))
    if settled.converged:
        yield walk(system, settled.x, 0.25)
    rng = np.random.default_rng(7)
    for number in range(TRIES):
        reach = 0.01 * (1 + number) * system.size
        start = system.mended(x + rng.uniform(-reach, reach, len(x)))
        yield newton(system, start)
