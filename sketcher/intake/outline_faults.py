"""What keeps the outlines of a drawing from being sound, told with place and width."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import dist

import numpy as np

from sketcher.geometry.bounds import tolerance
from sketcher.geometry.chain import nodes
from sketcher.geometry.curves import XY
from sketcher.geometry.evaluate import midpoint
from sketcher.geometry.loops import Loops
from sketcher.intake.linework import Fault, TakenCurve
from sketcher.intake.stray_chains import stray_chains
from sketcher.part.value import Unit

WORDS = {"crossing": "outlines cross", "touch": "outlines touch each other",
         "end": "a curve ends on another between that one's ends"}


def met_wrongly(curves: Sequence[TakenCurve], found: Loops) -> Iterator[Fault]:
    """Yield where curves meet other than end to end, and where contours share a corner."""
    in_loop = {name: n for n, loop in enumerate(found.loops) for name in loop.ids}
    for crossing in found.crossings:
        kind = "touch" if crossing.kind != "crossing" else "crossing"
        yield Fault(kind, crossing.point, 0.0, _entities(curves, crossing.a, crossing.b),
                    WORDS[crossing.kind])
    for overlap in found.overlaps:
        yield Fault("overlap", midpoint(overlap.pieces[0]),
                    sum(piece.length for piece in overlap.pieces),
                    _entities(curves, overlap.a, overlap.b), "two curves lie on each other")
    for branch in found.branches:
        if len({in_loop[name] for name in branch.ids if name in in_loop}) > 1:
            yield Fault("touch", branch.point, 0.0, _entities(curves, *branch.ids),
                        "outlines touch each other at a corner")
    if found.more:
        yield Fault("crossing", found.crossings[0].point if found.crossings else (0.0, 0.0), 0.0,
                    tuple(sorted({e for each in curves for e in each.entities})),
                    "there are more crossings than are told")


def open_places(
    curves: Sequence[TakenCurve], strays: Sequence[int], unit: Unit
) -> Iterator[Fault]:
    """Yield the ends of strays that meet nothing, each with the end that is nearest to it.

    Parameters
    ----------
    curves : sequence of TakenCurve
        All of the drawing.
    strays : sequence of int
        Those in no contour.
    unit : Unit
        Of the curves.
    """
    plain = [each.curve for each in curves]
    net = nodes(plain, tolerance(plain))
    among = set(strays)
    loose = [(net.points[node], at[0]) for node, at in enumerate(net.at)
             if len(at) == 1 and at[0] in among]
    partner = _nearest([at for at, _ in loose])
    ends_open = {k for _, k in loose}
    for n, (at, k) in enumerate(loose):
        other = partner[n]
        if other is None:
            yield Fault("open", at, 0.0, curves[k].entities, "an end that meets nothing")
            continue
        if partner[other] == n and other < n:
            continue  # told from the other side
        there, j = loose[other]
        wide = dist(at, there)
        entities = tuple(sorted({*curves[k].entities, *curves[j].entities}))
        middle = (0.5 * (at[0] + there[0]), 0.5 * (at[1] + there[1]))
        if partner[other] == n and j != k:
            yield Fault("open", middle, wide, entities, f"open by {wide:.6g} {unit}")
        elif partner[other] == n:
            yield Fault("open", at, wide, entities,
                        f"both ends of one curve meet nothing, {wide:.6g} {unit} apart")
        else:
            yield Fault("open", at, wide, entities,
                        f"an end that meets nothing; {wide:.6g} {unit} to the nearest")
    for chain, _ in stray_chains(net, strays):
        if not ends_open.intersection(chain):
            k = chain[0]
            yield Fault("stray", midpoint(plain[k]), 0.0, curves[k].entities,
                        "a curve in no contour, between curves of one")


def _entities(curves: Sequence[TakenCurve], *names: str) -> tuple[int, ...]:
    return tuple(sorted({entity for name in names for entity in curves[int(name)].entities}))


def _nearest(places: Sequence[XY]) -> list[int | None]:
    """For each place the number of the nearest other one; None where it is alone."""
    from shapely import STRtree, points

    if len(places) < 2:
        return [None] * len(places)
    dots = points(np.array(places, dtype=float))
    # No two are the same: ends in one place are no open ends.
    own, other = STRtree(dots).query_nearest(dots, exclusive=True, all_matches=False)
    found: list[int | None] = [None] * len(places)
    for n, m in zip(own.tolist(), other.tolist(), strict=True):
        found[n] = m
    return found
