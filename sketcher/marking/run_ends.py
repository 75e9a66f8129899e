"""How far the ends of center lines run past the outline, in mm on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, ceil, floor, inf
from typing import TYPE_CHECKING

from sketcher.geometry.curve_table import CurveTable
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.meet_many import meetings_between
from sketcher.marking.center_runs import ON, CenterRun
from sketcher.marking.wanted_centers import WantedCenter
from sketcher.quantity.format import length
from sketcher.quantity.units import MM_PER_INCH

if TYPE_CHECKING:
    from sketcher.marking.center_evidence import CenterEvidence

LEAST, MOST = 2.0, 6.0
"""Overhang in mm on paper: common practice, no source. Courses and manuals ask for 3 mm or 1/8 in
to 8 mm; in inches the bounds go outwards to the next sixteenth."""
LESS = 0.1
"""Less than this past the outline, in mm, is not past it."""
SLACK = 0.02
NEARBY = 60.0
"""mm on paper before an end within which the outline that it passed is looked for."""


@dataclass(frozen=True, slots=True)
class RunEnd:
    """An end of a center line.

    Parameters
    ----------
    at : (x, y)
    past : tuple of float
        How far it lies past each outline behind it, the least first; a slot's or an arc's circle
        counts where its line leaves by the open side.
    lines : tuple of float
        How far past other center lines.
    short : float or None
        How far it stays inside what it should pass; None when it passes it.
    """

    at: XY
    past: tuple[float, ...]
    lines: tuple[float, ...]
    short: float | None

    def overhangs(self, bounds: tuple[float, float]) -> list[float]:
        """Return each overhang that is within bounds; several outlines may be meant."""
        low, high = bounds
        return [over for over in (*self.past, *self.lines) if low - SLACK <= over <= high + SLACK]


def overhang_bounds(unit: str, most: float | None = None) -> tuple[float, float]:
    """Return least and greatest overhang in mm on paper, as the paper's unit divides them."""
    high = MOST if most is None else most
    if unit == "mm":
        return min(LEAST, high), high
    part = MM_PER_INCH / 16.0
    return min(floor(LEAST / part) * part, high), ceil(high / part) * part


def paper_length(size: float, unit: str) -> str:
    """Return a length of the paper, in mm, as the paper's unit writes it."""
    return length(size, "mm", 1) if unit == "mm" else length(size / MM_PER_INCH, "in", 2)


def run_ends(evidence: CenterEvidence) -> Iterator[tuple[CenterRun, tuple[RunEnd, RunEnd]]]:
    """Yield each center line that has ends, with its lower and its upper one.

    A line on no center and no axis that the hand-in should have is left out: what it belongs to
    cannot be told.
    """
    on: dict[int, list[WantedCenter]] = {}
    for center in evidence.wanted.centers:
        for run, _, _ in evidence.through(center):
            on.setdefault(id(run), []).append(center)
    last = dict(_last_on_axes(evidence))
    runs = [run for run in evidence.runs if not run.closed and (
        id(run) in on or any((id(run), sign) in last for sign in (-1, 1)))]
    for run, crossed in zip(runs, _crossings(runs, evidence), strict=True):
        low, high = (_end(run, sign, on.get(id(run), []), last.get((id(run), sign)), crossed)
                     for sign in (-1, 1))
        yield run, (low, high)


def _crossings(
    runs: Sequence[CenterRun], evidence: CenterEvidence
) -> list[tuple[list[float], list[float]]]:
    """Return for each run where along it outlines cross it, and other center lines."""
    outlines = _outlines(evidence)
    lines = evidence.runs
    curves = [*(run.curve for run in runs), *outlines, *(run.curve for run in lines)]
    found: list[tuple[list[float], list[float]]] = [([], []) for _ in runs]
    if not runs:
        return found
    for part in meetings_between(CurveTable(curves), len(runs), SLACK):
        for a, b, at, shared in zip(part.a.tolist(), part.b.tolist(), part.point.tolist(),
                                    part.shared.tolist(), strict=True):
            other = b - len(runs) - len(outlines)
            if not shared and not (other >= 0 and lines[other] is runs[a]):
                found[a][other >= 0].append(runs[a].place((at[0], at[1]))[0])
    return found


def _outlines(evidence: CenterEvidence) -> list[Curve]:
    """Return the outline on paper: the hand-in's, and edges of the key that it lacks."""
    comparison, left = evidence.comparison, set(evidence.misplaced)
    drawn = [each.curve for each in comparison.features if not left.issuperset(each.sources)]
    lacking = [comparison.shape.found[n].curve for n in comparison.matching.missing]
    return [evidence.view.curve(curve) for curve in (*drawn, *lacking)]


def _last_on_axes(evidence: CenterEvidence) -> Iterator[tuple[tuple[int, int], float]]:
    """Yield for the outermost runs of drawn axes, by run and end, where the axis leaves the part.

    The place is along the run.
    """
    for axis in evidence.wanted.axes:
        runs = evidence.along(axis)
        if not runs or not evidence.has(axis):
            continue
        for s in (axis.low, axis.high):
            at = axis.carrier.at(s)
            middle = axis.carrier.at(0.5 * (axis.low + axis.high))
            run = min(runs, key=lambda each: min(
                abs(each.place(at)[0] - each.low), abs(each.place(at)[0] - each.high)))
            place = run.place(at)[0]
            yield (id(run), 1 if place > run.place(middle)[0] else -1), place


def _end(
    run: CenterRun, sign: int, centers: Sequence[WantedCenter], leaves: float | None,
    crossings: tuple[Sequence[float], Sequence[float]],
) -> RunEnd:
    end = sign * run.end(sign)
    node = max(centers, key=lambda each: sign * run.place(each.at)[0], default=None)
    if (node is None and leaves is None) or (
            node is not None and abs(run.place(node.at)[1]) > ON):
        # within an axis, or left where a hole should be that was drawn elsewhere
        return RunEnd(run.carrier.at(run.end(sign)), (), (), None)
    past: list[float] = []
    musts: list[float] = [] if leaves is None else [sign * leaves]
    begin = -inf
    if node is not None:
        s = run.place(node.at)[0]
        ux, uy = run.carrier.heading(s)
        radius = node.met(atan2(sign * uy, sign * ux))
        begin = sign * s + radius
        if radius:
            musts.append(begin)
        past += [end - sign * s - curve.radius for curve in node.rounds]
    crossed, lines = ([end - sign * s for s in each if sign * s > begin - SLACK]
                      for each in crossings)
    short = max((must - end for must in musts), default=-inf)
    return RunEnd(
        run.carrier.at(run.end(sign)),
        tuple(sorted({over for over in (*past, *crossed) if -SLACK <= over <= NEARBY})),
        tuple(over for over in lines if over > SLACK),
        max(short, 0.0) if short > -LESS else None)
