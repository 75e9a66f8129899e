"""Cutting rules: the registry is the folder, each rule sees what it is for and nothing else."""

from __future__ import annotations

import re
from dataclasses import replace
from math import hypot
from pathlib import Path

import pytest

import sketcher.inspect.rules as folder
from sketcher.inspect.inspection import inspect_part
from sketcher.inspect.rules import CAUTION, rules
from sketcher.inspect.rules.tolerance import deviation
from sketcher.part.value import Binding, Drawing, Part
from sketcher.solve.solve_report import SolveReport
from tests.plates import looked_at, plate, polygon, rectangle
from tests.refusals import is_line


def drilled(radius: float, **fields: object) -> Part:
    """Plate of 100 by 60 with a hole in the middle."""
    points, lines = rectangle(100.0, 60.0)
    return plate({**points, "c": (50.0, 30.0)}, {**lines, "h": ("c", radius)}, **fields)


def advice(part: Part, rule: str) -> list[tuple[str, float, float]]:
    """Process, found and wanted of what one rule says; each names its place and its reason."""
    given = looked_at(part).cutting
    known = {*part.curves, *part.bindings, *part.points}
    for one in given:
        assert is_line(one.where)
        assert is_line(one.why)
        assert "None" not in one.where + one.why
        assert {re.sub(r"#\d+|'+$", "", name) for name in one.ids} <= known
        assert not one.ids or one.ids[0] in re.findall(r"[\w'#]+", one.where)
        # Too much of something was found, or too little.
        assert (one.found > one.wanted) if one.most else (one.found < one.wanted)
    return [(a.process, pytest.approx(a.found), pytest.approx(a.wanted))  # type: ignore[misc]
            for a in given if a.rule == rule]


def test_every_file_of_the_folder_is_a_rule() -> None:
    files = {p.stem for p in Path(folder.__file__).parent.glob("*.py")} - {"__init__"}
    assert len(rules()) == len(files)
    for name, rule in rules().items():
        assert rule.name == name
        assert rule.asks
        assert rule.source
        assert rule.check.__doc__


def test_every_rule_is_tried_here() -> None:
    text = Path(__file__).read_text(encoding="utf-8")
    assert [name for name in rules() if f'"{name}"' not in text] == []


def test_a_generous_plate_gets_no_advice() -> None:
    assert looked_at(drilled(8.0)).cutting == ()


# Values: fabricators' design pages, 1 t and 1 mm for laser, 1.5 t for plasma.
@pytest.mark.parametrize(
    ("diameter", "expected"),
    [
        (2.9, [("laser", 2.9, 3.0), ("plasma", 2.9, 4.5)]),
        (3.0, [("plasma", 3.0, 4.5)]),
        (4.4, [("plasma", 4.4, 4.5)]),
        (4.5, []),
    ],
)
def test_hole_size(diameter: float, expected: list[tuple[str, float, float]]) -> None:
    assert advice(drilled(diameter / 2.0), "hole size") == expected


def test_thin_plate_still_wants_a_millimetre_and_two_kerfs_of_plasma() -> None:
    """Common practice, no source: never under max(1.5 t, 2 kerf, 3 mm) of plasma, kerf 1.5."""
    assert advice(drilled(0.45, thickness=0.5), "hole size") == [("laser", 0.9, 1.0)]
    assert advice(drilled(1.45, thickness=0.5), "hole size") == [("plasma", 2.9, 3.0)]
    assert advice(drilled(1.5, thickness=0.5), "hole size") == []


@pytest.mark.parametrize(("diameter", "filled"), [
    (0.2, ["laser", "plasma"]), (0.3, ["plasma"]), (1.5, ["plasma"]), (1.51, [])])
def test_what_the_cut_alone_fills_has_a_word_of_its_own(diameter: float, filled: list[str]) -> None:
    part = drilled(0.5 * diameter, thickness=0.5)
    wanted = {"laser": 1.0, "plasma": 3.0}
    assert advice(part, "room for the cut") == [(each, diameter, wanted[each]) for each in filled]
    assert not set(filled) & {process for process, *_ in advice(part, "hole size")}
    slot = slotted(diameter).having(material=part.material)
    wanted = {"laser": 0.5, "plasma": 3.0}
    assert advice(slot, "room for the cut") == [(each, diameter, wanted[each]) for each in filled]
    assert not set(filled) & {process for process, *_ in advice(slot, "slot width")}


@pytest.mark.parametrize(("width", "told"), [(2.9, ["plasma"]), (3.0, [])])
def test_a_slot_in_thin_plate_is_two_kerfs_wide(width: float, told: list[str]) -> None:
    thin = slotted(width).having(material=drilled(1.0, thickness=0.5).material)
    assert [process for process, *_ in advice(thin, "slot width")] == told


@pytest.mark.parametrize(
    ("diameter", "told"), [(4.4, False), (4.5, True), (5.9, True), (6.0, False)]
)
def test_drill_instead(diameter: float, told: bool) -> None:
    assert advice(drilled(diameter / 2.0), "drill or ream") == (
        [("plasma", diameter, 6.0)] if told else []
    )


def two_holes(web: float) -> Part:
    points, lines = rectangle(100.0, 60.0)
    points |= {"c": (30.0, 30.0), "d": (46.0 + web, 30.0)}
    return plate(points, {**lines, "h1": ("c", 8.0), "h2": ("d", 8.0)})


@pytest.mark.parametrize(
    ("web", "expected"),
    [
        (2.5, [("laser", 2.5, 3.0), ("plasma", 2.5, 4.5)]),
        (4.0, [("plasma", 4.0, 4.5)]),
        (4.5, []),
    ],
)
def test_web(web: float, expected: list[tuple[str, float, float]]) -> None:
    assert advice(two_holes(web), "web") == expected


def test_web_of_a_thin_plate_has_a_floor_for_plasma() -> None:
    part = two_holes(1.8).having(material=drilled(1.0, thickness=1.0).material)
    assert advice(part, "web") == [("plasma", 1.8, 2.0)]


def test_web_across_the_outline_itself() -> None:
    # A dumb-bell: the neck between the two notches is 2 wide.
    points, lines = polygon((0, 0), (20, 0), (20, 9), (30, 9), (30, 0), (50, 0), (50, 20), (30, 20),
                            (30, 11), (20, 11), (20, 20), (0, 20))
    assert advice(plate(points, lines), "web") == [("laser", 2.0, 3.0), ("plasma", 2.0, 4.5)]


def test_a_rounded_corner_is_no_web() -> None:
    points = {"p1": (0.0, 0.0), "p2": (39.0, 0.0), "p3": (40.0, 1.0), "p4": (40.0, 30.0),
              "p5": (0.0, 30.0), "c": (39.0, 1.0)}
    curves = {"e1": ("p1", "p2"), "a1": ("p2", "p3", "c", "ccw"), "e2": ("p3", "p4"),
              "e3": ("p4", "p5"), "e4": ("p5", "p1")}
    assert advice(plate(points, curves), "web") == []


@pytest.mark.parametrize("off", [0.0, 1.0, -2.0])
def test_a_hole_amid_a_link_makes_no_slot_of_its_width(off: float) -> None:
    """12 wide, 10 thick, a hole of 5.2 in the middle: the two edges beside the hole are narrow."""
    points, lines = rectangle(80.0, 12.0)
    part = plate({**points, "c": (40.0, 6.0 + off)}, {**lines, "h": ("c", 2.6)}, thickness=10.0)
    assert advice(part, "slot width") == []
    beside = 3.4 - abs(off)
    assert advice(part, "hole to edge") == [("laser", beside, 10.0), ("plasma", beside, 15.0)]


def test_a_link_without_a_hole_is_as_wide_as_it_is() -> None:
    points, lines = rectangle(80.0, 12.0)
    assert advice(plate(points, lines, thickness=10.0), "web") == [("plasma", 12.0, 15.0)]


def test_hole_to_edge_of_thin_plate_has_a_floor_for_plasma() -> None:
    points, lines = rectangle(100.0, 60.0)
    part = plate({**points, "c": (9.8, 30.0)}, {**lines, "h": ("c", 8.0)}, thickness=0.9)
    assert advice(part, "hole to edge") == [("plasma", 1.8, 2.0)]


def test_hole_to_edge() -> None:
    points, lines = rectangle(100.0, 60.0)
    part = plate({**points, "c": (12.0, 30.0)}, {**lines, "h": ("c", 8.0)})
    assert advice(part, "hole to edge") == [("plasma", 4.0, 4.5)]
    assert advice(part, "web") == []


def slotted(width: float) -> Part:
    points, lines = rectangle(100.0, 60.0)
    inner, more = rectangle(30.0, width, at=(30.0, 30.0), prefix="q")
    return plate({**points, **inner}, {**lines, **more})


def test_slot_width() -> None:
    assert advice(slotted(2.0), "slot width") == [("laser", 2.0, 3.0), ("plasma", 2.0, 4.5)]
    assert advice(slotted(4.5), "slot width") == []


def test_an_open_slot_counts_too() -> None:
    points, lines = polygon((0, 0), (48, 0), (48, 30), (52, 30), (52, 0), (100, 0), (100, 60),
                            (0, 60))
    assert advice(plate(points, lines), "slot width") == [("plasma", 4.0, 4.5)]
    assert advice(plate(points, lines), "web") == []


def test_inside_corner() -> None:
    said = advice(slotted(10.0), "inside corner")
    assert len(said) == 8
    assert {process for process, *_ in said} == {"laser", "plasma"}
    points, lines = rectangle(100.0, 60.0)
    assert advice(plate(points, lines), "inside corner") == []


def test_tiny_edge() -> None:
    points, lines = polygon((0, 0), (40, 0), (40, 29.9), (39.9, 30), (0, 30))
    said = advice(plate(points, lines), "tiny edge")
    assert said == [("laser", 0.02**0.5, 0.2), ("plasma", 0.02**0.5, 1.5)]


def test_gap_size() -> None:
    def open_by(gap: float) -> Part:
        points = {"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (20.0, 20.0), "p4": (0.0, 20.0),
                  "q": (0.0, gap)}
        return plate(points, {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"),
                              "e4": ("p4", "q")})

    assert advice(open_by(0.05), "gap size") == [("laser, plasma", 0.05, 0.01)]
    assert advice(open_by(0.005), "gap size") == []


def pierced(limit: float | None, thickness: float, unit: str = "mm") -> list[tuple[object, ...]]:
    """What the rule says of a plate where the machine at hand pierces so much, and its remarks."""
    part = drilled(2.0 * thickness, thickness=thickness, unit=unit)
    found = inspect_part(part, SolveReport(), pierce_limit=limit)
    return [(one.process, one.found, one.wanted, one.most) for one in found.cutting
            if one.rule == "thickness"]


def test_thickness_goes_by_what_the_machine_pierces() -> None:
    assert pierced(None, 10.0) == pierced(None, 40.0) == pierced(12.0, 12.0) == []
    assert pierced(10.0, 12.0) == [("laser", 12.0, 10.0, True), ("plasma", 12.0, 10.0, True)]
    assert pierced(0.375, 0.5, "in") == [("laser", 0.5, 0.375, True), ("plasma", 0.5, 0.375, True)]


# ISO 9013:2017, scope as in its abstract: laser 0.5 to 32 mm, plasma 0.5 to 150 mm.
@pytest.mark.parametrize(("thickness", "beyond"), [
    (0.3, {"laser", "plasma"}), (0.5, set()), (32.0, set()), (33.0, {"laser"}),
    (149.0, {"laser"}), (151.0, {"laser", "plasma"})])
def test_the_scope_of_the_standard_is_told_and_is_no_capability(
    thickness: float, beyond: set[str]
) -> None:
    inspection = looked_at(drilled(25.0, thickness=thickness))
    told = [one for one in inspection.remarks if one.rule == "thickness"]
    assert {process for one in told for process in one.processes} == beyond
    assert all("ISO 9013" in one.text and "ask the shop" in one.text for one in told)
    assert "thickness" not in {one.rule for one in inspection.cutting}


# ISO 9013:2017, limit deviations, as printed on a trade page; bounds are ">= lower, < upper".
@pytest.mark.parametrize(
    ("process", "thickness", "size", "expected"),
    [
        ("laser", 1.0, 2.0, 0.075), ("laser", 1.01, 2.0, 0.1), ("laser", 3.0, 100.0, 0.25),
        ("laser", 3.0, 125.0, 0.25), ("laser", 6.0, 9.99, 0.2), ("laser", 6.0, 10.0, 0.25),
        ("laser", 6.0, 34.9, 0.25), ("laser", 6.0, 35.0, 0.25), ("laser", 22.0, 3999.0, 1.6),
        ("plasma", 3.0, 100.0, 0.7), ("plasma", 12.0, 1000.0, 3.0), ("plasma", 12.0, 2.0, None),
        ("plasma", 25.01, 100.0, None), ("laser", 3.0, 4000.0, None),
        ("laser", 32.01, 100.0, None),
    ],
)
def test_tolerance_table(
    process: str, thickness: float, size: float, expected: float | None
) -> None:
    assert deviation(process, thickness, size) == expected


def test_tolerance() -> None:
    points, lines = rectangle(100.0, 60.0)
    run = Binding("run", ("p1", "p2"), "100", tolerance=(0.3, -0.3))
    assert advice(plate(points, lines, run), "tolerance") == [("plasma", 0.3, 0.7)]
    general = Binding("run", ("p1", "p2"), "100")
    assert advice(plate(points, lines, general), "tolerance") == []


def remarks(part: Part) -> list[tuple[tuple[str, ...], str]]:
    """What the rule of tolerances remarks."""
    return [(one.processes, one.text) for one in looked_at(part).remarks if one.rule == "tolerance"]


def ruled(thickness: float, *values: str, wide: float = 100.0) -> Part:
    """A rectangle with a run of some lengths, each without limits of its own."""
    points, lines = rectangle(wide, 60.0)
    return plate(points, lines, *(Binding("run", ("p1", "p2"), value) for value in values),
                 thickness=thickness)


def test_general_tolerances_are_compared_once_in_one_line() -> None:
    """ISO 2768-m has 0.3 for 100 and 0.2 for 30; class 1 holds 0.25 and 0.2 in plate of 3, class 2
    0.7 and 0.7."""
    ((processes, text),) = remarks(ruled(3.0, "100", "30"))
    assert processes == ("plasma",)
    assert "ISO 2768-m" in text
    assert "plasma at 2 sizes" in text
    assert re.search(r"b2 has ±0\.2 where plasma holds ±0\.7\b", text)  # the worst of them
    ((processes, text),) = remarks(ruled(3.0, "5"))  # 0.1, and class 1 holds 0.15
    assert processes == ("laser", "plasma")
    assert "laser at 1 size and plasma at 1 size" in text
    inches = ruled(0.125, "4.000", wide=4.0).having(unit="in", drawing=Drawing("ASME"))
    ((processes, text),) = remarks(inches)  # .005, and class 1 holds 0.25 mm
    assert processes == ("laser", "plasma")
    assert "(of the title block)" in text
    none = ruled(3.0, "100").having(drawing=Drawing(tolerance="none"))
    assert remarks(none) == []
    coarse = ruled(3.0, "100").having(drawing=Drawing(tolerance="ISO 2768-v"))  # 1.5
    assert remarks(coarse) == []


def test_where_the_table_ends_the_shop_is_asked() -> None:
    for thickness, ended in ((25.0, set()), (26.0, {"plasma"}), (33.0, {"laser", "plasma"})):
        ends = [one for one in remarks(ruled(thickness, "100")) if "ends at" in one[1]]
        assert {process for processes, _ in ends for process in processes} == ended
        assert all("ask the shop" in text for _, text in ends)
    # A dash: no nominal size below 3 in plate over 6.3; and none from 4000 on.
    dashes = remarks(ruled(8.0, "2", "2.5"))
    assert [processes for processes, text in dashes if "no value for b1 and b2" in text] == [
        ("laser",), ("plasma",)]
    long = remarks(ruled(3.0, "4000", wide=4000.0))
    assert sum("no value for b1" in text for _, text in long) == 2
    assert remarks(drilled(8.0, thickness=40.0)) == []  # nothing is toleranced


def test_inch_parts_get_the_same_advice() -> None:
    points, lines = rectangle(4.0, 3.0)
    part = plate({**points, "c": (2.0, 1.5)}, {**lines, "h": ("c", 0.0625)}, unit="in",
                 thickness=0.125)
    assert advice(part, "hole size") == [("plasma", 0.125, 0.1875)]
    thin = part.having(material=drilled(1.0, thickness=0.02).material)
    assert advice(thin.having(curves={**thin.curves, "h": drilled(0.018).curves["h"]}),
                  "hole size") == [("laser", 0.036, 1.0 / 25.4)]


def test_advice_is_no_finding_and_says_that_it_is_a_starting_value() -> None:
    inspection = looked_at(drilled(0.5))
    assert inspection.cutting
    assert inspection.sound
    assert CAUTION in inspection.as_text()


# ISO 9013:2017, limit deviations, as printed on a trade page, and on a second one the rows of laser
# over 25, of plasma to 1 and over 15: columns begin at these sizes in mm.
BEGINS = (0.0, 3.0, 10.0, 35.0, 125.0, 315.0, 1000.0, 2000.0, 4000.0)
PRINTED = """
laser  0-1      .075 .1  .1  .2  .2  .3  .4  .65
laser  1-3.15   .1   .15 .2  .25 .25 .35 .4  .65
laser  3.15-6.3 .2   .2  .25 .25 .3  .4  .45 .7
laser  6.3-10   -    .25 .3  .3  .35 .45 .55 .75
laser  10-15    -    .3  .35 .4  .45 .55 .65 .85
laser  15-20    -    .4  .4  .45 .55 .75 .85 1.2
laser  20-25    -    .45 .5  .6  .7  .9  1.1 1.6
laser  25-32    -    -   .7  .7  .8  1   1.6 2.25
plasma 0-1      .5   .6  .6  .7  .7  .8  .9  .9
plasma 1-3.15   .6   .6  .7  .7  .8  .9  1   1.1
plasma 3.15-6.3 .7   .8  .9  .9  1.1 1.2 1.3 1.3
plasma 6.3-10   -    1   1.1 1.3 1.4 1.5 1.6 1.7
plasma 10-15    -    1.8 1.8 1.8 1.9 2.3 3   4.2
plasma 15-20    -    1.8 1.8 1.8 1.9 2.3 3   4.2
plasma 20-25    -    1.8 1.8 1.8 1.9 2.3 3   4.2
""".strip().splitlines()


@pytest.mark.parametrize("line", PRINTED)
def test_every_printed_deviation_holds_to_the_ends_of_its_range(line: str) -> None:
    process, thick, *cells = line.split()
    over, up_to = map(float, thick.split("-"))
    for cell, first, last in zip(cells, BEGINS, BEGINS[1:], strict=False):
        expected = None if cell == "-" else float(cell)
        for thickness in (over + 1e-6, up_to):
            for size in (first, 0.5 * (first + last), last - 1e-6):
                assert deviation(process, thickness, size) == expected
    assert deviation(process, up_to, BEGINS[-1]) is None


def notched(radius: float) -> Part:
    """An L of 40 by 40 whose inside corner is rounded."""
    points, lines = polygon((0, 0), (40, 0), (40, 20), (20 + radius, 20), (20, 20 + radius),
                            (20, 40), (0, 40))
    points["f"] = (20 + radius, 20 + radius)
    return plate(points, {**lines, "pe4": ("p4", "p5", "f", "cw")})


@pytest.mark.parametrize(("radius", "told"), [
    (0.09, {"laser", "plasma"}), (0.11, {"plasma"}), (0.9, {"plasma"}), (1.1, set())])
def test_an_inside_corner_has_the_radius_that_the_process_leaves(
    radius: float, told: set[str]
) -> None:
    said = advice(notched(radius), "inside corner")
    assert {process for process, *_ in said} == told
    assert all(found == pytest.approx(radius) for _, found, _ in said)


def test_the_end_of_a_slot_is_no_corner() -> None:
    points, lines = polygon((0, 0), (40, 0), (40, 20), (20.6, 20), (20.6, 10), (19.4, 10),
                            (19.4, 20), (0, 20))
    points["f"] = (20.0, 10.0)
    part = plate(points, {**lines, "pe5": ("p5", "p6", "f", "cw")})
    assert advice(part, "inside corner") == []
    points["f"] = (20.0, 10.1)  # a little less than half a turn, beside two sharp corners
    part = plate(points, {**lines, "pe5": ("p5", "p6", "f", "cw")})
    said = advice(part, "inside corner")
    assert sorted(process for process, *_ in said) == ["laser"] * 2 + ["plasma"] * 3
    assert said.count(("plasma", hypot(0.6, 0.1), 1.0)) == 1


@pytest.mark.parametrize(("left", "told"), [(2.9, {"laser", "plasma"}), (3.1, {"plasma"})])
def test_a_hole_keeps_its_thickness_from_the_edge(left: float, told: set[str]) -> None:
    points, lines = rectangle(100.0, 60.0)
    part = plate({**points, "c": (8.0 + left, 30.0)}, {**lines, "h": ("c", 8.0)})
    assert {process for process, *_ in advice(part, "hole to edge")} == told


def test_what_the_material_does_is_remarked() -> None:
    def told(name: str) -> list[str]:
        part = drilled(8.0)
        part = part.having(material=replace(part.material, name=name))
        return [one.text for one in looked_at(part).remarks if one.rule == "material"]

    assert told("mild steel") == []
    assert "zinc" in " ".join(told("galvanised mild steel"))
    assert "hydrogen" in " ".join(told("aluminium 5052"))
    assert "does not conduct" in " ".join(told("acrylic"))
    assert "not in the table" in " ".join(told("unobtainium"))
    assert len(told("painted stainless steel")) == 2


@pytest.mark.parametrize(("unit", "thickness", "kept"), [
    ("mm", 3.0, None), ("mm", 4.7625, None), ("mm", 1.52, None), ("mm", 3.5, ("3 mm", "4 mm")),
    ("in", 0.1875, None), ("in", 0.0598, None), ("in", 3.0 / 25.4, None), ("mm", 40.0, None),
    ("in", 0.28, (".25 in", ".3125 in"))])
def test_a_thickness_that_no_shop_keeps_is_told(
    unit: str, thickness: float, kept: tuple[str, str] | None
) -> None:
    """Sheet of 3 and 4 mm, of 3/16 in, of 16 gauge (0.0598 in): common practice, no source."""
    part = drilled(8.0, thickness=thickness, unit=unit)
    told = [one.text for one in looked_at(part).remarks if "shops keep" in one.text]
    assert len(told) == (kept is not None)
    for text in told:
        assert all(size in text for size in kept or ())


def test_every_rule_says_why_it_matters_and_what_mends_it() -> None:
    for rule in rules().values():
        for clause in (rule.why, rule.mend):
            assert clause.strip() == clause
            assert clause[0].islower()
            assert clause[-1].isalpha()
    assert len({rule.why for rule in rules().values()}) == len(rules())
