"""A hole, slot end or arc of half a turn or more whose center no two lines mark."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, sin

from sketcher.marking.center_evidence import CROSS, MISSED, NEAR, CenterEvidence
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.run_ends import paper_length
from sketcher.marking.wanted_centers import WantedCenter

Lacking = tuple[WantedCenter, float]
"""A center with one line, and the direction of the one that it lacks."""


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the centers without a mark; a row that lacks its line is one mistake."""
    evidence = comparison.center_evidence
    if evidence.all_by_rule is not None:
        return evidence.all_by_rule
    mistakes: list[Mistake] = []
    lacking: list[Lacking] = []
    for center in evidence.wanted.centers:
        if center.sort == "located arc" or evidence.is_marked(center):
            continue
        crossed = evidence.through(center)
        if crossed and _on_lacking_ring(evidence, center):
            continue
        missed = _missed_by(evidence, center)
        if missed is not None:
            unit = comparison.key.part.unit
            mistakes.append(Mistake(
                evidence.back(center.at), paper_length(missed, unit), "",
                f"the center lines of {center.words} miss its center"))
        elif not crossed:
            mistakes.append(Mistake(evidence.back(center.at), "none", "two center lines",
                                    f"{center.words} has no center lines"))
        else:
            way = max(center.ways, key=lambda way: min(abs(sin(way - a)) for *_, a in crossed))
            if not _on_lacking_axis(evidence, center, way):
                lacking.append((center, way))
    for group in _rows(lacking):
        first = group[0][0]
        text = (f"{first.words} has one center line, not two" if len(group) == 1 else
                f"the {len(group)} centers from {first.words} on have one center line each, "
                "the line of their row is missing")
        mistakes.append(Mistake(evidence.back(first.at), "one center line", "two center lines",
                                text, count=len(group)))
    return tuple(sorted(mistakes, key=lambda each: each.at))


def _missed_by(evidence: CenterEvidence, center: WantedCenter) -> float | None:
    """Return by how much lines that are meant for a center miss it; None where none is."""
    near = evidence.through(center, MISSED)
    if not any(abs(sin(a - b)) >= CROSS for *_, a in near for *_, b in near):
        return None
    off = [min(abs(run.place(at)[1]) for at in (center.at, center.planned)) for run, *_ in near]
    return max(off) if max(off) > NEAR else None


def _on_lacking_axis(evidence: CenterEvidence, center: WantedCenter, way: float) -> bool:
    """Tell whether the missing line is an axis, which has a rule of its own."""
    for axis in evidence.wanted.axes:
        ux, uy = axis.carrier.direction
        if abs(axis.carrier.where(center.planned)[1]) <= NEAR and not evidence.has(axis) and (
                abs(ux * sin(way) - uy * cos(way)) < 0.02):
            return True
    return False


def _on_lacking_ring(evidence: CenterEvidence, center: WantedCenter) -> bool:
    """Tell whether its pitch circle or the middle of its slot lacks: both have rules of theirs."""
    return any(each is center and evidence.ring(ring) is None
               for ring in (*evidence.wanted.pitches, *evidence.wanted.paths)
               for each in ring.places)


def _rows(lacking: Sequence[Lacking]) -> Iterator[list[Lacking]]:
    """Yield centers that lack one line together."""
    left = sorted(lacking, key=lambda each: each[0].at)
    while left:
        (x, y), way = left[0][0].at, left[0][1]
        row = [each for each in left if abs(sin(way - each[1])) < 0.01 and abs(
            (each[0].at[0] - x) * sin(way) - (each[0].at[1] - y) * cos(way)) <= NEAR]
        left = [each for each in left if each not in row]
        yield row


RULE = MarkingRule("center-mark-missing", "a hole, slot end or arc without center lines", 2.0, 6.0,
                   "center lines", decide, rank=0)
