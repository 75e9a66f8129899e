"""Damaged plates become what they were, up to the damage; measured by shapely."""

from __future__ import annotations

import random
from itertools import pairwise
from math import cos, dist, hypot, sin, tau

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, MultiLineString, Polygon, hausdorff_distance

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import piece, reversed_curve
from sketcher.intake.close import closed
from sketcher.intake.linework import Linework, Shape
from sketcher.intake.moved import largest_move
from sketcher.intake.nesting import shapes
from sketcher.intake.weed import weeded
from sketcher.intake.wishes import Wishes
from tests.chords import facet
from tests.drawn import drawn, lines_through, plain, shapes_of
from tests.seldom import examples

SEEDS = st.integers(0, 2**32 - 1)


def some_plate(pick: random.Random) -> list[Curve]:
    """Return a plate with rounded or sharp corners, a round hole, a slot and a square hole."""
    count = pick.randint(3, 7)
    corners = [((65 + 15 * pick.random()) * cos(a), (65 + 15 * pick.random()) * sin(a))
               for a in (tau * (k + 0.3 * pick.random()) / count for k in range(count))]
    curves = [*_rounded(corners, pick), Circle((-8.0, 1.0), pick.uniform(1, 2.5))]
    x, half = pick.uniform(0, 4), pick.uniform(0.6, 1.5)
    y = x + 5
    curves += [Line((x, half), (y, half)), Arc((y, 0), (y, half), (y, -half), False),
               Line((y, -half), (x, -half)), Arc((x, 0), (x, -half), (x, half), False)]
    return curves + lines_through((-3, -6), (1, -6), (1, -3), (-3, -3))


def _rounded(corners: list[XY], pick: random.Random) -> list[Curve]:
    """Polygon with some of its corners rounded, each by an arc tangent to both edges."""
    starts, ends, arcs = [], [], []
    for before, at, after in zip([corners[-1], *corners], corners, [*corners[1:], corners[0]],
                                 strict=False):
        (ux, uy), (vx, vy) = (((p[0] - at[0]) / dist(p, at), (p[1] - at[1]) / dist(p, at))
                              for p in (before, after))
        angle = np.arccos(np.clip(ux * vx + uy * vy, -1, 1))
        if pick.random() < 0.4 or angle > 2.7:
            ends.append(at)
            starts.append(at)
            continue
        radius = pick.uniform(1, 4) * np.tan(0.5 * angle)
        cut = float(radius / np.tan(0.5 * angle))
        p, q = (at[0] + cut * ux, at[1] + cut * uy), (at[0] + cut * vx, at[1] + cut * vy)
        far = radius / np.sin(0.5 * angle) / hypot(ux + vx, uy + vy)
        center = (float(at[0] + far * (ux + vx)), float(at[1] + far * (uy + vy)))
        arcs.append(Arc(center, p, q, ux * vy - uy * vx < 0.0))
        ends.append(p)
        starts.append(q)
    sides: list[Curve] = [Line(p, q) for p, q in zip(starts, [*ends[1:], ends[0]], strict=True)]
    return sides + list(arcs)


def in_pieces(curves: list[Curve], pick: random.Random) -> list[Curve]:
    """Split, double and overlap curves, turn and shuffle them, and add specks."""
    out: list[Curve] = []
    for curve in curves:
        what = pick.randrange(6)
        low, high = sorted(pick.uniform(0.1, 0.9) for _ in range(2))
        if what == 1 and high - low > 0.05:
            stops = [0.0, low, high, 1.0]
            out += [piece(curve, a, b) for a, b in pairwise(stops)]
        elif what == 2:
            out += [curve, curve]
        elif what == 3 and high - low > 0.05:
            out += [piece(curve, 0.0, high), piece(curve, low, 1.0)]
        elif what == 4 and high - low > 0.05:
            out += [curve, piece(curve, low, high)]
        else:
            out.append(curve)
        if pick.random() < 0.1 and isinstance(curve, Line):
            out.append(Line(curve.end, curve.end))
    out = [reversed_curve(curve) if pick.random() < 0.5 else curve for curve in out]
    return pick.sample(out, len(out))


def shaken(curves: list[Curve], by: float, pick: random.Random) -> list[Curve]:
    """Put each end up to `by` away from where it was, along the curve or aside."""
    def off(at: XY) -> XY:
        angle, far = pick.uniform(0, tau), by * pick.random()
        return (at[0] + far * cos(angle), at[1] + far * sin(angle))

    out: list[Curve] = []
    for curve in curves:
        if isinstance(curve, Circle):
            out.append(curve)
        elif isinstance(curve, Line):
            out.append(Line(off(curve.start), off(curve.end)))
        else:
            turn = by * pick.random() / curve.length
            out.append(piece(curve, turn, 1.0 - turn))
    return pick.sample(out, len(out))


def tidy(curves: list[Curve]) -> Linework:
    wishes = Wishes()
    return closed(weeded(drawn(*curves), wishes), wishes)


def chords(curves: list[Curve]) -> MultiLineString:
    return MultiLineString([LineString(facet(curve, 1e-4)) for curve in curves])


def area(shape: Shape) -> float:
    outside, *holes = ([p for each in loop for p in facet(each.curve, 1e-6)[:-1]]
                       for loop in shape.loops)
    return float(Polygon(outside, holes).area)


@examples(14, 40)
@given(SEEDS)
def test_pieces_doubles_and_overlaps_become_the_plate_again(seed: int) -> None:
    pick = random.Random(seed)
    plate = some_plate(pick)
    assert shapes_of(plain(tidy(plate))) == shapes_of(plate)
    lines = tidy(in_pieces(plate, pick))
    assert shapes_of(plain(lines)) == shapes_of(plate)
    (shape,) = shapes(lines, Wishes())
    assert (shape.strays, shape.faults) == ((), ())


@examples(14, 40)
@given(SEEDS, st.sampled_from([1e-4, 1e-3, 1e-2]))
def test_shaken_ends_meet_and_nothing_moves_further_than_told(seed: int, by: float) -> None:
    pick = random.Random(seed)
    plate = some_plate(pick)
    damaged = shaken(plate, by, pick)
    lines = tidy(damaged)
    (shape,) = shapes(lines, Wishes())
    (whole,) = shapes(drawn(*plate), Wishes())
    assert sorted(map(len, shape.loops)) == sorted(map(len, whole.loops))
    assert (shape.strays, shape.faults) == ((), ())
    told = largest_move(damaged, plain(lines))
    # Three gaps, each twice the shake, is where a crossing is still taken.
    assert told <= 6.0 * by
    measured = hausdorff_distance(chords(damaged), chords(plain(lines)), densify=0.2)
    assert measured <= told + 2e-4
    around = sum(curve.length for curve in plate)
    assert abs(area(shape) - area(whole)) <= around * (told + by) + 1e-4
    assert lines.noise <= 6.0 * by


@examples(14, 40)
@given(SEEDS, st.sampled_from([1e-4, 1e-3]))
def test_both_together(seed: int, by: float) -> None:
    """Pieces that lie on each other, each of them off by itself."""
    pick = random.Random(seed)
    plate = some_plate(pick)
    lines = tidy(shaken(in_pieces(plate, pick), by, pick))
    found = shapes(lines, Wishes())
    assert [(len(shape.loops), len(shape.strays)) for shape in found] == [(4, 0)]
    assert len(lines.curves) == len(plate)
    (whole,) = shapes(drawn(*plate), Wishes())
    around = sum(curve.length for curve in plate)
    assert abs(area(found[0]) - area(whole)) <= 6.0 * by * around
