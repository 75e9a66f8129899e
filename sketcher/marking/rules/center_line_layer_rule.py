"""Center lines that were drawn as outline: on its layer, unbroken, no thinner."""

from __future__ import annotations

from sketcher.geometry.evaluate import start_of
from sketcher.marking.comparison import Comparison
from sketcher.marking.hand_in import HandCurve
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided

THINNER = 0.8
"""A line of less than this share of the outline's width is seen to be no outline."""


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return one mistake for all center lines that cannot be told from the outline."""
    evidence = comparison.center_evidence
    if evidence.undecided is not None:
        return evidence.undecided
    layers, width = _outline_layers(comparison)
    taken = {comparison.outline[n].entity for n in evidence.misplaced}
    wrong = {entity for entity in taken if entity not in comparison.hand_in.entities}
    wrong |= {each.entity for each in comparison.hand_in.curves
              if (each.role == "center" or each.entity in taken)
              and _as_outline(comparison, each, layers, width)}
    places = [comparison.pose.point(start_of(each.curve)) for each in comparison.hand_in.curves
              if each.entity in wrong]
    if not places:
        return ()
    lines = "a center line is" if len(wrong) == 1 else f"{len(wrong)} strokes of center lines are"
    return (Mistake(min(places), next(iter(sorted(layers)), ""), "a layer of center lines",
                    f"{lines} drawn as outline, on its layer and unbroken",
                    tuple(sorted(wrong)), len(wrong)),)


def _outline_layers(comparison: Comparison) -> tuple[set[str], float | None]:
    """Return the layers of what matches the key, and the width of its lines where the file says."""
    entries = [comparison.hand_in.entities[entity]
               for _, n in comparison.matching.pairs
               for entity in comparison.entities_of(comparison.features[n])
               if entity in comparison.hand_in.entities]
    widths = [each.width for each in entries if each.width is not None]
    return {each.layer.lower() for each in entries}, min(widths, default=None)


def _as_outline(
    comparison: Comparison, each: HandCurve, layers: set[str], width: float | None
) -> bool:
    entry = comparison.hand_in.entities.get(each.entity)
    if entry is None or entry.layer.lower() not in layers or entry.dashes:
        return False
    return entry.width is None or width is None or entry.width >= THINNER * width


RULE = MarkingRule("center-line-layer", "center lines drawn as outline", 2.0, 2.0, "center lines",
                   decide, rank=1)
