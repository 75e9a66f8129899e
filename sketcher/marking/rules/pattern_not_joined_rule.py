"""The holes of a bolt circle without the pitch circle that joins them."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.marking.center_evidence import CenterEvidence
from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.wanted_centers import WantedCenter
from sketcher.quantity.format import length


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return bolt circles without a pitch circle.

    Rows and grids may be joined by lines or marked hole by hole: both are lawful. Holes without any
    line are the marks' rule's.
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
    return tuple(sorted(mistakes, key=lambda each: each.at))


def _marked(evidence: CenterEvidence, places: Sequence[WantedCenter]) -> int:
    return sum(bool(evidence.through(each)) for each in places)


RULE = MarkingRule("pattern-not-joined", "holes of a bolt circle not joined by a pitch circle",
                   2.0, 2.0, "center lines", decide, rank=5)
