"""The estimate: its formula reckoned with a pencil, its rates a person's own."""

from __future__ import annotations

import re
from math import pi

import pytest

from sketcher.errors import FileError
from sketcher.inspect.inspection import Inspection
from sketcher.part.value import Material
from sketcher.shop.cut_plan import CutPlan, CutSettings
from sketcher.shop.cut_rates import TEMPLATE, RateTable, read_rates
from sketcher.shop.estimate import as_lines, estimate_cut
from sketcher.shop.planning import plan_cut
from sketcher.shop.plate_rows import FILL
from tests.plates import looked_at, plate, rectangle

OWN = """
unit = "mm"
rapid = 12000
margin = 10
setup = 4
hour = 90
currency = "EUR"
[[cut]]
process = "plasma"
material = "steel"
thickness = 3
speed = 2400
pierce = 0.6
kilogram = 2
[[cut]]
process = "laser"
material = "mild steel"
thickness = 3
speed = 4800
pierce = 0.3
[[cut]]
process = "plasma"
material = "mild steel"
thickness = 6
speed = 1200
pierce = 0.9
"""


def rates(text: str = OWN) -> RateTable:
    return read_rates(text.encode(), "own.toml")


def drilled(unit: str = "mm", k: float = 1.0, name: str = "mild steel") -> Inspection:
    """100 by 60 with a hole of 16, 3 thick, in mm or the same in inches."""
    points, lines = rectangle(100.0 * k, 60.0 * k)
    part = plate({**points, "c": (50.0 * k, 30.0 * k)}, {**lines, "h": ("c", 8.0 * k)}, unit=unit)
    density = 7850.0 if name == "mild steel" else 0.0
    return looked_at(part.having(material=Material(name, 3.0 * k, density)))


def planned(inspection: Inspection) -> CutPlan:
    return plan_cut(inspection)


@pytest.mark.parametrize(("unit", "k"), [("mm", 1.0), ("in", 1.0 / 25.4)])
def test_times_and_prices_are_those_of_the_pencil(unit: str, k: float) -> None:
    """The same part in either unit takes as long; mass by 7850 kg per cubic meter."""
    inspection = drilled(unit, k)
    plan = planned(inspection)
    found = estimate_cut(inspection, plan, rates())
    plasma, laser = found.times
    cut = 320.0 + 16.0 * pi
    assert (plasma.rate.process, laser.rate.process) == ("plasma", "laser")
    assert plasma.cutting == pytest.approx(cut / 2400.0)
    assert laser.cutting == pytest.approx(cut / 4800.0)
    assert plasma.piercing == pytest.approx(2 * 0.6 / 60.0)
    assert plasma.rapid == pytest.approx(plan.travel / k / 12000.0)
    assert plasma.minutes == pytest.approx(
        cut / 2400.0 + 0.02 + plan.travel / k / 12000.0 + 4.0)
    assert found.mass == pytest.approx((6000.0 - 64.0 * pi) * 3.0 * 7850e-9)
    assert found.blank == pytest.approx((120.0 * k, 80.0 * k))
    heavy = 120.0 * 80.0 * 3.0 * 7850e-9
    assert found.blank_mass == pytest.approx(heavy)
    assert plasma.price == pytest.approx(plasma.minutes / 60.0 * 90.0 + 2.0 * heavy)
    assert laser.price == pytest.approx(laser.minutes / 60.0 * 90.0)


def test_a_filled_plate_weighs_what_all_its_copies_do() -> None:
    """Two of 100 by 60 go side by side on 210 by 70, 3 apart; nobody has said how many."""
    inspection = drilled()
    plan = plan_cut(inspection, CutSettings(copies=FILL, plate=(210.0, 70.0)))
    found = estimate_cut(inspection, plan)
    assert found.mass == pytest.approx(2 * (6000.0 - 64.0 * pi) * 3.0 * 7850e-9)
    assert found.as_dict()["copies"] == 2
    assert "2 copies" in next(as_lines(found))


def test_the_printed_formula_comes_to_what_is_printed() -> None:
    """Read off the paper and reckoned anew, knowing nothing of the program."""
    inspection = drilled()
    text = "\n".join(as_lines(estimate_cut(inspection, planned(inspection), rates())))
    n = r"([\d.]+)"
    line = re.search(rf"= {n} mm / \({n} mm/min\) \+ {n} x {n} s \+ {n} mm / \({n} mm/min\) "
                     rf"\+ {n} min", text)
    assert line is not None
    way, speed, pierces, each, rapid, fast, setup = map(float, line.groups())
    minutes = way / speed + pierces * each / 60.0 + rapid / fast + setup
    total = re.search(rf"min = {n} min\n", text)
    assert total is not None
    assert float(total[1]) == pytest.approx(minutes, rel=5e-3)  # three figures are printed
    cost = re.search(rf"= {n} min x {n} EUR/h \+ {n} kg x {n} EUR/kg = {n}", text)
    assert cost is not None
    took, hour, mass, kilogram, price = map(float, cost.groups())
    assert price == pytest.approx(minutes / 60.0 * hour + mass * kilogram, abs=0.02)
    assert f"L  cut      {way:.6g}"[:14] in text
    assert took == float(total[1])


def test_without_rates_there_are_lengths_and_how_rates_are_written() -> None:
    inspection = drilled()
    found = estimate_cut(inspection, planned(inspection))
    assert found.times == ()
    text = "\n".join(as_lines(found))
    assert TEMPLATE.strip() in text
    assert found.blank == (100.0, 60.0)
    with pytest.raises(FileError, match="above zero") as caught:  # none is shipped as a fact
        read_rates(TEMPLATE.encode(), "own.toml")
    assert caught.value.place == "own.toml: rapid"


def test_a_material_without_density_has_no_mass_and_no_price_by_it() -> None:
    inspection = drilled(name="unobtainium")
    text = OWN.replace('"steel"', '"Unobtainium"')
    found = estimate_cut(inspection, planned(inspection), rates(text))
    assert (found.mass, found.blank_mass, found.times[0].price) == (None, None, None)
    lines = "\n".join(as_lines(found))
    assert "not known" in lines
    assert "None" not in lines


def test_rates_of_another_plate_are_not_stretched() -> None:
    table = rates()
    assert [one.speed for one in table.fitting("S235", 3.0, "mm", "plasma")] == [2400.0]
    assert [one.speed for one in table.fitting("mild steel", 0.1196, "in", "laser")] == [4800.0]
    for material, thickness in (("mild steel", 4.0), ("brass", 3.0)):
        with pytest.raises(FileError, match="has no rate for plasma") as caught:
            table.fitting(material, thickness, "mm", "plasma")
        assert ("plasma 3 mm, plasma 6 mm" in str(caught.value)) == (material == "mild steel")


@pytest.mark.parametrize(("old", "new", "place"), [
    ("rapid = 12000", "rapid = -1", "rapid"), ("rapid = 12000", "rapid = 0", "rapid"),
    ("margin = 10", "margin = true", "margin"), ("setup = 4", 'setup = "4"', "setup"),
    ("hour = 90", "hour = inf", "hour"), ('unit = "mm"', 'unit = "m"', "unit"),
    ("speed = 2400", "speed = 0", "cut 1: speed"), ("speed = 1200", "", "cut 3: speed"),
    ('process = "laser"', 'process = "water"', "cut 2: process"),
    ('material = "steel"', "", "cut 1: material"),
    ("pierce = 0.6", "piercing = 1", "cut 1: piercing"),
    ('currency = "EUR"', "currency = 5", "currency"), ("[[cut]]", "[cutting]", None),
    ("rapid", "=", None), ("rapid = 12000", f"rapid = 1{'0' * 400}", "rapid"),
    ("hour = 90", "hour = 1e300", "hour"), ("hour = 90", "hour = nan", "hour"),
    ("rapid = 12000", f"rapid = {'1' * 5000}", None),
    ("margin = 10", f"margin = {'[' * 5000}", None),
])
def test_a_spoiled_file_of_rates_names_its_place(old: str, new: str, place: str | None) -> None:
    with pytest.raises(FileError) as caught:
        rates(OWN.replace(old, new))
    if place is not None:
        assert caught.value.place == f"own.toml: {place}"
    assert caught.value.problem
    assert caught.value.remedy
