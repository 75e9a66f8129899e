"""Runs of chords in a hand-in, taken as the arcs that they stand for before anything is compared.

A polygon that the key has too stays one: its edges are no finer than those that `chords.py` takes
for a polygon's, and no round of the key has their circle.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from sketcher.geometry.bounds import tolerance
from sketcher.geometry.curves import Curve, Line
from sketcher.intake.chords import FoundRun, chains, run_curve, runs_of
from sketcher.marking.outline_features import Feature, features

LEAST_LINES = 3
"""Fewer chords in a row are found beside the key, by the round that they leave out."""
SLACKS = (0.0, 0.1, 1.0)
"""How far the end of a chord may lie off its arc, in tolerances: coordinates as computed, in
thousandths, in hundredths. The finest with which most is found is taken: with more, the turns of
short chords say nothing."""


class _Taken(NamedTuple):
    """A curve in place of some, and what its ends are: numbers of curves, and which end."""

    curve: Curve
    numbers: tuple[int, ...]
    ends: tuple[tuple[int, int], ...]


def drawn_features(
    curves: Sequence[Curve], within: float, radii: Sequence[float] = ()
) -> tuple[Feature, ...]:
    """Return the features of a hand-in's outline, runs of chords as arcs; specks are left out.

    Parameters
    ----------
    curves : sequence of Curve
    within : float
        Tolerance, in the unit of the curves.
    radii : sequence of float
        Of the key's rounds, in the same unit: coarse chords are taken for arcs where one has their
        circle.

    Returns
    -------
    tuple of Feature
        Numbered by `curves`: the sources of an arc made of chords are its chords.
    """
    taken = [_Taken(curve, (n,), ((n, 0), (n, 1)))
             for n, curve in enumerate(curves) if curve.length > within]
    if sum(isinstance(each.curve, Line) for each in taken) >= LEAST_LINES:
        taken = _with_arcs([each.curve for each in taken], taken, within, radii)
    found = features([each.curve for each in taken], within)
    return tuple(sorted(
        (Feature(each.curve,
                 tuple(sorted({n for k in each.sources for n in taken[k].numbers})),
                 tuple(taken[k].ends[end] for k, end in each.ends)) for each in found),
        key=lambda each: each.sources[0]))


def _with_arcs(
    curves: Sequence[Curve], taken: Sequence[_Taken], within: float, radii: Sequence[float]
) -> list[_Taken]:
    """Return what was taken with an arc in place of each run."""
    tries = [_runs(curves, max(tolerance(curves), share * within), within, radii)
             for share in SLACKS]
    best = max(tries, key=lambda runs: sum(run.last - run.first for _, run, _ in runs))
    gone: set[int] = set()
    arcs: list[_Taken] = []
    for found in best:
        chain, run, _ = found
        numbers = chain.numbers[run.first:run.last]
        if gone.intersection(numbers):
            continue
        gone.update(numbers)
        arc = run_curve(found)
        arcs.append(_Taken(arc, tuple(taken[n].numbers[0] for n in numbers), tuple(
            (taken[numbers[k]].numbers[0], _end_at(curves[numbers[k]], at))
            for k, at in ((0, chain.vertices.places[run.first].tolist()),
                          (-1, chain.vertices.places[run.last].tolist())))))
    return [*(each for n, each in enumerate(taken) if n not in gone), *arcs]


def _runs(
    curves: Sequence[Curve], off: float, within: float, radii: Sequence[float]
) -> list[FoundRun]:
    """Return the runs that are arcs, no polygons."""
    return [found for chain in chains(curves, max(tolerance(curves), 0.5 * within), off)
            for found in runs_of(chain, curves, free=False)
            if found.sure or any(abs(found.run.circle.radius - r) <= within for r in radii)]


def _end_at(curve: Curve, at: Sequence[float]) -> int:
    """Return which end of a line is at a place."""
    assert isinstance(curve, Line)
    away = [abs(x - at[0]) + abs(y - at[1]) for x, y in (curve.start, curve.end)]
    return int(away[1] < away[0])
