"""The table of materials: found by name, with the values that are printed elsewhere."""

from __future__ import annotations

import json

import pytest

from sketcher.part.file_text import read, write
from sketcher.part.materials import (
    DANGEROUS,
    coatings_of,
    density_of,
    gauge_of,
    material_named,
    plate_material,
    plate_materials,
)
from sketcher.part.value import Part

# Manufacturers' Standard Gauge: pounds per square foot as printed; inches are these over 41.82.
POUNDS = {7: 7.5, 10: 5.625, 11: 5.0, 12: 4.375, 14: 3.125, 16: 2.5, 18: 2.0, 20: 1.5, 22: 1.25,
          24: 1.0}


@pytest.mark.parametrize(("said", "meant"), [
    ("Mild Steel", "mild steel"), ("S235JR", "mild steel"), ("1.4301", "stainless steel"),
    ("stainless steel 304", "stainless steel"), ("galvanised steel", "galvanized steel"),
    ("6061-T6 aluminum", "aluminum"), ("aluminium", "aluminum"), ("clear acrylic sheet", "acrylic"),
    ("PVC-U", "PVC"), ("vinyl coated steel", "PVC"), ("acrylic plastic", "acrylic"),
    ("grey plastic", "unknown plastic"),
])
def test_a_name_finds_its_entry(said: str, meant: str) -> None:
    kind = plate_material(said)
    assert kind is not None
    assert kind.name == meant


@pytest.mark.parametrize("said", ["", "steelish", "unobtainium", "12", "pv c"])
def test_no_entry_is_guessed(said: str) -> None:
    assert plate_material(said) is None
    assert density_of(said) is None


def test_every_entry_is_whole() -> None:
    names = [name for kind in plate_materials() for name in kind.names]
    assert len(names) == len(set(names))
    for kind in plate_materials():
        assert plate_material(kind.name) is kind
        assert (kind.laser == "yes") == (not kind.why)
        assert kind.density is not None or kind.laser in DANGEROUS
        assert list(kind.mm) == sorted(kind.mm)
        for inch, number in zip(kind.gauges.values(), kind.gauges, strict=True):
            assert gauge_of(kind.name, inch, "in") == number
            assert gauge_of(kind.name, 25.4 * inch, "mm") == number


@pytest.mark.parametrize(("said", "density"), [
    ("polypropylene sheet", 905.0), ("HDPE", 950.0), ("PTFE", 2170.0), ("PVDF", None)])
def test_relatives_are_not_weighed_alike(said: str, density: float | None) -> None:
    """Handbooks, from memory; of what is never cut by heat a density need not be known."""
    assert density_of(said) == density


def test_gauges_of_steel_follow_from_the_weights() -> None:
    kind = plate_material("mild steel")
    assert kind is not None
    assert set(kind.gauges) == set(map(str, POUNDS))
    for number, pounds in POUNDS.items():
        assert kind.gauges[str(number)] == pytest.approx(pounds / 41.82, abs=5e-5)
    # 16 gauge of galvanized, stainless, aluminum: a trade page's warning.
    for name, inches in (("galvanized steel", 0.0635), ("stainless steel", 0.0625),
                         ("aluminum", 0.0508)):
        assert gauge_of(name, inches, "in") == "16"
    assert gauge_of("mild steel", 0.125, "in") == gauge_of("acrylic", 0.06, "in") == ""


def test_coatings_are_minded() -> None:
    assert ["zinc" in mind for mind in coatings_of("galvanised steel")] == [True]
    assert list(coatings_of("mild steel")) == []
    assert len(list(coatings_of("painted galvanized steel"))) == 2


def test_a_material_left_out_is_none_and_is_written_as_none() -> None:
    entries = {"format": "part-profile", "version": 1, "unit": "in"}
    part = read(json.dumps(entries))
    assert part.material == Part(unit="in").material
    assert (part.material.name, part.material.density) == ("", 0.0)
    assert read(write(part)) == part
    assert write(read(write(part))) == write(part)
    for named, density in (("brass", 8440.0), ("unobtainium", 0.0)):
        made = read(json.dumps(entries | {"material": {"name": named}})).material
        assert made == material_named(named, 0.125)
        assert made.density == density
