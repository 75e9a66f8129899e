"""The cutting file in R12, and what marks, leads, tabs and a kerf become in either form."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import cos, dist, hypot, pi
from pathlib import Path

import ezdxf
import pytest

from sketcher.exchange.cut_entities import between_tabs
from sketcher.exchange.dxf_cut import cut_bytes, name_with_unit, named_unit
from sketcher.exchange.dxf_numbers import fixed
from sketcher.exchange.outputs import CUTTING
from sketcher.geometry.curves import Arc, Line
from sketcher.shop.cut_layers import kerf_layer, kerf_of_layer
from sketcher.shop.cut_plan import CutMark, CutPath, CutPlan, CutSettings, MarkForm
from sketcher.shop.planning import plan_cut
from tests.plates import looked_at, plate, rectangle
from tests.r12_reader import Drawn, NotR12, R12File, read_r12
from tests.unit.exchange.test_dxf_cut import obround


def planned(unit: str = "mm") -> CutPlan:
    """Plan of a plate 60 by 40 with a slot and a round hole."""
    return plan_cut(looked_at(obround(unit)))


def strictly(plan: CutPlan, pieces: bool = False) -> R12File:
    """The file of a plan in R12, as a simple controller reads it."""
    return read_r12(cut_bytes(plan, pieces, "r12"))


def kinds(found: R12File) -> list[tuple[str, str]]:
    return [(entity.kind, entity.layer) for entity in found.entities]


def ends(entity: Drawn) -> tuple[tuple[float, float], tuple[float, float]]:
    return entity.segments[0][0], entity.segments[-1][1]


def test_contours_are_closed_polylines_and_circles_inside_first() -> None:
    found = strictly(planned())
    assert kinds(found)[2:] == [("POLYLINE", "OUTSIDE")]
    assert sorted(kinds(found)[:2]) == [("CIRCLE", "INSIDE"), ("POLYLINE", "INSIDE")]
    assert all(entity.closed for entity in found.entities)
    areas = {(entity.kind, entity.layer): entity.area for entity in found.entities}
    assert areas[("POLYLINE", "OUTSIDE")] == pytest.approx(-60.0 * 40.0)  # clockwise
    assert areas[("POLYLINE", "INSIDE")] == pytest.approx(10.0 * 4.0 + pi * 2.0**2)
    assert areas[("CIRCLE", "INSIDE")] == pytest.approx(pi * 6.0**2)
    assert found.layers == ["0", "INSIDE", "OUTSIDE"]


def test_pieces_are_single_lines_and_arcs() -> None:
    found = strictly(planned(), pieces=True)
    assert sorted(kind for kind, _ in kinds(found)) == ["ARC", "ARC", "CIRCLE"] + ["LINE"] * 6


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_unit_stands_in_a_comment(unit: str) -> None:
    assert f"unit {unit}" in strictly(planned(unit)).comments


def test_the_reader_of_the_tests_stops_at_the_larger_form() -> None:
    with pytest.raises(NotR12):
        read_r12(cut_bytes(planned(), form="r2000"))
    short = cut_bytes(planned(), form="r12").replace(b"0.0", b"0e0", 1)
    with pytest.raises(NotR12, match="fixed point"):
        read_r12(short)


@pytest.mark.parametrize(("value", "text"), [
    (0.0, "0.0"), (-0.0, "0.0"), (-3.99e-24, "0.0"), (1e-7, "0.0000001"), (25.0, "25.0"),
    (12.499999999999998, "12.5"), (-1e20, "-100000000000000000000.0"), (1 / 3, "0.333333333333"),
])
def test_numbers_are_in_fixed_point(value: float, text: str) -> None:
    assert fixed(value) == text


@pytest.mark.parametrize(("name", "unit", "proposed"), [
    ("plate-mm.dxf", "mm", None), ("plate 3mm.dxf", "mm", None), ("a_IN.dxf", "in", None),
    ("in.dxf", "in", None), ("plate.dxf", "mm", "plate-mm.dxf"),
    ("plate-in.dxf", "mm", "plate-mm.dxf"), ("built-in-box.dxf", "in", "built-in-box-in.dxf"),
    ("plate-mm-2.dxf", "mm", None), ("plate inches.dxf", "in", None), ("7.dxf", "mm", "7-mm.dxf"),
    ("plate-mm-2.dxf", "in", "plate-in.dxf"), ("pin.dxf", "in", "pin-in.dxf"),
    ("mm.dxf", "in", "cut-in.dxf"),
])
def test_the_name_has_to_end_with_the_unit(name: str, unit: str, proposed: str | None) -> None:
    minded = named_unit(Path("some-mm") / name, unit)
    assert [line.split()[-1] for line in minded] == ([proposed] if proposed else [])
    if proposed:
        assert named_unit(proposed, unit) == ()


def test_a_name_is_given_its_unit() -> None:
    assert name_with_unit("Gate strap", "in") == "Gate strap-in"


@pytest.mark.parametrize(("form", "shapes"), [
    ("point", ["POINT"]), ("cross", ["LINE", "LINE"]), ("circle", ["CIRCLE"]),
])
def test_punch_marks_come_first_and_the_drill_takes_them_away(
    form: MarkForm, shapes: list[str]
) -> None:
    mark = CutMark("h", (40.0, 20.0), 3.0, "small")
    plan = replace(planned(), marks=(mark,), settings=CutSettings(mark_form=form))
    found = strictly(plan)
    assert "layer MARK: punch marks, not cut through" in found.comments
    assert kinds(found)[:len(shapes)] == [(shape, "MARK") for shape in shapes]
    assert [layer for _, layer in kinds(found)[len(shapes):]] == ["INSIDE", "INSIDE", "OUTSIDE"]
    for entity in found.entities[:len(shapes)]:
        x0, y0, x1, y1 = entity.box
        assert (0.5 * (x0 + x1), 0.5 * (y0 + y1)) == pytest.approx((40.0, 20.0))
        assert max(x1 - x0, y1 - y0) <= 1.5
    space = ezdxf.readfile(_file(plan)).modelspace()
    assert [e.dxftype() for e in space][:len(shapes)] == shapes


def _file(plan: CutPlan) -> Path:
    """The larger form in a file of its own, which the library reads."""
    from tempfile import mkdtemp

    path = Path(mkdtemp()) / "cut.dxf"
    path.write_bytes(cut_bytes(plan))
    return path


def led(path: CutPath) -> CutPath:
    """The path with an arc and a line before its contour and a line after it."""
    x, y = path.contour.start
    return replace(path, lead_in=(Line((x - 4.0, y - 1.0), (x - 1.0, y - 1.0)),
                                  Arc((x - 1.0, y), (x - 1.0, y - 1.0), (x, y))),
                   lead_out=(Line((x, y), (x, y + 0.5)),))


@pytest.mark.parametrize("hole", [True, False])
def test_leads_meet_the_contour_on_a_layer_of_their_own(hole: bool) -> None:
    plan = planned()
    path = next(each for each in plan.paths if each.contour.hole == hole)
    found = strictly(replace(plan, paths=(led(path),)))
    layer = "INSIDE" if hole else "OUTSIDE"
    assert [name for _, name in kinds(found)] == ["LEAD", layer, "LEAD"]
    first, contour, last = found.entities
    assert ends(first)[1] == ends(contour)[0] == ends(last)[0]
    assert contour.closed
    assert not first.closed
    assert found.layers[-1] == "LEAD"
    assert found.box == pytest.approx((*found.low, *found.high))
    assert any("LEAD" in line for line in found.comments)
    assert not any("LEAD" in line or "MARK" in line or "tabs" in line
                   for line in strictly(plan).comments)


def test_a_circle_with_a_lead_is_two_half_turns_that_begin_at_it() -> None:
    plan = planned()
    round_one = led(next(each for each in plan.paths if each.contour.circle))
    found = strictly(replace(plan, paths=(round_one,)))
    assert [kind for kind, _ in kinds(found)] == ["POLYLINE", "POLYLINE", "LINE"]
    first, contour, _ = found.entities
    assert ends(first)[1] == ends(contour)[0] == (46.0, 20.0)
    assert contour.area == pytest.approx(pi * 36.0)
    disc = replace(round_one, contour=replace(round_one.contour, hole=False))
    assert strictly(replace(plan, paths=(disc,))).entities[1].area == pytest.approx(-pi * 36.0)


def test_tabs_are_gaps_in_the_contour() -> None:
    plan = planned()
    path = replace(plan.paths[-1], tabs=((10.0, 12.0), (39.0, 42.0), (110.0, 113.0)))
    found = strictly(replace(plan, paths=(path,)))
    runs = found.entities
    assert "open contours: their gaps are tabs, not cut" in found.comments
    assert [run.closed for run in runs] == [False] * 4
    assert ends(runs[0])[0] == ends(runs[-1])[1] == path.contour.start
    gaps = [dist(ends(one)[1], ends(other)[0]) for one, other in pairwise(runs)]
    # The second one goes round the corner after the first edge, of 40.
    assert gaps == pytest.approx([2.0, hypot(1.0, 2.0), 3.0])
    cut = sum(dist(a, b) for run in runs for a, b, _ in run.segments)
    assert cut == pytest.approx(200.0 - 8.0)
    assert path.length == pytest.approx(cut)


def test_the_extents_leave_out_what_a_tab_takes_away() -> None:
    disc = plan_cut(looked_at(plate({"c": (0.0, 0.0)}, {"o": ("c", 20.0)})))
    top = 20.0 * 1.5 * pi  # clockwise from the right, the top comes after three quarters
    path = replace(disc.paths[0], tabs=((top - 2.0, top + 2.0),))
    found = strictly(replace(disc, paths=(path,)))
    assert found.high == pytest.approx((20.0, 20.0 * cos(0.1)))
    assert found.low == pytest.approx((-20.0, -20.0))
    assert found.box == pytest.approx((*found.low, *found.high))


def test_a_tab_that_ends_at_a_corner_leaves_no_scrap_of_a_line() -> None:
    points, lines = rectangle(60.0, 60.0)
    path = plan_cut(looked_at(plate(points, lines))).paths[0]
    runs = between_tabs(replace(path, tabs=((55.0, 60.0), (120.0, 125.0))))
    assert [len(run) for run in runs] == [1, 1, 2]


def test_tabs_on_a_circle_keep_its_direction() -> None:
    plan = planned()
    path = next(each for each in plan.paths if each.contour.circle)
    path = replace(path, tabs=((3.0 * pi - 1.0, 3.0 * pi + 1.0),))
    runs = strictly(replace(plan, paths=(path,))).entities
    assert [bend > 0.0 for run in runs for *_, bend in run.segments] == [True] * 3
    assert path.length == pytest.approx(12.0 * pi - 2.0)


@pytest.mark.parametrize(("kerf", "unit", "name"), [
    (0.0, "mm", "OUTSIDE"), (1.5, "mm", "OUTSIDE_KERF_1_5MM"), (2.0, "mm", "OUTSIDE_KERF_2MM"),
    (0.06, "in", "OUTSIDE_KERF_0_06IN"), (0.2, "mm", "OUTSIDE_KERF_0_2MM"),
])
def test_layers_carry_the_kerf(kerf: float, unit: str, name: str) -> None:
    assert kerf_layer("OUTSIDE", kerf, unit) == name
    assert kerf_of_layer(name, unit) == pytest.approx(kerf)
    assert kerf_of_layer(name.lower(), "mm") == pytest.approx(kerf * (25.4 if unit == "in" else 1))


@pytest.mark.parametrize("form", ["r12", "r2000"])
def test_a_file_with_a_kerf_says_so_and_is_still_known_as_a_cutting_file(form: str) -> None:
    plan = replace(planned(), settings=CutSettings(kerf=1.5))
    data = cut_bytes(plan, form=form)  # type: ignore[arg-type]
    assert b"offset for a kerf of 1.5 mm, do not offset it again" in data
    assert b"INSIDE_KERF_1_5MM" in data
    assert CUTTING.own(data.replace(b"\r\n", b"\n"))
    assert not CUTTING.own(data.replace(b"\r\n", b"\n").replace(b"INSIDE_KERF", b"INSIDE_HOLE"))
