"""Which steps stand on which page: each page has a figure and what is told beside it.

Of all ways the one with the fewest pages, then with most pages ending where a stage does and the
fewest names in one figure.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sketcher.drafting.figures.step_lines import StepUnit

WITHIN_STAGE = 0.25
"""What it costs to turn the page within a stage, by one page (a guess)."""
READABLE, PER_NAME = 24, 0.03
"""Names beyond which a figure is hard to read, and what each further one costs, by trial on the
demo parts."""


def parted(
    units: Sequence[StepUnit], fits: Callable[[int, int], bool], names: Callable[[int, int], int]
) -> list[tuple[int, int]]:
    """Return the pages as ranges of units.

    Parameters
    ----------
    units : sequence of StepUnit
    fits : callable
        Whether a range of units fits on a page; one unit alone is taken in any case.
    names : callable
        How many names the figure of a range has.
    """
    count = len(units)
    best: list[tuple[float, int]] = [(0.0, count)] * (count + 1)
    for first in range(count - 1, -1, -1):
        ways = []
        for end in range(first + 1, count + 1):
            if end > first + 1 and not fits(first, end):
                break
            within = end < count and not units[end].opens
            cost = 1.0 + WITHIN_STAGE * within
            cost += PER_NAME * max(0, names(first, end) - READABLE)
            ways.append((cost + best[end][0], end))
        best[first] = min(ways, key=lambda way: (way[0], -way[1]))
    found, at = [], 0
    while at < count:
        found.append((at, best[at][1]))
        at = best[at][1]
    return found
