"""What the kerf does to a contour, and what it refuses. Sizes by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from sketcher.errors import ExportError
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.moments import signed_area
from sketcher.shop.cut_plan import CutContour
from sketcher.shop.kerf import offset_by_kerf

Places = list[tuple[float, float]]
SQUARE: Places = [(0, 0), (0, 10), (10, 10), (10, 0)]  # clockwise: an outside contour as it is cut


def contour(places: Places, hole: bool = False) -> CutContour:
    lines = tuple(Line(a, b) for a, b in pairwise([*places, places[0]]))
    return CutContour(tuple(f"e{k}" for k in range(len(lines))), lines, hole, int(hole))


def circle(radius: float, hole: bool, name: str = "h1") -> CutContour:
    return CutContour((name,), (Circle((3.0, 4.0), radius),), hole, int(hole))


def test_an_outside_grows_and_goes_round_its_corners() -> None:
    (way,), told = offset_by_kerf([contour(SQUARE)], 2.0, "mm")
    # Steiner: area + perimeter d + pi d^2, clockwise
    assert signed_area(way.curves) == pytest.approx(-(100.0 + 40.0 + math.pi), rel=1e-12)
    arcs = [curve for curve in way.curves if isinstance(curve, Arc)]
    assert sorted(arc.center for arc in arcs) == sorted(SQUARE)
    assert {round(arc.radius, 12) for arc in arcs} == {1.0}
    assert len(way.ids) == len(way.curves) == 8
    assert set(way.ids) == {"e0", "e1", "e2", "e3"}
    assert told == ("offset for a kerf of 2 mm: outside contours grow and inside ones shrink by "
                    "1 mm all round",)


def test_an_inside_shrinks_and_what_its_corners_keep_is_told() -> None:
    (way,), told = offset_by_kerf([contour(SQUARE[::-1], hole=True)], 2.0, "mm")
    assert signed_area(way.curves) == pytest.approx(64.0, rel=1e-12)
    # (sqrt 2 - 1) times half of the kerf
    assert told[1:] == ("e0, e1, e2 and e3: inside corners come out round with 1 mm, half of the "
                        "kerf; up to 0.4142 mm is left in them",)


def test_corners_of_many_holes_are_told_in_one_line() -> None:
    holes = [replace(contour([(x + 20.0 * k, y) for x, y in SQUARE[::-1]], hole=True),
                     ids=tuple(f"w{k}{letter}" for letter in "abcd")) for k in range(30)]
    _, told = offset_by_kerf(holes, 2.0, "mm")
    assert len(told) == 2
    assert told[1].startswith("w0a, w0b, w0c, w0d, w1a, w1b and 114 more: inside corners")


@pytest.mark.parametrize(("hole", "radius"), [(True, 4.25), (False, 5.75)])
def test_round_contours_stay_circles(hole: bool, radius: float) -> None:
    (way,), told = offset_by_kerf([circle(5.0, hole)], 1.5, "mm")
    assert way.curves == (Circle((3.0, 4.0), radius),)
    assert len(told) == 1


@pytest.mark.parametrize("round_ends", [False, True])
def test_a_slot_just_as_wide_as_the_kerf_is_refused(round_ends: bool) -> None:
    wide: Places = [(20.0, 20.0), (40.0, 20.0), (40.0, 21.5), (20.0, 21.5)]
    slot = contour(wide, hole=True)
    if round_ends:
        ends = [Arc((x, 20.75), *at) for x, at in ((40.0, wide[1:3]), (20.0, (wide[3], wide[0])))]
        slot = replace(slot, curves=(slot.curves[0], ends[0], slot.curves[2], ends[1]))
    with pytest.raises(ExportError, match="no wider than the kerf and vanishes"):
        offset_by_kerf([slot], 1.5, "mm")
    (way,), _ = offset_by_kerf([slot], 1.49, "mm")
    assert 0.0 < signed_area(way.curves) < 0.3


def test_without_a_kerf_nothing_changes() -> None:
    both = (contour(SQUARE), circle(2.0, True))
    assert offset_by_kerf(both, 0.0, "mm") == (both, ())


@pytest.mark.parametrize("kerf", [-0.1, math.inf, math.nan])
def test_what_is_no_width_is_refused(kerf: float) -> None:
    with pytest.raises(ExportError, match=r"^kerf: .* give a length above zero"):
        offset_by_kerf([contour(SQUARE)], kerf, "mm")


def test_holes_that_vanish_are_named_with_the_kerf_that_goes() -> None:
    holes = [circle(0.6, True, "h1"), circle(4.0, True, "h2"), circle(0.5, True, "h3")]
    with pytest.raises(ExportError) as told:
        offset_by_kerf(holes, 1.5, "mm")
    assert told.value.place == "h1"
    assert told.value.problem == ("cannot be cut with a kerf of 1.5 mm: is no wider than the kerf "
                                  "and vanishes; so it is with h3")
    assert told.value.remedy.startswith("a kerf below 1 mm would go")  # the narrower one's diameter


def test_a_hole_with_a_waist_falls_into_two() -> None:
    waist: Places = [(0, 0), (8, 0), (8, 3), (12, 3), (12, 0), (20, 0), (20, 8), (12, 8), (12, 4),
                     (8, 4), (8, 8), (0, 8)]
    with pytest.raises(ExportError, match=r"falls into 2.* a kerf below 1 mm would go"):
        offset_by_kerf([contour(waist, hole=True)], 1.5, "mm")
    offset_by_kerf([contour(waist, hole=True)], 0.99, "mm")


def test_a_pocket_behind_a_narrow_mouth_is_closed_by_the_kerf() -> None:
    pocket: Places = [(0, 0), (0, 20), (9.5, 20), (9.5, 16), (5, 16), (5, 8), (15, 8), (15, 16),
                      (10.5, 16), (10.5, 20), (20, 20), (20, 0)]
    with pytest.raises(ExportError, match="has a slot that the kerf closes"):
        offset_by_kerf([contour(pocket)], 1.5, "mm")


def test_an_open_slot_as_narrow_as_the_kerf_is_not_lost_unsaid() -> None:
    """Its way stays one run: only the slot is gone from it."""
    slot: Places = [(0, 0), (0, 20), (9.5, 20), (9.5, 8), (10.5, 8), (10.5, 20), (20, 20),
                    (20, 0)]
    with pytest.raises(ExportError, match=r"^e2, e3 and e4: .*slot or a notch narrower"):
        offset_by_kerf([contour(slot)], 1.2, "mm")
    offset_by_kerf([contour(slot)], 0.8, "mm")


def test_a_fillet_tighter_than_half_of_the_kerf_is_told_and_goes() -> None:
    # a square hole of 10 with fillets of 0.5 in its corners, counter-clockwise
    lines = [Line((0.5, 0), (9.5, 0)), Line((10, 0.5), (10, 9.5)), Line((9.5, 10), (0.5, 10)),
             Line((0, 9.5), (0, 0.5))]
    centers = [(9.5, 0.5), (9.5, 9.5), (0.5, 9.5), (0.5, 0.5)]
    curves = [curve for k in range(4) for curve in (
        lines[k], Arc(centers[k], lines[k].end, lines[(k + 1) % 4].start))]
    hole = CutContour(tuple("abcdefgh"), tuple(curves), True, 1)
    (way,), told = offset_by_kerf([hole], 1.5, "mm")
    assert signed_area(way.curves) == pytest.approx(8.5**2, rel=1e-12)
    # the middle of a fillet r is (sqrt 2 - 1)(R - r) off the round R that is left in its place
    assert "0.75 mm" in told[1]
    assert f"up to {round((math.sqrt(2.0) - 1.0) * 0.25, 4)} mm" in told[1]
    (way,), told = offset_by_kerf([hole], 0.9, "mm")
    assert signed_area(way.curves) == pytest.approx(9.1**2 - (4.0 - math.pi) * 0.05**2, rel=1e-12)
    assert len(told) == 1
