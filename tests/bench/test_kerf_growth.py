"""Cost of the kerf grows with the contour: four times the teeth of a wheel, in one run.

Run apart: ``pytest -s tests/bench/test_kerf_growth.py``; it prints the ratio. Process time counts,
so that other programs do not. In proportion it is 4, with the square of the teeth it was 18.
"""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, sin
from time import process_time

from sketcher.geometry.curves import Line
from sketcher.shop.cut_plan import CutContour
from sketcher.shop.kerf import offset_by_kerf
from sketcher.shop.needless_vertices import without_needless_vertices

FEW, MANY = 100, 400
MOST = 8.0


def wheel(teeth: int) -> CutContour:
    """An outside contour of straight teeth, clockwise as it is cut, each edge in two pieces."""
    radius, places = 3.2 * teeth, []
    for tooth in range(teeth):
        for share, depth in ((0.0, 0.0), (0.25, 0.0), (0.5, 4.0), (0.75, 4.0)):
            angle = -2.0 * pi * (tooth + share) / teeth
            places.append(((radius - depth) * cos(angle), (radius - depth) * sin(angle)))
    halved = [at for a, b in pairwise((*places, places[0]))
              for at in (a, (0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])))]
    lines = tuple(Line(a, b) for a, b in pairwise((*halved, halved[0])))
    return CutContour(tuple(map(str, range(len(lines)))), lines, False, 0)


def seconds(teeth: int) -> float:
    best = float("inf")
    for _ in range(3):
        contour = wheel(teeth)
        start = process_time()
        whole = without_needless_vertices(contour, 1e-6)
        (way,), _ = offset_by_kerf([whole], 0.5, "mm")
        best = min(best, process_time() - start)
        assert len(whole.curves) == 4 * teeth
        assert len(way.curves) == 6 * teeth  # an arc round each of the two outer corners
    return best


def test_four_times_the_teeth_take_no_more_than_their_share() -> None:
    seconds(10)
    few, many = seconds(FEW), seconds(MANY)
    print(f"\n{FEW} teeth {few:.3f} s, {MANY} teeth {many:.3f} s: {many / few:.1f} times")
    assert many <= MOST * few
