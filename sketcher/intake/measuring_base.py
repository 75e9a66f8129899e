"""From which edge distances count: the datum's, unless that one lies where nothing is round.

An edge that some slope or fold made stands at no figure, and from there all others would be odd,
however plainly they are spaced among themselves.
"""

from __future__ import annotations

from sketcher.intake.round_figures import round_figures
from sketcher.intake.sketch_datum import edges, ends_at, level, long, plumb
from sketcher.part.operand_forms import line_ends
from sketcher.part.value import Part

FEWEST = 5
"""Edges: of fewer it may be chance that another one is plainer."""
POOR, RICH = 0.25, 0.75
"""Shares of distances that are round, from the datum at most and from another edge at least."""
MOST = 40


def measuring_base(part: Part, datum: str, index: int, near: float, noise: float) -> str:
    """Return the point from which distances along x (index 0) or y (1) count.

    Parameters
    ----------
    part : Part
    datum : str
        Point that is held.
    index : int
    near : float
        Distance within which two edges are in line, the part's unit.
    noise : float
        How far an end may lie from where it was meant.
    """
    base = part.points[datum][index]
    straight = (plumb, level)[index]
    at: list[tuple[float, str]] = []
    for name in sorted(edges(part), key=lambda name: -long(part, name)):
        place = ends_at(part, name)[0][index]
        if straight(part, name, near) and all(abs(place - known) > near for known, _ in at):
            at.append((place, min(line_ends(part, name))))
    at = at[:MOST]

    def share(origin: float) -> float:
        away = [abs(place - origin) for place, _ in at if abs(place - origin) > near]
        met = sum(bool(round_figures(each, 2.0 * noise, "length", part.unit)) for each in away)
        return met / len(away)

    if len(at) < FEWEST or share(base) > POOR:
        return datum
    best = max(at, key=lambda one: share(one[0]))
    return best[1] if share(best[0]) >= RICH else datum
