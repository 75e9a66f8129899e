"""What of a part file can still move: one mistake for what moves together.

What is loose for want of a tangency alone costs that only (`tangency-unbound`).
"""

from __future__ import annotations

import numpy as np

from sketcher.geometry.cluster import components, groups_of
from sketcher.geometry.curves import XY
from sketcher.marking.comparison import Comparison
from sketcher.marking.handed_words import HandedWords
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_PART_FILE
from sketcher.marking.unbound_tangencies import unbound_tangencies, with_tangencies
from sketcher.part.value import CircleCurve, Part


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the groups of points and rounds that are loose."""
    part, report = comparison.hand_in.part, comparison.hand_in.report
    if part is None or report is None:
        return NO_PART_FILE
    found = []
    words = HandedWords(comparison, part)
    loose = [each.point for each in report.loose]
    for group in _groups(part, _by_itself(part, loose, comparison.within_angle)):
        places = [comparison.laid_point(_place(part, name)) for name in group]
        at = (sum(x for x, _ in places) / len(places), sum(y for _, y in places) / len(places))
        found.append(Mistake(at, "loose", "bound", words.loose(group), (), len(group)))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


def _by_itself(part: Part, loose: list[str], within: float) -> list[str]:
    """Return what would be loose even with its tangent edges bound so: those are another rule's."""
    unbound = unbound_tangencies(part, within) if loose else []
    if not unbound:
        return loose
    from sketcher.solve.freedom import freedoms
    from sketcher.solve.system import System

    system = System(with_tangencies(part, unbound))
    left = {each.point for each in freedoms(system, system.x0).loose}
    return [name for name in loose if name in left]


def _place(part: Part, name: str) -> XY:
    curve = part.curves.get(name)
    return part.points[curve.center] if isinstance(curve, CircleCurve) else part.points[name]


def _groups(part: Part, loose: list[str]) -> list[list[str]]:
    """Part loose points and circles into those that curves and driving bindings tie together."""
    each = {name: (name, *curve.points) for name, curve in part.curves.items()}
    tied = [*each.values(), *([at for of in binding.of for at in each.get(of, (of,))]
                              for binding in part.bindings.values() if binding.drives)]
    number = {name: k for k, name in enumerate(loose)}
    ties = [(mine[0], other) for names in tied
            if (mine := [number[name] for name in names if name in number]) for other in mine[1:]]
    label = components(len(loose), *np.array(ties, int).reshape(-1, 2).T)
    return [[loose[k] for k in group] for group in groups_of(label)]


RULE = MarkingRule("loose", "what can still move", 3.0, 9.0, "part file", decide, rank=0)
