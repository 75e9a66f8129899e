"""Leads of plain plates, judged by `tests/lead_checker.py`: by shapely and numbers alone."""

from __future__ import annotations

import re
from dataclasses import replace
from math import dist, pi
from typing import Any

import pytest

from sketcher.errors import ExportError
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import moved, reflected
from sketcher.shop.beginnings import beginnings, begun_at
from sketcher.shop.cut_plan import CutContour, CutPath, CutSettings
from sketcher.shop.leads import with_leads
from sketcher.shop.planning import plan_cut
from tests.lead_checker import found_place, lead_faults, part_of
from tests.plates import bound, looked_at

START = {"laser": 0.2, "plasma": 1.5}
"""Kerfs in mm where none is set (common practice, no source)."""


def outside(*corners: XY, prefix: str = "e") -> CutContour:
    """Corners counter-clockwise; the cut runs clockwise."""
    return closed(corners[::-1], False, 0, prefix)


def closed(corners: tuple[XY, ...], hole: bool, depth: int, prefix: str) -> CutContour:
    count = len(corners)
    lines = tuple(Line(corners[k], corners[(k + 1) % count]) for k in range(count))
    return CutContour(tuple(f"{prefix}{k + 1}" for k in range(count)), lines, hole, depth)


def box(width: float, height: float) -> CutContour:
    return outside((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


def round_hole(x: float, y: float, d: float, name: str = "h1") -> CutContour:
    return CutContour((name,), (Circle((x, y), d / 2.0),), True, 1)


def slot(x: float, y: float, length: float, width: float) -> CutContour:
    """A slot between two centers, counter-clockwise."""
    r, a, b = width / 2.0, (x - length / 2.0, y), (x + length / 2.0, y)
    curves: tuple[Curve, ...] = (
        Line((a[0], y - r), (b[0], y - r)), Arc(b, (b[0], y - r), (b[0], y + r)),
        Line((b[0], y + r), (a[0], y + r)), Arc(a, (a[0], y + r), (a[0], y - r)))
    return CutContour(("s1", "s2", "s3", "s4"), curves, True, 1)


def led(
    *contours: CutContour, process: Any = "plasma", lead: Any = "auto", thickness: float = 3.0,
    unit: str = "mm",
) -> tuple[list[CutPath], tuple[str, ...]]:
    """The paths with leads, none of which may have a fault."""
    paths = [CutPath(contour) for contour in contours]
    found, told = with_leads(paths, contours, CutSettings(process=process, lead=lead), thickness,
                             unit)
    solid = part_of(contours)
    width = START.get(process, 0.0) / (25.4 if unit == "in" else 1.0)
    wrong = [fault for path, before in zip(found, contours, strict=True)
             for fault in lead_faults(path, solid, 0.0, width, before)]
    assert wrong == []
    return list(found), told


def total(curves: tuple[Curve, ...]) -> float:
    return sum(curve.length for curve in curves)


def test_a_lead_comes_onto_the_middle_of_the_longest_straight_from_outside() -> None:
    (path,), told = led(box(100.0, 60.0), process="laser")
    assert path.contour.start == (50.0, 60.0) or path.contour.start == (50.0, 0.0)
    line, arc = path.lead_in
    assert isinstance(line, Line)
    assert isinstance(arc, Arc)
    assert total(path.lead_in) == pytest.approx(3.0, abs=1e-12)  # max(t, 3 mm, kerfs)
    assert told[0] == f"lead-ins of 3 mm onto {path.contour.ids[0]}"


# Plate, process, length: max(t, 3 mm, 2.5 kerfs of the start value), where nothing is offset
# (common practice, no source).
@pytest.mark.parametrize(("thickness", "process", "unit", "wanted"), [
    (1.0, "laser", "mm", 3.0), (6.0, "laser", "mm", 6.0), (2.0, "plasma", "mm", 3.75),
    (0.25, "plasma", "in", 0.25), (0.0625, "laser", "in", 3.0 / 25.4),
    (0.0625, "plasma", "in", 3.75 / 25.4), (2.0, None, "mm", 3.0),
])
def test_how_long_a_lead_in_is(thickness: float, process: str, unit: str, wanted: float) -> None:
    size = 80.0 if unit == "mm" else 3.0
    (path,), _ = led(box(size, size), process=process, thickness=thickness, unit=unit)
    assert total(path.lead_in) == pytest.approx(wanted, rel=1e-12)


def test_a_length_that_is_given_is_kept() -> None:
    paths, _ = led(box(100.0, 60.0), slot(50.0, 30.0, 40.0, 20.0), lead=7.5)
    assert [round(total(path.lead_in), 12) for path in paths] == [7.5, 7.5]


def test_a_lead_out_is_a_kerf_long_and_bends_into_the_scrap() -> None:
    (path,), _ = led(box(100.0, 60.0))
    assert total(path.lead_out) == pytest.approx(1.5, abs=1e-12)
    assert dist(path.end, path.contour.start) > 1.0
    (without,), _ = led(box(100.0, 60.0), process=None)
    assert without.lead_out == ()


def test_a_round_hole_is_led_into_from_its_center() -> None:
    (_, path), told = led(box(100.0, 60.0), round_hole(30.0, 30.0, 8.0))
    assert path.pierce == (30.0, 30.0)
    assert path.contour.length == pytest.approx(8.0 * pi, rel=1e-12)
    assert path.lead_out == ()
    assert "lead-ins straight from the center of h1" in told


# "No overcut on plasma holes under 4 t" (common practice, no source): with 3 mm, under 12 mm.
@pytest.mark.parametrize(("process", "d", "out"), [
    ("plasma", 11.8, False), ("plasma", 12.2, True), ("laser", 11.8, True)])
def test_a_hole_that_is_small_for_a_plasma_has_no_lead_out(
    process: str, d: float, out: bool
) -> None:
    (_, path), _ = led(box(100.0, 60.0), round_hole(30.0, 30.0, d), process=process, lead=4.0)
    assert len(path.lead_in) == 2
    assert bool(path.lead_out) is out


def test_a_hole_pierces_two_kerfs_off_its_edge_where_it_has_room() -> None:
    (_, path), told = led(box(200.0, 200.0), round_hole(100.0, 100.0, 80.0))
    assert 3.0 <= 40.0 - dist(path.pierce, (100.0, 100.0)) <= 4.5  # 2 to 3 kerfs of 1.5 mm
    assert not any("less than two kerfs" in line for line in told)


def test_a_slot_is_pierced_about_in_its_middle() -> None:
    (_, path), told = led(box(100.0, 60.0), slot(50.0, 30.0, 30.0, 5.0))
    assert 30.0 - 0.6 < path.pierce[1] < 30.0 + 0.6
    assert any("less than two kerfs" in line for line in told)


def test_an_island_in_the_middle_of_a_hole_is_kept_clear_of() -> None:
    ring = round_hole(50.0, 50.0, 40.0)
    island = CutContour(("i1",), (Circle((50.0, 50.0), 12.0),), False, 2)
    paths, _ = led(box(100.0, 100.0), ring, island, lead="auto")
    assert [len(path.lead_in) for path in paths] == [2, 2, 2]
    # A circle would run counter-clockwise and begin at its right, on a turned copy too.
    assert [type(curve) for curve in paths[2].contour.curves] == [Arc, Arc]
    assert total(paths[2].contour.curves) == pytest.approx(24.0 * pi, rel=1e-12)
    assert paths[2].contour.ids == ("i1", "i1")


def test_a_narrow_bay_at_the_longest_straight_sends_the_lead_elsewhere() -> None:
    # A long prong, 2 mm beside the plate's long edge: no room for the 3.75 mm of a plasma's lead.
    comb = outside((0.0, 0.0), (100.0, 0.0), (100.0, 20.0), (10.0, 20.0), (10.0, 22.0),
                   (98.0, 22.0), (98.0, 40.0), (0.0, 40.0))
    (path,), _ = led(comb)
    assert path.contour.start[1] in (0.0, 40.0)


def test_a_hole_too_small_for_a_pierce_is_refused_by_name() -> None:
    contours = (box(100.0, 60.0), round_hole(30.0, 30.0, 2.9), round_hole(60.0, 30.0, 2.5, "h2"))
    with pytest.raises(ExportError) as refused:
        led(*contours)
    assert refused.value.place == "lead-in of h1"
    assert refused.value.problem == ("the hole is 2.9 mm wide, and a pierce for a kerf of 1.5 mm "
                                     "takes 3 mm; nor is there one for h2")
    assert refused.value.remedy == "mark it for the drill, or cut without lead-ins"
    led(*contours, process="laser")


def test_a_lead_that_is_too_long_is_refused_with_what_it_meets() -> None:
    with pytest.raises(ExportError, match=re.escape("lead-in of the contour of s1")) as refused:
        led(box(100.0, 60.0), slot(50.0, 30.0, 30.0, 6.0), lead=20.0)
    assert re.search(r"with 20 mm it meets s[1-4]", refused.value.problem)
    assert "shorter" in refused.value.remedy
    led(box(100.0, 60.0), slot(50.0, 30.0, 30.0, 6.0), lead=3.0)


def test_a_lead_that_is_too_short_for_the_kerf_is_refused() -> None:
    with pytest.raises(ExportError, match=r"lead-in of the contour of e1: with 1 mm it pierces "
                                          r"0\.8097 mm off the edge") as refused:
        led(box(100.0, 60.0), lead=1.0)
    assert "longer" in refused.value.remedy


@pytest.mark.parametrize("lead", [0.0, -2.0, float("nan"), float("inf")])
def test_a_length_that_is_none_is_refused(lead: float) -> None:
    with pytest.raises(ExportError, match="is no length of a lead-in"):
        led(box(100.0, 60.0), lead=lead)


def slanting(width: float) -> CutContour:
    """A hole 20 mm long that stands at half a right angle; its box says nothing of its width."""
    u = 0.5 * width / 2.0**0.5
    a, b = (40.0 + u, 30.0 - u), (54.0 + u, 44.0 - u)
    return closed((a, b, (54.0 - u, 44.0 + u), (40.0 - u, 30.0 + u)), True, 1, "v")


@pytest.mark.parametrize(("width", "fits"), [(2.9, False), (4.4, True)])
def test_a_hole_is_refused_where_a_fine_search_finds_no_place_either(
    width: float, fits: bool
) -> None:
    plate, one = box(100.0, 60.0), slanting(width)
    place = found_place(one, part_of((plate, one)), 0.0, 1.5, [2.6, 3.2])
    assert (place is not None) is fits
    if fits:
        led(plate, one)
        return
    with pytest.raises(ExportError, match=r"there is no room for one up to 3\.75 mm") as refused:
        led(plate, one)
    assert refused.value.place == "lead-in of the contour of v1"
    assert refused.value.remedy == "make it wider, or cut without lead-ins"


def test_without_a_lead_nothing_is_other_than_before() -> None:
    paths = (CutPath(box(10.0, 10.0)),)
    assert with_leads(paths, (box(10.0, 10.0),), CutSettings(), 3.0, "mm") == (paths, ())


def test_a_contour_begins_anywhere_and_its_ids_go_with_its_curves() -> None:
    contour = slot(50.0, 30.0, 30.0, 6.0)
    for beginning in beginnings(contour):
        begun = begun_at(contour, beginning)
        assert begun.start == beginning.at
        assert len(begun.ids) == len(begun.curves) == 5
        assert begun.ids[0] == begun.ids[-1] == contour.ids[beginning.number]
        assert begun.length == pytest.approx(contour.length, rel=1e-12)


def test_a_plan_has_the_leads_and_tabs_that_are_chosen_and_none_by_itself() -> None:
    inspection = looked_at(bound())
    plan = plan_cut(inspection, CutSettings(process="laser", lead="auto", tabs=2))
    assert [len(path.lead_in) > 0 for path in plan.paths] == [True] * len(plan.paths)
    assert [len(path.tabs) for path in plan.paths if not path.contour.hole] == [2]
    assert any("lead-ins of" in line for line in plan.told)
    assert any("tabs of" in line for line in plan.told)
    plain = plan_cut(inspection)
    assert not any(path.lead_in or path.lead_out or path.tabs for path in plain.paths)


def test_the_checker_sees_what_is_wrong_with_a_lead() -> None:
    plate = box(100.0, 60.0)
    (path,), _ = led(plate)
    solid = part_of((plate,))

    def faults(kerf: float = 0.0, width: float = 1.5, **changed: Any) -> str:
        return "; ".join(lead_faults(replace(path, **changed), solid, kerf, width, plate))

    assert faults() == ""
    assert "a gap of" in faults(lead_in=tuple(moved(c, 0.0, 1e-4) for c in path.lead_in))
    along = Line(path.contour.start, (path.contour.start[0] + 1.0, path.contour.start[1]))
    inside = faults(lead_in=tuple(reflected(c, along) for c in path.lead_in))
    assert "a lead cuts into the part" in inside
    assert "pierced on the other side" in inside
    assert "the kerf of a lead cuts into the part" in faults(kerf=0.3)
    assert "pierced 3.0365 off the part" in faults(width=3.5)
    assert "meets it at" in faults(lead_in=(Line(path.pierce, path.contour.start),))


def test_a_plate_that_is_drawn_offset_has_half_of_the_kerf_more_room() -> None:
    chosen = CutSettings(process="plasma", kerf=1.5, lead="auto")
    plate = box(100.0, 60.0)
    for width, fits in ((1.7, True), (1.4, False)):
        hole = slot(50.0, 30.0, 30.0, width)  # as the torch goes: 1.5 mm less than the hole
        contours = (plate, hole)
        paths = tuple(map(CutPath, contours))
        if not fits:
            with pytest.raises(ExportError, match=r"the hole is 2\.9 mm wide"):
                with_leads(paths, contours, chosen, 3.0, "mm", 0.75)
            continue
        (outer, inner), _ = with_leads(paths, contours, chosen, 3.0, "mm", 0.75)
        drawn = part_of(contours)
        for path, before in ((outer, plate), (inner, hole)):
            # Shapely's part as the drawing has it: the true one is 0.75 mm further in.
            assert list(lead_faults(path, drawn, 0.0, 0.75, before)) == []
    assert not any("two kerfs" in line for line in
                   with_leads((CutPath(plate),), (plate,), chosen, 3.0, "mm", 0.75)[1])
