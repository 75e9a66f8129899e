"""General tolerances against ISO 2768-1:1989, tables 1 to 3, typed here cell by cell.

The cells were read from two textbook copies of the standard that agree; copies that shift the v row
or print the values of the older DIN 7168 for c exist and are wrong.
"""

from __future__ import annotations

from math import inf, sqrt

import pytest

from sketcher.errors import QuantityError
from sketcher.part.general_tolerances import general
from sketcher.part.limits import deviation, deviations_of, limits, stack
from sketcher.part.printed import printed
from sketcher.part.value import Binding, Drawing, LineCurve, Part, frozen

LINEAR_BOUNDS = [0.5, 3, 6, 30, 120, 400, 1000, 2000, 4000]
TABLE_1 = {
    "f": [0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, None],
    "m": [0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2],
    "c": [0.2, 0.3, 0.5, 0.8, 1.2, 2, 3, 4],
    "v": [None, 0.5, 1, 1.5, 2.5, 4, 6, 8],
}
RADIUS_BOUNDS = [0.5, 3, 6, inf]
TABLE_2 = {"f": [0.2, 0.5, 1], "m": [0.2, 0.5, 1], "c": [0.4, 1, 2], "v": [0.4, 1, 2]}
ANGLE_BOUNDS = [0, 10, 50, 120, 400, inf]
TABLE_3 = {  # minutes of arc
    "f": [60, 30, 20, 10, 5],
    "m": [60, 30, 20, 10, 5],
    "c": [90, 60, 30, 15, 10],
    "v": [180, 120, 60, 30, 20],
}


@pytest.mark.parametrize("grade", "fmcv")
@pytest.mark.parametrize(
    ("feature", "bounds", "table", "factor"),
    [("linear", LINEAR_BOUNDS, TABLE_1, 1.0), ("radius", RADIUS_BOUNDS, TABLE_2, 1.0),
     ("angle", ANGLE_BOUNDS, TABLE_3, 1 / 60)],
)
def test_every_cell_at_both_ends_of_its_range(grade, feature, bounds, table, factor) -> None:
    for low, high, cell in zip(bounds, bounds[1:], table[grade], strict=False):
        wanted = None if cell is None else pytest.approx(cell * factor)
        assert deviation(low * (1 + 1e-9) + 1e-9, grade, feature) == wanted
        assert deviation(min(high, 1e6), grade, feature) == wanted  # up to and including


def test_outside_the_table_there_is_no_general_tolerance() -> None:
    assert deviation(0.4999, "m") is None  # below 0.5 mm the deviation stands at the nominal size
    assert deviation(4000.1, "v") is None
    assert deviation(0.4, "f", "radius") is None


def plate(
    unit: str = "mm", tolerance: str = "", practice: str = "ISO", **bindings: Binding
) -> Part:
    points = {"p1": (0.0, 0.0), "p2": (30.0, 0.0), "p3": (30.0, 8.0)}
    curves = {"e1": LineCurve(("p1", "p2")), "e2": LineCurve(("p2", "p3"))}
    return Part(unit=unit, points=frozen(points), curves=frozen(curves),
                bindings=frozen(bindings), drawing=Drawing(practice, tolerance=tolerance))


def test_limits_take_the_own_tolerance_before_the_general_one() -> None:
    own = Binding("run", ("p1", "p2"), "30", tolerance=(0.1, -0.05))
    part = plate(own=own)
    assert limits(part, own) == pytest.approx((29.95, 30.1))
    assert limits(part, Binding("run", ("p1", "p2"), "30")) == pytest.approx((29.8, 30.2))
    assert limits(part, Binding("run", ("p1", "p2"), "30", drives=False)) is None
    assert limits(part, Binding("level", ("e1",))) is None
    assert limits(plate(tolerance="none"), Binding("run", ("p1", "p2"), "30")) is None


def test_angles_go_by_their_shorter_side() -> None:
    part = plate(tolerance="ISO 2768-c")
    square = Binding("angle", ("e1", "e2"), "90")
    assert limits(part, square) == pytest.approx((88.5, 91.5))  # shorter side 8 mm
    assert limits(part, Binding("angle", ("e1",), "0")) == pytest.approx((-1.0, 1.0))  # 30 mm


def test_an_inch_part_takes_the_class_by_its_size_in_millimetres() -> None:
    part = plate("in", "ISO 2768-m")
    low, high = limits(part, Binding("run", ("p1", "p2"), "1.000"))
    assert (high - low) / 2 * 25.4 == pytest.approx(0.2)  # 25.4 mm


@pytest.mark.parametrize(
    ("typed", "spread"), [("1.5", 0.01), ("1.50", 0.01), ("1.500", 0.005), ("1 1/2", 1 / 64),
                          ("1.0625+0.4375", 0.01), ("1.0625", 0.0005)],
)
def test_inch_places_by_the_printed_decimals(typed, spread) -> None:
    """Title block places: common practice, no source. 1.5 is printed 1.50."""
    part = plate("in", practice="ASME")
    found = deviations_of(part, Binding("run", ("p1", "p2"), typed))
    assert found == pytest.approx((spread, -spread))


def test_places_of_the_drawing_replace_the_usual_ones() -> None:
    part = plate("in", ".XX 0.03, fraction 1/32, angle 1")
    assert deviations_of(part, Binding("run", ("p1", "p2"), "1.50"))[0] == 0.03
    assert deviations_of(part, Binding("run", ("p1", "p2"), "1 1/2"))[0] == 1 / 32
    assert deviations_of(part, Binding("angle", ("e1",), "0"))[0] == 1.0
    assert limits(part, Binding("run", ("p1", "p2"), "1.500")) is None
    assert general(part).note == ".XX ±.03, fractions ±1/32, angles ±1°"
    assert general(plate()).note == "ISO 2768-m"


@pytest.mark.parametrize(
    ("practice", "unit", "note"),
    [("ISO", "mm", "ISO 2768-m"),
     ("ISO", "in", ".X ±.1, .XX ±.01, .XXX ±.005, .XXXX ±.0005, fractions ±1/64, angles ±0.5°"),
     ("ASME", "mm", "X ±0.5, X.X ±0.2, X.XX ±0.1, X.XXX ±0.05, angles ±0.5°"),
     ("ASME", "in", ".X ±.1, .XX ±.01, .XXX ±.005, .XXXX ±.0005, fractions ±1/64, angles ±0.5°")],
)
def test_each_standard_has_general_tolerances_of_its_own(practice, unit, note) -> None:
    """A class of the ISO standard, whose steps are in mm, else a block (common practice)."""
    assert general(plate(unit, practice=practice)).note == note


@pytest.mark.parametrize(("typed", "spread"), [("30", 0.5), ("30.0", 0.5), ("12.5", 0.2),
                                               ("12.25", 0.1), ("12.125", 0.05)])
def test_places_of_a_metric_block_are_in_millimetres(typed, spread) -> None:
    found = deviations_of(plate(practice="ASME"), Binding("run", ("p1", "p2"), typed))
    assert found == pytest.approx((spread, -spread))
    own = plate(tolerance="X 0.4, X.X 0.3, .XX 0.15")
    assert deviations_of(own, Binding("run", ("p1", "p2"), "12.25"))[0] == 0.15
    assert general(own).note == "X ±0.4, X.X ±0.3, X.XX ±0.15"


def test_a_fraction_is_printed_only_where_fractions_have_a_tolerance() -> None:
    """Beside a tolerance by decimals it is a decimal (common practice, no source)."""
    typed = Binding("run", ("p1", "p2"), "1 1/2")
    assert printed(plate("in", practice="ASME"), typed).text == "1 1/2"
    assert printed(plate("in", ".XX 0.03, .XXX 0.01", practice="ASME"), typed).text == "1.50"
    assert printed(plate("in"), typed).text == "1 1/2"  # a class does not go by decimals
    own = Binding("run", ("p1", "p2"), "1 1/2", tolerance=(0.005, -0.005))
    assert printed(plate("in", practice="ASME"), own).text == "1.50"


@pytest.mark.parametrize("text", ["ISO 2768-x", ".XXXXX 1", ".XX", ".XX -1", ".XX 1/0", "fine"])
def test_an_unreadable_tolerance_is_one_clear_error(text) -> None:
    with pytest.raises(QuantityError, match=r"drawing\.tolerance"):
        general(plate(tolerance=text))


def test_stack_of_a_chain_by_both_rules() -> None:
    """Three links of 10 and one of 4 against them; sums by hand, sqrt of the sum of squares."""
    link = Binding("run", ("p1", "p2"), "10", tolerance=(0.3, -0.1))
    back = Binding("run", ("p1", "p2"), "4", tolerance=(0.05, -0.05))
    part = plate(a=link, b=link, c=link, d=back)
    found = stack(part, [("a", 1), ("b", 1), ("c", 1), ("d", -1)])
    assert found.nominal == pytest.approx(26.0)
    assert found.worst == pytest.approx((25.65, 26.95))
    spread = sqrt(3 * 0.2**2 + 0.05**2)
    assert found.likely == pytest.approx((26.3 - spread, 26.3 + spread))


def test_a_chain_takes_lengths_only() -> None:
    part = plate(a=Binding("angle", ("e1",), "0"))
    for name in ("a", "zz"):
        with pytest.raises(QuantityError, match=name):
            stack(part, [(name, 1)])
