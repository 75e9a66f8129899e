"""The kerf coupon: sound, of the sizes that it says, and its arithmetic by what is cut off.

The judge widens the coupon's nominal outline by shapely, as a torch of that kerf would burn it, and
measures what remains.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
import shapely

from sketcher.errors import EditError
from sketcher.inspect.stock import Process
from sketcher.part.value import Unit
from sketcher.shop.coupon import (
    MeasuredKerf,
    coupon_part,
    coupon_sizes,
    kerf_by,
    kerf_of_all,
)
from sketcher.shop.planning import plan_cut
from tests.chords import facet
from tests.inspected import inspected

KINDS: list[tuple[Process, Unit, float]] = [
    ("laser", "mm", 1.0), ("plasma", "mm", 3.0), ("plasma", "mm", 12.0), ("laser", "in", 0.0625),
    ("plasma", "in", 0.5)]


def burnt(process: Process, unit: Unit, thickness: float, kerf: float) -> shapely.Polygon:
    """What is left of the coupon when a torch of a kerf runs on its lines; must be one piece."""
    inspection = inspected(coupon_part(coupon_sizes(process, unit, thickness)))
    assert inspection.sound
    plate = shapely.Polygon()
    for path in sorted(plan_cut(inspection).paths, key=lambda one: one.contour.hole):
        places = [at for curve in path.contour.curves for at in facet(curve, 1e-6)[:-1]]
        shape = shapely.Polygon(places)
        plate = plate.difference(shape) if path.contour.hole else plate.union(shape)
    left = plate.buffer(-0.5 * kerf, join_style="mitre", quad_segs=256)
    assert isinstance(left, shapely.Polygon)
    return left


@pytest.mark.parametrize(("process", "unit", "thickness"), KINDS)
def test_each_reading_tells_the_kerf_it_was_cut_with(
    process: Process, unit: Unit, thickness: float
) -> None:
    sizes = coupon_sizes(process, unit, thickness)
    kerf = 1.07 * sizes.kerfs[3]
    left = burnt(process, unit, thickness, kerf)
    x0, y0, x1, y1 = left.bounds
    holes = sorted(left.interiors, key=lambda ring: ring.centroid.x)
    across = [ring.bounds[2] - ring.bounds[0] for ring in holes]
    line = shapely.LineString([(x0, y0 + sizes.depth / 2.0), (x1, y0 + sizes.depth / 2.0)])
    teeth = sorted(shapely.get_parts(left.intersection(line)), key=lambda part: part.bounds[0])
    open_slots = [b.bounds[0] - a.bounds[2] for a, b in pairwise(teeth)]
    assert len(open_slots) == len(sizes.slots)
    goes_in = sum(width >= sizes.gauge for width in open_slots)
    by_caliper = [kerf_by(sizes, "width", x1 - x0), kerf_by(sizes, "height", y1 - y0),
                  kerf_by(sizes, "hole1", across[0]), kerf_by(sizes, "hole2", across[1])]
    for one in by_caliper:
        # shapely's buffer takes up to a hundredth of its distance off rounds
        assert one.least == one.most == pytest.approx(kerf, rel=0.01)
    by_slot = kerf_by(sizes, "slot", goes_in)
    assert by_slot.least <= kerf < by_slot.most
    assert kerf_of_all([*by_caliper, by_slot])[0] == pytest.approx(kerf, rel=0.01)


def test_the_slots_lie_between_the_teeth_and_clear_of_the_holes() -> None:
    for process, unit, thickness in KINDS:
        sizes = coupon_sizes(process, unit, thickness)
        assert min(sizes.slots) >= thickness * (1.5 if process == "plasma" else 1.0) - 1e-9
        assert min(sizes.holes) >= 2.0 * thickness
        assert burnt(process, unit, thickness, sizes.kerfs[-1]).area > 0.25 * sizes.side**2


def test_the_gauge_that_was_measured_counts() -> None:
    sizes = coupon_sizes("plasma", "mm", 3.0)
    assert sizes.slots[2] == 6.6
    found = kerf_by(sizes, "slot", 3, 7.9)
    assert (found.least, found.most) == pytest.approx((1.3, 1.7))
    none, last = kerf_by(sizes, "slot", 0), kerf_by(sizes, "slot", 7)
    assert (none.least, none.most) == pytest.approx((0.0, 0.6))
    assert (last.least, last.most) == pytest.approx((3.0, 3.4))


def test_the_mean_and_how_far_readings_lie_apart() -> None:
    readings = [MeasuredKerf("width", 1.4, 1.4), MeasuredKerf("hole1", 1.6, 1.6),
                MeasuredKerf("slot", 1.0, 1.4)]
    assert kerf_of_all(readings) == pytest.approx((1.5, 0.1))
    assert kerf_of_all(readings[2:]) == pytest.approx((1.2, 0.2))


@pytest.mark.parametrize(("reading", "value", "told"), [
    ("width", 120.0, "tells of no kerf: 120 mm nominal comes out smaller"),
    ("hole1", 20.9, "tells of no kerf: 21 mm nominal comes out larger"),
    ("slot", 8.0, "is none of them"), ("slot", 1.5, "is none of them")])
def test_readings_that_tell_nothing_are_refused(reading: str, value: float, told: str) -> None:
    with pytest.raises(EditError, match=told):
        kerf_by(coupon_sizes("plasma", "mm", 3.0), reading, value)  # type: ignore[arg-type]


def test_a_gauge_narrower_than_the_slots_and_no_thickness_are_refused() -> None:
    with pytest.raises(EditError, match="none for slots as wide"):
        kerf_by(coupon_sizes("plasma", "mm", 3.0), "slot", 1, 5.0)
    with pytest.raises(EditError, match="thickness: 0 is not above zero"):
        coupon_sizes("laser", "mm", 0.0)
