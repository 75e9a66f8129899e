"""The way of the torch's middle: every contour moved into the scrap by half of the kerf.

The contours of a cut have the part on their right, so that all of them move to their left: an
outside one grows, an inside one shrinks. At the part's corners the way goes round in an arc, which
leaves the corner sharp; into a corner of the scrap no cut of a width can go, and it comes out round
with half of the kerf.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from math import isfinite

import numpy as np

from sketcher.errors import ExportError, GeometryError
from sketcher.geometry.bounds import tolerance
from sketcher.geometry.curve_table import CurveTable
from sketcher.geometry.curves import XY, Arc, Circle, Curve
from sketcher.geometry.evaluate import end_of
from sketcher.geometry.moments import signed_area
from sketcher.geometry.offset_curves import CurveRun, offset
from sketcher.geometry.vicinity import Vicinity
from sketcher.inspect.words import length, some
from sketcher.interrupt import check
from sketcher.shop.cut_plan import MOST_NAMED, CutContour

LOST_LENGTH = 2.0
"""A run of curves that the way does not follow at all is a lost slot or notch where it is longer
than so many kerfs, and refused. A round in a corner that gives way to the kerf's own is shorter:
half a turn with half of the kerf is 1.57 kerfs long (by arithmetic)."""

STEPS = 24
"""Halvings in the search of the widest kerf: a ten-millionth of the kerf that was refused."""


@dataclass(frozen=True, slots=True)
class KerfFault:
    """A contour that cannot be cut with a kerf: what becomes of it, and where."""

    contour: CutContour
    ids: tuple[str, ...]
    problem: str


def offset_by_kerf(
    contours: Sequence[CutContour], kerf: float, unit: str
) -> tuple[tuple[CutContour, ...], tuple[str, ...]]:
    """Return the contours as the middle of the cut goes, and what is to be told of it.

    Parameters
    ----------
    contours : sequence of CutContour
        Nominal; they do not meet each other.
    kerf : float
        Width of the cut in the part's unit; 0 leaves all as it is.
    unit : str
        Of all lengths.

    Returns
    -------
    contours : tuple of CutContour
        In the same order; the id of an arc round a corner is that of the curve before.
    told : tuple of str
        By how much they are moved, and which corners come out round.

    Raises
    ------
    ExportError
        For a kerf that is none; for contours that vanish or fall into several, or a notch or a slot
        of one that is narrower than the kerf: by their ids, with the widest kerf that goes.
    """
    if not (isfinite(kerf) and kerf >= 0.0):
        raise ExportError("kerf", f"{kerf:g} is no width of a cut", "give a length above zero")
    if kerf == 0.0:
        return tuple(contours), ()
    moved, faults, corners = [], [], []
    for contour in contours:
        check()
        way = along_scrap(contour, kerf)
        if isinstance(way, KerfFault):
            faults.append(way)
            continue
        moved.append(way)
        corners.append(_left_in_corners(contour, way, kerf))
    if faults:
        raise _refusal(faults, kerf, unit)
    return tuple(moved), (_offset_told(kerf, unit), *_corners_told(corners, kerf, unit))


def _offset_told(kerf: float, unit: str) -> str:
    return (f"offset for a kerf of {length(kerf, unit)}: outside contours grow and inside ones "
            f"shrink by {length(0.5 * kerf, unit)} all round")


def along_scrap(contour: CutContour, kerf: float) -> CutContour | KerfFault:
    """Return one contour moved into the scrap by half of the kerf, or why that cannot be."""
    runs = _runs(contour, 0.5 * kerf)
    if not runs or _no_wider(runs):
        return KerfFault(contour, contour.ids, "is no wider than the kerf and vanishes")
    if len(runs) > 1:
        narrow = "has a slot that the kerf closes" if not contour.hole else (
            f"is narrower than the kerf in places and falls into {len(runs)}")
        return KerfFault(contour, contour.ids, narrow)
    run = runs[0]
    if contour.circle is not None:
        return replace(contour, curves=run.curves)
    lost = _lost(contour, run, LOST_LENGTH * kerf)
    if lost:
        return KerfFault(contour, lost, "bound a slot or a notch narrower than the kerf, which "
                                        "would be lost")
    if not run.closed:
        return KerfFault(contour, contour.ids, "does not close once it is offset by the kerf")
    ids = tuple(contour.ids[k] for k in run.sources)
    return replace(contour, ids=ids, curves=run.curves)


def _no_wider(runs: Sequence[CurveRun]) -> bool:
    """Whether the way only goes there and back: a slot just as wide as the kerf."""
    curves = [curve for run in runs for curve in run.curves]
    return abs(signed_area(curves)) <= tolerance(curves) * sum(curve.length for curve in curves)


def _runs(contour: CutContour, distance: float) -> tuple[CurveRun, ...]:
    circle = contour.circle
    if circle is None:
        return offset(contour.curves, distance, "round", closed=True)
    radius = circle.radius - distance if contour.hole else circle.radius + distance
    if radius <= tolerance((circle,)):
        return ()
    return (CurveRun((Circle(circle.center, radius),), (0,), True),)


def _lost(contour: CutContour, run: CurveRun, most: float) -> tuple[str, ...]:
    """Ids of a run of curves longer than `most` that the way follows nowhere."""
    count = len(contour.curves)
    kept = {source for curve, source in zip(run.curves, run.sources, strict=True)
            if not _goes_round(curve, end_of(contour.curves[source]))}
    start = min(kept, default=0)
    round_once = [(start + k) % count for k in range(count)]
    for gone, group in groupby(round_once, lambda k: k not in kept):
        numbers = list(group)
        if gone and sum(contour.curves[k].length for k in numbers) > most:
            return tuple(contour.ids[k] for k in numbers)
    return ()


def _goes_round(curve: Curve, corner: XY) -> bool:
    """Whether a curve of the way goes round a corner: it says nothing of the curve before that."""
    return isinstance(curve, Arc) and curve.center == corner


def _left_in_corners(
    contour: CutContour, way: CutContour, kerf: float
) -> tuple[tuple[str, ...], float]:
    """Ids at the corners into which the cut does not reach, and how much it leaves in them."""
    if contour.circle is not None:
        return (), 0.0
    table = CurveTable(contour.curves)
    every = np.arange(len(contour.curves))
    places = np.concatenate([table.points(every, np.full(len(every), t)) for t in (0.0, 0.5)])
    apart = Vicinity(CurveTable(way.curves)).nearest(places)[1] - 0.5 * kerf
    left = float(apart.max())
    if left <= max(1e-6 * kerf, tolerance(contour.curves)):
        return (), 0.0
    numbers = sorted({k % len(every) for k in np.flatnonzero(apart > 0.5 * left).tolist()})
    return tuple(contour.ids[k] for k in numbers), left


def _corners_told(
    found: Sequence[tuple[tuple[str, ...], float]], kerf: float, unit: str
) -> Iterator[str]:
    """Tell in one line of all corners that come out round."""
    ids = [name for names, _ in found for name in names]
    if ids:
        left = max(left for _, left in found)
        yield (f"{_named(ids)}: inside corners come out round with {length(0.5 * kerf, unit)}, "
               f"half of the kerf; up to {length(left, unit)} is left in them")


def widest_kerf(contour: CutContour, kerf: float) -> float:
    """Return the widest kerf below one that is too wide with which a contour can be cut, about."""
    goes, fails = 0.0, kerf
    for _ in range(STEPS):
        middle = 0.5 * (goes + fails)
        try:
            fits = not isinstance(along_scrap(contour, middle), KerfFault)
        except GeometryError:
            fits = False
        goes, fails = (middle, fails) if fits else (goes, middle)
    return goes


def _refusal(faults: Sequence[KerfFault], kerf: float, unit: str) -> ExportError:
    """The first fault in words, and the contours of all others by their ids."""
    first = faults[0]
    least = min(widest_kerf(fault.contour, kerf) for fault in faults[:MOST_NAMED])
    others = [fault.ids[0] for fault in faults[1:]]
    more = f"; so it is with {_named(others)}" if others else ""
    return ExportError(
        _named(first.ids), f"cannot be cut with a kerf of {length(kerf, unit)}: {first.problem}"
        + more, f"a kerf below {length(least, unit)} would go; else make it wider, or mark a hole "
        "in place of cutting it")


def _named(ids: Sequence[str]) -> str:
    return some(list(dict.fromkeys(ids)), MOST_NAMED)


__all__ = ["KerfFault", "along_scrap", "offset_by_kerf", "widest_kerf"]
