"""Round figures: what a drafter would have written, and what means nothing."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest

from sketcher.intake.named_holes import named_holes, nearest_hole
from sketcher.intake.round_figures import PASSES, round_figures
from sketcher.quantity.parse import evaluate


def texts(value: float, t: float, sort: str = "length", unit: str = "mm",
          grid: float | None = None) -> list[str]:
    return [each.text for each in round_figures(value, t, sort, unit, grid)]  # type: ignore[arg-type]


@pytest.mark.parametrize(("value", "t", "sort", "unit", "text"), [
    (120.0004, 1e-3, "length", "mm", "120"),
    (12.50003, 1e-4, "length", "mm", "12.5"),
    (17.3, 1e-4, "length", "mm", "17.3"),
    (17.35, 1e-4, "length", "mm", "17.35"),
    (17.354, 1e-6, "length", "mm", "17.354"),
    (41.275, 1e-3, "length", "mm", "1 5/8 in"),
    (-30.0001, 1e-3, "length", "mm", "-30"),
    (1.62503, 1e-4, "length", "in", "1 5/8"),
    (2.046875, 1e-5, "length", "in", "2 3/64"),
    (0.3, 1e-4, "length", "in", ".3"),
    (3.137, 1e-6, "length", "in", "3.137"),
    (25.0 / 25.4, 1e-5, "length", "in", "25 mm"),
    (6.25, 1e-3, "radius", "mm", "6.25"),
    (22.5002, 1e-3, "angle", "mm", "22.5"),
    (30.0, 1e-2, "angle", "in", "30"),
    (12.0 + 25.0 / 60.0, 1e-5, "angle", "mm", "12°25'"),
])
def test_a_measured_value_is_what_its_drafter_wrote(
    value: float, t: float, sort: str, unit: str, text: str
) -> None:
    assert texts(value, t, sort, unit)[0] == text


@pytest.mark.parametrize(("value", "unit", "text", "row"), [
    # ISO 273:1979 and ASME B18.2.8-1999, each from two public tables; drills: charts of tap drills.
    (6.6002, "mm", "6.6", "ISO 273, M6, medium"),
    (13.4998, "mm", "13.5", "ISO 273, M12, medium"),
    (0.20102, "in", ".201", "number drill 7"),
    (0.25701, "in", ".257", "letter drill F"),
    (0.1285, "in", ".1285", "ASME B18.2.8, #4, normal"),
    (0.3320, "in", ".332", "letter drill Q"),
    (0.1065 * 25.4, "mm", ".1065 in", "number drill 36"),
])
def test_a_hole_is_found_in_the_tables(value: float, unit: str, text: str, row: str) -> None:
    first = round_figures(value, 3e-4 if unit == "mm" and "in" not in text else 2e-5, "hole",
                          unit)[0]  # type: ignore[arg-type]
    assert (first.text, first.why) == (text, row)


def test_a_length_is_not_looked_up_among_holes() -> None:
    assert texts(0.1695, 4e-5, "hole", "in") == [".1695"]
    assert texts(0.1695, 4e-5, "length", "in") == []


@pytest.mark.parametrize(("step", "value", "room"), [
    (0.5, 12.5, 20), (1.0, 17.0, 20), (0.1, 17.3, 100), (0.05, 17.35, 100), (0.01, 17.37, 100),
])
def test_a_step_counts_only_with_room_around_it(step: float, value: float, room: int) -> None:
    assert texts(value, step / room * 0.99)[:1] == [f"{value:g}"]
    assert f"{value:g}" not in texts(value, step / room * 1.01)


@pytest.mark.parametrize("off", [0.9, 1.1])
def test_a_figure_lies_within_the_uncertainty(off: float) -> None:
    assert bool(texts(40.0 + off * 1e-3, 1e-3)) == (off < 1.0)


def test_plainer_figures_come_first() -> None:
    """Both lie within the uncertainty; the plainer one is tried before the nearer one."""
    assert texts(12.4999, 2e-4) == ["12.5", "12.499", "12.501"][:1]
    found = round_figures(24.999, 2e-3, "length", "mm")
    assert [each.text for each in found] == ["25"]
    found = round_figures(25.4, 1e-4, "length", "mm")
    assert [(each.text, PASSES[each.rank]) for each in found] == [("25.4", "fine")]


def test_the_grid_that_is_asked_for_comes_first() -> None:
    assert texts(17.2504, 1e-3) == []
    first = round_figures(17.2504, 1e-3, "length", "mm", 0.25)[0]
    assert (first.text, PASSES[first.rank]) == ("17.25", "asked")
    assert texts(17.26, 0.07, grid=0.25) == []  # no room for its steps


@pytest.mark.parametrize("sort", ["length", "radius", "hole", "angle"])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_what_is_written_is_the_value(sort: str, unit: str) -> None:
    """The program's own reader takes each text for the very same float."""
    rng, seen = random.Random(7), 0
    for _ in range(400):
        value = round(rng.uniform(0.1, 90.0), rng.choice((0, 1, 2, 3))) or 1.0
        for each in round_figures(value * rng.choice((1, -1)), 1e-6, sort, unit):  # type: ignore[arg-type]
            read = evaluate(each.text, "angle" if sort == "angle" else "length", unit)
            assert read == pytest.approx(each.value, rel=1e-15)
            seen += 1
    assert seen > 300


@pytest.mark.parametrize(("t", "most"), [(1e-6, 0.005), (1e-4, 0.035), (1e-3, 0.035), (1e-2, 0.10)])
@pytest.mark.parametrize("sort", ["length", "radius", "hole", "angle"])
def test_values_that_mean_nothing_are_seldom_round(sort: str, t: float, most: float) -> None:
    """Measured: 0.1 %, 2.4 to 3.2 %, 2.4 to 3 %, 2 to 9 % of values drawn evenly."""
    rng = random.Random(11)
    drawn = [rng.uniform(0.5, 200.0) for _ in range(3000)]
    share = sum(bool(round_figures(value, t, sort, "mm")) for value in drawn) / len(drawn)  # type: ignore[arg-type]
    assert share < most


def test_the_tables_hold_what_the_standards_say() -> None:
    """Check values: ISO 273 from two public tables, drills from charts of tap drills."""
    metric = {each.row: each.diameter for each in named_holes("mm")}
    inch = {each.row: each.diameter for each in named_holes("in")}
    assert metric["ISO 273, M16, coarse"] == Fraction("18.5")
    assert metric["ISO 273, M5, medium"] == Fraction("5.5")
    assert inch["number drill 43"] == Fraction("0.089")
    assert inch["letter drill U"] == Fraction("0.368")
    assert len(inch) == 80 + 26 + 30 - 12  # those of the clearance holes that are drills as well
    assert nearest_hole(0.2002, "in")[0].diameter == Fraction("0.201")
    assert nearest_hole(0.2002, "in")[1] == pytest.approx(0.002)


@pytest.mark.parametrize(("value", "t", "unit", "text", "found_in"), [
    (1.5 / 25.4, 1e-8, "in", "1.5 mm", "finest"),
    (25.0 / 25.4, 1e-5, "in", "25 mm", "other unit"),
    (34.925, 2e-5, "mm", "1 3/8 in", "finest"),
    (34.925, 1e-3, "mm", "1 3/8 in", "other unit"),
    (3.1242, 1e-8, "mm", ".123 in", "other unit"),  # four decimals of a millimetre as well
])
def test_the_other_unit_needs_no_company_where_chance_is_one_in_ten_thousand(
    value: float, t: float, unit: str, text: str, found_in: str
) -> None:
    found = {each.text: PASSES[each.rank]
             for each in round_figures(value, t, "length", unit)}  # type: ignore[arg-type]
    assert found.get(text) == found_in
