"""Which curves of a part make a slot: two sides and two rounded ends."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

import numpy as np

from sketcher.part.operand_forms import radius_of
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part

ALIKE = 1e-6  # of a radius: both ends of a slot are of one size


def slots_of(part: Part) -> Iterator[tuple[str, ...]]:
    """Yield the four curves of each slot in the order of its outline, a side first.

    Straight ones have two lines between two arcs, curved ones two arcs about one center between
    two smaller arcs.
    """
    at: dict[str, list[str]] = defaultdict(list)
    ends: dict[str, tuple[str, str]] = {}
    for name, curve in part.curves.items():
        if curve.role == "outline" and not isinstance(curve, CircleCurve):
            ends[name] = (curve.ends[0], curve.ends[1])
            for point in curve.ends:
                at[point].append(name)
    seen: set[str] = set()
    for start in ends:
        if start in seen:
            continue
        loop, point, name = [start], ends[start][1], start
        while len(loop) <= 4:
            following = [n for n in at[point] if n != name]
            if len(at[point]) != 2 or not following or following[0] == start:
                break
            name = following[0]
            loop.append(name)
            one, other = ends[name]
            point = other if one == point else one
        if len(loop) == 4 and point == ends[start][0] and not _all_within(part, loop):
            for turn in (loop, loop[1:] + loop[:1]):
                if _is_slot(part, turn):
                    seen.update(turn)
                    yield tuple(turn)
                    break


def _all_within(part: Part, loop: list[str]) -> bool:
    """Whether a loop is the plate's own outline: it reaches as far as everything else."""
    own, every = (np.array([part.points[p] for name in names for p in part.curves[name].points])
                  for names in (loop, [n for n, c in part.curves.items() if c.role == "outline"]))
    slack = 1e-6 * float(np.ptp(every, axis=0).max())
    return bool((own.min(axis=0) <= every.min(axis=0) + slack).all()
                and (own.max(axis=0) >= every.max(axis=0) - slack).all())


def _is_slot(part: Part, loop: list[str]) -> bool:
    sides = [part.curves[loop[0]], part.curves[loop[2]]]
    caps = [part.curves[loop[1]], part.curves[loop[3]]]
    if not all(isinstance(cap, ArcCurve) for cap in caps):
        return False
    sizes = [radius_of(part, loop[k]) for k in (1, 3)]
    if abs(sizes[0] - sizes[1]) > ALIKE * max(sizes):
        return False
    if all(isinstance(side, LineCurve) for side in sides):
        return True
    about = {side.center for side in sides if isinstance(side, ArcCurve)}
    return all(isinstance(side, ArcCurve) for side in sides) and len(about) == 1
