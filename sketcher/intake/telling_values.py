"""What tells the unit of a drawing: hole sizes, radii, lengths, places of straight edges."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sketcher.exchange.dxf_content import DxfContent
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.intake.last_decimal import last_decimal

MOST_VALUES = 400
"""Of each sort: more say nothing new."""


@dataclass(frozen=True, slots=True)
class TellingValues:
    """What is measured in a file, in its own numbers; each value once, rising.

    Parameters
    ----------
    holes, radii, lengths : tuple of float
        Diameters of circles; radii of arcs; lengths of lines, and how far plumb and level lines
        and hole centers lie from the first such line.
    extent : float
        The longer side of everything together; 0 of an empty drawing.
    quantum : float
        Last decimal of the coordinates; 0 when they are written out in full.
    """

    holes: tuple[float, ...] = ()
    radii: tuple[float, ...] = ()
    lengths: tuple[float, ...] = ()
    extent: float = 0.0
    quantum: float = 0.0

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.holes) + len(self.radii) + len(self.lengths)


def telling_values(content: DxfContent) -> TellingValues:
    """Measure what may tell a file's unit."""
    curves = [each.curve for each in content.curves]
    lines = [each for each in curves if isinstance(each, Line)]
    circles = [each for each in curves if isinstance(each, Circle)]
    arcs = [each for each in curves if isinstance(each, Arc)]
    ends = np.array([(*each.start, *each.end) for each in lines], dtype=float).reshape(-1, 4)
    centers = np.array([each.center for each in circles], dtype=float).reshape(-1, 2)
    places = np.vstack([
        ends[:, :2], ends[:, 2:],
        np.array([p for each in arcs for p in (each.start, each.end)],
                 dtype=float).reshape(-1, 2),
        *(centers + way * np.array([[each.radius] for each in circles], dtype=float).reshape(-1, 1)
          for way in (1.0, -1.0))])
    # The ends of arcs are computed from angles as often as they are written.
    written = np.vstack([ends[:, :2], ends[:, 2:], centers])
    if not len(places):
        return TellingValues()
    extent = float(np.ptp(places, axis=0).max())
    apart = max(1e-7 * extent, 1e-12)
    steps = ends[:, 2:] - ends[:, :2]
    lengths = [np.hypot(steps[:, 0], steps[:, 1])]
    for axis in (0, 1):
        straight = np.abs(steps[:, axis]) <= apart
        bases = np.unique(ends[straight, axis])
        if len(bases):
            lengths += [bases - bases[0], np.abs(centers[:, axis] - bases[0])]
    return TellingValues(
        _once((2.0 * each.radius for each in circles), apart),
        _once((each.radius for each in arcs), apart),
        _once(np.concatenate(lengths).tolist(), apart),
        extent, last_decimal(written.ravel() if len(written) else places.ravel()))


def _once(values: Iterable[float], apart: float) -> tuple[float, ...]:
    """Return the values that are told apart, rising, thinned to `MOST_VALUES`."""
    rising = sorted(value for value in values if value > 10.0 * apart)
    kept = rising[:1] + [after for before, after in pairwise(rising) if after - before > apart]
    step = -(-len(kept) // MOST_VALUES) or 1
    return tuple(kept[::step])
