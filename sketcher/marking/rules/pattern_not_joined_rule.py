"""The holes of a pattern without the center line that joins them: a pitch circle, lines of rows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations
from math import dist

from sketcher.geometry.curves import Line
from sketcher.geometry.meet import meet
from sketcher.marking.center_evidence import CenterEvidence
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.wanted_centers import WantedCenter
from sketcher.quantity.format import length


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return bolt circles without a pitch circle, and grids of which no two holes are joined.

    Holes in a row that are no pattern of the paper may be joined or not. Holes without any line are
    the marks' rule's.
    """
    evidence = comparison.center_evidence
    if evidence.all_by_rule is not None:
        return evidence.all_by_rule
    mistakes = []
    for ring in evidence.wanted.pitches:
        if evidence.ring(ring) is None and _marked(evidence, ring.places) > 1:
            size = length(2.0 * ring.radius / evidence.view.factor, comparison.key.part.unit)
            mistakes.append(Mistake(
                evidence.back(ring.places[0].at), "none", f"a pitch circle Ø{size}",
                f"the {len(ring.places)} holes on Ø{size} are not joined by a pitch circle"))
    grids: dict[str, list[WantedCenter]] = defaultdict(list)
    for center in evidence.wanted.centers:
        if center.grid:
            grids[center.grid].append(center)
    for members in grids.values():
        pairs = list(_neighbors(evidence, members))
        if pairs and _marked(evidence, members) > 1 and not any(
                _joined(evidence, *pair) for pair in pairs):
            mistakes.append(Mistake(
                evidence.back(members[0].at), "none", "center lines along its rows",
                f"the {len(members)} holes of the pattern are not joined by center lines"))
    return tuple(sorted(mistakes, key=lambda each: each.at))


def _marked(evidence: CenterEvidence, places: Sequence[WantedCenter]) -> int:
    return sum(bool(evidence.through(each)) for each in places)


def _neighbors(
    evidence: CenterEvidence, members: Sequence[WantedCenter]
) -> Iterator[tuple[WantedCenter, WantedCenter]]:
    """Yield pairs of holes of a grid in one row or column that no outline parts."""
    outlines = [evidence.view.curve(each.curve) for each in evidence.comparison.features
                if not set(evidence.misplaced).issuperset(each.sources)]
    for a, b in combinations(members, 2):
        between = Line(a.at, b.at)
        ux, uy = between.direction
        if dist(a.at, b.at) > 0.0 and any(
                abs(ux * run.carrier.heading(s)[1] - uy * run.carrier.heading(s)[0]) < 0.01
                for run, s, _ in evidence.through(a)) and not any(
                    meet(between, curve) for curve in outlines
                    if curve not in a.rounds and curve not in b.rounds):
            yield a, b


def _joined(evidence: CenterEvidence, one: WantedCenter, other: WantedCenter) -> bool:
    runs = {id(run) for run, *_ in evidence.through(one)}
    return any(id(run) in runs for run, *_ in evidence.through(other))


RULE = MarkingRule("pattern-not-joined", "holes of a pattern not joined by a center line", 2.0, 2.0,
                   "center lines", decide, rank=5)
