"""Step 4: ends that nearly meet, meet."""

from __future__ import annotations

from dataclasses import replace
from math import dist

import numpy as np

from sketcher.geometry.curves import XY, Circle, Curve
from sketcher.geometry.evaluate import end_of, start_of
from sketcher.geometry.project import distance
from sketcher.intake.linework import Linework, Repair, TakenCurve, repair_name
from sketcher.intake.moved_ends import with_ends
from sketcher.intake.noise_floor import NoiseFloor, floor_of_ends
from sketcher.intake.weed import GAPS, one_place, tidied
from sketcher.intake.welds import End, Weld, find_welds
from sketcher.intake.wishes import Wishes
from sketcher.part.value import Unit

SHARE = 0.1
"""Of the shorter of the curves that end there: a gap wider than this may be an edge."""

ASKED_SHARE = 0.5
"""The same where a person gave the gap: a curve must keep its ends apart."""

MOST_ENDS = 0.9
"""The noise is what so many of the ends moved at most: not the mean, which one wide gap would pull
up, nor the median, which says nothing when only some ends are off."""


def closed(lines: Linework, wishes: Wishes) -> Linework:
    """Return the drawing with its small gaps closed.

    What is found to lie on each other, or to be one curve in pieces, only once its ends meet, is
    weeded again.
    """
    one = one_place(lines)
    gap = GAPS[lines.unit] if wishes.gap is None else wishes.gap
    share = SHARE if wishes.gap is None else ASKED_SHARE
    curves = [each.curve for each in lines.curves]
    places: dict[End, XY] = {}
    round_ones: dict[int, Circle] = {}
    told: list[tuple[Weld, Repair]] = []
    for weld in find_welds(curves, gap, share, one):
        entities = _entities(lines, weld)
        wide = weld.wide > one
        taken = not wide or wishes.makes("gap", repair_name("gap", entities))
        if taken:
            ring = _ring(curves, weld)
            if ring is not None:
                round_ones[ring] = Circle(curves[ring].center, curves[ring].radius)  # type: ignore[union-attr]
            else:
                places.update(dict.fromkeys(weld.ends, weld.at))
        if wide:
            told.append((weld, Repair("gap", weld.at, 0.0, entities, _text(weld, lines.unit),
                                      taken)))
    after = [round_ones.get(k) or _moved(curve, k, places) for k, curve in enumerate(curves)]
    repairs = [_pictured(weld, repair, curves, after) for weld, repair in told]
    welded = lines.repaired(
        (TakenCurve(new, each.entities) for new, each in zip(after, lines.curves, strict=True)),
        repairs)
    floor = max(lines.floor, _floor(lines, curves, places), key=lambda floor: floor.size)
    noise = max(lines.noise, 0.5 * lines.quantum, floor.size, _noise(curves, places))
    # Ends that are one place are so to the last bit now, and how far curves that are meant to be
    # one may leave each other is known; no further than what would have been closed as a gap.
    off = max(one, min(gap, 3.0 * noise))
    return replace(tidied(welded, wishes, one, off), noise=noise, floor=floor)


def _entities(lines: Linework, weld: Weld) -> tuple[int, ...]:
    return tuple(sorted({entity for k, _ in weld.ends for entity in lines.curves[k].entities}))


def _text(weld: Weld, unit: Unit) -> str:
    what = "the end runs past" if weld.overrun else "the ends are"
    return f"{what} {weld.wide:.3g} {unit}{'' if weld.overrun else ' apart'}; made to meet"


def _ring(curves: list[Curve], weld: Weld) -> int | None:
    """The arc whose own ends meet, if nothing else ends there."""
    owners = {k for k, _ in weld.ends}
    return owners.pop() if len(owners) == 1 and len(weld.ends) == 2 else None


def _moved(curve: Curve, k: int, places: dict[End, XY]) -> Curve:
    if isinstance(curve, Circle):
        return curve
    start, end = places.get((k, 0), curve.start), places.get((k, 1), curve.end)
    return curve if (start, end) == (curve.start, curve.end) else with_ends(curve, start, end)


def _pictured(weld: Weld, repair: Repair, curves: list[Curve], after: list[Curve]) -> Repair:
    """Say how far what met there was moved, with what it was and what it is."""
    owners = sorted({k for k, _ in weld.ends})
    if not repair.taken:
        size = max(dist(weld.at, _end(curves, end)) for end in weld.ends)
        return replace(repair, size=size, before=tuple(curves[k] for k in owners))
    size = max(max(distance(after[k], _end(curves, (k, side))),
                   dist(_end(curves, (k, side)), weld.at) if not isinstance(after[k], Circle)
                   else weld.wide)
               for k, side in weld.ends)
    return replace(repair, size=size, before=tuple(curves[k] for k in owners),
                   after=tuple(after[k] for k in owners))


def _end(curves: list[Curve], end: End) -> XY:
    return (end_of if end[1] else start_of)(curves[end[0]])


def _floor(lines: Linework, curves: list[Curve], places: dict[End, XY]) -> NoiseFloor:
    """What last digits tell: of a polyline its two ends count, as the others are written once."""
    moves = np.array([dist(_end(curves, end), at) for end, at in places.items()], dtype=float)
    entities = {each.entities for each in lines.curves if not isinstance(each.curve, Circle)}
    largest = max((abs(x) for curve in curves if not isinstance(curve, Circle)
                   for at in (curve.start, curve.end) for x in at), default=0.0)
    floor = floor_of_ends(moves, 2 * len(entities), largest)
    return floor if floor.size > 0.5 * lines.quantum else NoiseFloor()


def _noise(curves: list[Curve], places: dict[End, XY]) -> float:
    """How far ends lay from where they were meant: all of them, moved or not."""
    count = 2 * sum(not isinstance(curve, Circle) for curve in curves)
    if not count:
        return 0.0
    moves = np.zeros(count)
    moves[:len(places)] = [dist(_end(curves, end), at) for end, at in places.items()]
    return float(np.quantile(moves, MOST_ENDS))
