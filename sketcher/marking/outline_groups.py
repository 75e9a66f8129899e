"""Which outline of a hand-in is the part: not the frame around it, nor another view beside it.

Curves that come near each other are a group; what lies within the box of a group goes with it,
unless it is a frame. The group that most of the key's features can be laid on is the part. What
else is drawn is set aside where it is a drawing of its own; what is not stays, for it may be stray.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sketcher.geometry.bounds import Box, bounds, box_within, boxes_meet
from sketcher.geometry.cluster import clusters, components, groups_of
from sketcher.geometry.curve_table import pairs
from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.marking.outline_features import Floats

NEAR = 0.01
"""Curves nearer than this part of the whole drawing are one group (common practice, no source)."""
LEAST = 3
"""A drawing of its own has as many curves."""
ALIKE = 0.02
"""Shares of the key's features that differ by less are equal: the greater group is taken."""
SQUARE = 1e-6


@dataclass(frozen=True, slots=True)
class OutlineGroup:
    """Curves that are near each other, with all that lies within.

    Parameters
    ----------
    numbers : tuple of int
        Of the curves, rising.
    box : (x0, y0, x1, y1)
    own : tuple of int
        Those of a frame itself; else all.
    """

    numbers: tuple[int, ...]
    box: Box
    own: tuple[int, ...]

    @property
    def area(self) -> float:
        """Of its box."""
        x0, y0, x1, y1 = self.box
        return (x1 - x0) * (y1 - y0)


def outline_groups(curves: Sequence[Curve]) -> tuple[OutlineGroup, ...]:
    """Return what may be the part, by falling area; one group where there is nothing to choose."""
    boxes = np.array([bounds(each) for each in curves])
    reach = NEAR * float((boxes[:, 2:].max(axis=0) - boxes[:, :2].min(axis=0)).max())
    near = groups_of(components(len(curves), *pairs(boxes, reach)))
    groups = sorted((_group(boxes, numbers) for numbers in near),
                    key=lambda each: (-each.area, each.numbers))
    return tuple(sorted(_candidates(curves, boxes, groups), key=lambda each: -each.area))


def the_part(
    curves: Sequence[Curve], features: int, share: Callable[[Sequence[Curve]], float]
) -> tuple[int, ...]:
    """Return the numbers of the curves that are to be compared, in order.

    Parameters
    ----------
    curves : sequence of Curve
    features : int
        Of the key.
    share : callable
        How much of the key some curves show, from 0 to 1.
    """
    groups = outline_groups(curves)
    if len(groups) < 2:
        return tuple(range(len(curves)))
    best, most = groups[0], -1.0
    for each in groups:
        # no more of the whole can be shared than the lesser of both has
        if 2.0 * len(each.numbers) / (len(each.numbers) + features) > most + ALIKE:
            found = share([curves[n] for n in each.numbers])
            if found > most + ALIKE:
                best, most = each, found
    inside = set(best.numbers)
    aside: set[int] = set()
    for each in groups:
        if inside < set(each.numbers):
            aside.update(each.own)
        elif _of_its_own(curves, each.numbers):
            aside.update(each.numbers)
    return tuple(n for n in range(len(curves)) if n in inside or n not in aside)


def _group(boxes: Floats, numbers: Sequence[int]) -> OutlineGroup:
    mine = boxes[list(numbers)]
    x0, y0 = mine[:, :2].min(axis=0).tolist()
    x1, y1 = mine[:, 2:].max(axis=0).tolist()
    rising = tuple(sorted(numbers))
    return OutlineGroup(rising, (x0, y0, x1, y1), rising)


def _candidates(
    curves: Sequence[Curve], boxes: Floats, groups: Sequence[OutlineGroup]
) -> list[OutlineGroup]:
    """Return groups that lie in no other, with what lies in them; of a frame both it and these."""
    found: list[OutlineGroup] = []
    left = list(groups)
    while left:
        outer, *left = left
        meets = [True]
        while any(meets):  # what lies across its box belongs to it, and makes the box greater
            frame = _frame(curves, outer)
            meets = [boxes_meet(outer.box, each.box)
                     and not (frame and box_within(each.box, outer.box)) for each in left]
            outer = _group(boxes, [*outer.numbers, *(
                n for each, met in zip(left, meets, strict=True) if met for n in each.numbers)])
            left = [each for each, met in zip(left, meets, strict=True) if not met]
        inner = [each for each in left if box_within(each.box, outer.box)]
        left = [each for each in left if not box_within(each.box, outer.box)]
        if inner:
            whole = _group(boxes, [*outer.numbers, *(n for each in inner for n in each.numbers)])
            found += [replace(whole, own=outer.numbers), *_candidates(curves, boxes, inner)]
        else:
            found.append(outer)
    return found


def _frame(curves: Sequence[Curve], group: OutlineGroup) -> bool:
    """Whether a group may be a frame with a title block."""
    return len(group.numbers) > LEAST and _level_and_plumb(curves, group.numbers)


def _level_and_plumb(curves: Sequence[Curve], numbers: Sequence[int]) -> bool:
    for n in numbers:
        curve = curves[n]
        if not isinstance(curve, Line):
            return False
        dx, dy = abs(curve.end[0] - curve.start[0]), abs(curve.end[1] - curve.start[1])
        if min(dx, dy) > SQUARE * max(dx, dy):
            return False
    return True


def _of_its_own(curves: Sequence[Curve], numbers: Sequence[int]) -> bool:
    """Whether curves are a drawing of their own: several, most of them in loops, or a table."""
    if len(numbers) < LEAST:
        return False
    if len(numbers) > LEAST and _level_and_plumb(curves, numbers):
        return True
    ends = np.array([at for n in numbers if not isinstance(curve := curves[n], Circle)
                     for at in (curve.start, curve.end)]).reshape(-1, 2)
    if not len(ends):
        return True
    size = float(np.ptp(ends, axis=0).max())
    label = clusters(ends, 2e-3 * size).reshape(-1, 2).tolist()
    met = Counter(node for pair in label for node in pair)
    return 2 * sum(min(met[a], met[b]) > 1 for a, b in label) >= len(label)
