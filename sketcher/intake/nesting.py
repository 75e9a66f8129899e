"""Step 6: contours nested into parts."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sketcher.geometry.bounds import bounds_of, size_of, tolerance
from sketcher.geometry.chain import nodes
from sketcher.geometry.cluster import components
from sketcher.geometry.curve_table import pairs
from sketcher.geometry.curves import XY
from sketcher.geometry.evaluate import midpoint, start_of
from sketcher.geometry.loops import Loop, Loops, find_loops
from sketcher.geometry.winding import Rises
from sketcher.intake.linework import Fault, Linework, Shape, TakenCurve
from sketcher.intake.outline_faults import met_wrongly, open_places
from sketcher.intake.stray_chains import stray_chains
from sketcher.intake.wishes import Wishes

NEAR = 0.1
"""Pieces of open outline that are nearer than this part of all of them are taken for one outline
(common practice, no source)."""


def shapes(lines: Linework, wishes: Wishes) -> tuple[Shape, ...]:
    """Return the parts of a drawing by falling area of their outsides.

    A contour in a hole of another part is a part of its own. Curves in no contour go with the part
    that they hang on or lie on; those that lie on none are parts of their own, behind the others.
    """
    curves = lines.curves
    found = find_loops([(str(n), each.curve) for n, each in enumerate(curves)])
    outside_of = {n: _outside(found.loops, n) for n in range(len(found.loops))}
    chains: dict[int, list[int]] = {n: [n] for n, outside in outside_of.items() if n == outside}
    for n, outside in outside_of.items():
        if n != outside:
            chains[outside].append(n)
    outsides = sorted(chains, key=lambda n: (-found.loops[n].area,
                                             start_of(found.loops[n].curves[0])))
    strays = sorted(int(name) for name in (*found.strays, *found.specks))
    home, apart = _homes(curves, found, outsides, outside_of, strays)
    faults = (*met_wrongly(curves, found), *open_places(curves, strays, lines.unit))
    made: list[Shape] = []
    hung: dict[int, list[TakenCurve]] = {}
    for k, place in home.items():
        hung.setdefault(place, []).append(curves[k])
    for place, outside in enumerate(outsides):
        loops = tuple(_taken(curves, found.loops[n]) for n in chains[outside])
        made.append(_shape(lines, loops, tuple(hung.get(place, ())), faults))
    for group in apart:
        made.append(_shape(lines, (), tuple(curves[k] for k in group), faults))
    return tuple(made)


def _outside(loops: Sequence[Loop], n: int) -> int:
    """The contour that a loop is a hole of, or the loop itself."""
    if not loops[n].hole:
        return n
    parent = loops[n].parent
    # Where outlines cross, the count of what is around and the next around need not agree.
    while parent is not None and loops[parent].hole:
        parent = loops[parent].parent
    return n if parent is None else parent


def _taken(curves: Sequence[TakenCurve], loop: Loop) -> tuple[TakenCurve, ...]:
    return tuple(TakenCurve(curve, curves[int(name)].entities)
                 for name, curve in zip(loop.ids, loop.curves, strict=True))


def _shape(
    lines: Linework, loops: tuple[tuple[TakenCurve, ...], ...], strays: tuple[TakenCurve, ...],
    faults: tuple[Fault, ...],
) -> Shape:
    own = {entity for each in (*strays, *(c for loop in loops for c in loop))
           for entity in each.entities}
    return Shape(loops, strays, lines.unit, lines.quantum, lines.noise,
                 tuple(each for each in lines.repairs if own.intersection(each.entities)),
                 tuple(each for each in faults if own.intersection(each.entities)))


def _homes(
    curves: Sequence[TakenCurve], found: Loops, outsides: Sequence[int],
    outside_of: dict[int, int], strays: Sequence[int],
) -> tuple[dict[int, int], list[list[int]]]:
    """Return the part of each stray as a place in `outsides`, and those on none in groups."""
    place = {n: k for k, n in enumerate(outsides)}
    owner = {int(name): place[outside_of[n]] for n, loop in enumerate(found.loops)
             for name in loop.ids}
    on = dict(zip(strays, _lie_on([midpoint(curves[k].curve) for k in strays],
                                  [found.loops[n] for n in outsides]), strict=True))
    home: dict[int, int] = {}
    apart: list[list[int]] = []
    plain = [each.curve for each in curves]
    for chain, touched in stray_chains(nodes(plain, tolerance(plain)), strays):
        known = [owner[k] for k in touched] or [on[k] for k in chain if on[k] >= 0]
        if known:
            # By falling area: the last is the smallest that it lies on.
            home.update(dict.fromkeys(chain, max(known)))
        else:
            apart.append(chain)
    return home, _beside(curves, apart)


def _lie_on(places: Sequence[XY], outsides: Sequence[Loop]) -> list[int]:
    """Return for each place the smallest outside around it, as its number, or -1."""
    rises = Rises([curve for loop in outsides for curve in loop.curves])
    owner = np.repeat(np.arange(len(outsides)), [len(loop.curves) for loop in outsides])
    at, piece = rises.crossed_by(np.array(places, dtype=float).reshape(len(places), 2))
    pair, times = np.unique(at * max(1, len(outsides)) + owner[rises.owner[piece]],
                            return_counts=True)
    found = [-1] * len(places)
    for which, loop in zip(*np.divmod(pair[times % 2 == 1], max(1, len(outsides))), strict=True):
        found[int(which)] = max(found[int(which)], int(loop))
    return found


def _beside(curves: Sequence[TakenCurve], chains: list[list[int]]) -> list[list[int]]:
    """Put chains together whose boxes come near each other: the pieces of one open outline."""
    if not chains:
        return []
    boxes = np.array([bounds_of(curves[k].curve for k in chain) for chain in chains])
    reach = NEAR * size_of(curves[k].curve for chain in chains for k in chain)
    label = components(len(chains), *pairs(boxes, reach))
    groups: dict[int, list[int]] = {}
    for chain, first in zip(chains, label.tolist(), strict=True):
        groups.setdefault(first, []).extend(chain)
    return sorted(groups.values(), key=lambda group: -size_of(curves[k].curve for k in group))
