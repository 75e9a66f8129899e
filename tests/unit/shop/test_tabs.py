"""Tabs of plain plates, judged by `tests/lead_checker.py`: by numbers alone."""

from __future__ import annotations

import re
from math import pi
from typing import Any

import pytest

from sketcher.errors import ExportError
from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.shop.cut_plan import CutContour, CutPath, CutSettings
from sketcher.shop.leads import with_leads
from sketcher.shop.tabs import with_tabs
from tests.lead_checker import tab_faults

WIDTH = {"laser": 1.0, "plasma": 4.0}
"""Material left, within laser 0.5 to 2 mm, plasma 3 to 5 mm (common practice, no source)."""
KERF = {"laser": 0.2, "plasma": 1.5}
"""Where none is set (common practice, no source)."""


def ring(*corners: XY, hole: bool = False) -> CutContour:
    """Corners in the direction of the cut."""
    count = len(corners)
    lines = tuple(Line(corners[k], corners[(k + 1) % count]) for k in range(count))
    return CutContour(tuple(f"e{k + 1}" for k in range(count)), lines, hole, int(hole))


def box(width: float, height: float) -> CutContour:
    return ring((0.0, 0.0), (0.0, height), (width, height), (width, 0.0))


def tabbed(contour: CutContour, tabs: int, **chosen: Any) -> tuple[CutPath, tuple[str, ...]]:
    """The path of a plate with tabs and a lead."""
    settings = CutSettings(lead=chosen.pop("lead", "auto"), tabs=tabs, **chosen)
    paths, _ = with_leads((CutPath(contour),), (contour,), settings, 3.0, "mm")
    (path,), told = with_tabs(paths, settings, "mm")
    return path, told


@pytest.mark.parametrize("process", ["laser", "plasma"])
@pytest.mark.parametrize("tabs", [1, 2, 3, 4, 7])
def test_tabs_stand_on_straights_evenly_away_from_corners_and_the_lead(
    process: str, tabs: int
) -> None:
    path, told = tabbed(box(200.0, 120.0), tabs, process=process)
    gap = WIDTH[process] + KERF[process]
    assert list(tab_faults(path, tabs, gap, 3.0)) == []
    middles = [0.5 * (first + last) for first, last in path.tabs]
    # The ideal place is the middle of a share of the contour; a corner moves it by 2 gaps at most.
    for number, middle in enumerate(middles):
        assert abs(middle - (number + 0.5) * 640.0 / tabs) <= 2.0 * gap
    assert path.length == pytest.approx(
        640.0 - tabs * gap + sum(c.length for c in (*path.lead_in, *path.lead_out)), rel=1e-12)
    assert told[0].startswith(f"tabs of {WIDTH[process]:g} mm on ")


def test_the_gap_leaves_a_tab_of_its_width_beside_the_kerf() -> None:
    path, _ = tabbed(box(200.0, 120.0), 2, kerf=0.8, tab_width=3.0)
    assert [last - first for first, last in path.tabs] == pytest.approx([3.8, 3.8], abs=1e-12)


def test_a_hole_has_no_tab() -> None:
    hole = ring((50.0, 50.0), (90.0, 50.0), (90.0, 90.0), (50.0, 90.0), hole=True)
    settings = CutSettings(process="laser", tabs=2)
    (inner, outer), _ = with_tabs((CutPath(hole), CutPath(box(200.0, 120.0))), settings, "mm")
    assert inner.tabs == ()
    assert len(outer.tabs) == 2


def test_a_disc_has_its_tabs_on_the_arc_and_a_small_one_is_refused() -> None:
    path, _ = tabbed(CutContour(("d1",), (Circle((0.0, 0.0), 60.0),), False, 0), 3,
                     process="plasma")
    assert list(tab_faults(path, 3, 5.5, 3.75)) == []
    middles = [0.5 * (first + last) for first, last in path.tabs]
    assert middles == pytest.approx([20.0 * pi, 60.0 * pi, 100.0 * pi], abs=2.5 * 5.5)
    with pytest.raises(ExportError, match=re.escape("tab 1 of 3 on the contour of d1")):
        tabbed(CutContour(("d1",), (Circle((0.0, 0.0), 20.0),), False, 0), 3, process="plasma")


def test_straights_come_before_arcs() -> None:
    # A slot-shaped plate, its ends wide enough for a tab: all four stand on the two straights.
    r, x = 60.0, 150.0
    plate = CutContour(("s1", "a1", "s2", "a2"), (
        Line((-x, r), (x, r)), Arc((x, 0.0), (x, r), (x, -r), False),
        Line((x, -r), (-x, -r)), Arc((-x, 0.0), (-x, -r), (-x, r), False)), False, 0)
    path, told = tabbed(plate, 4, process="laser")
    assert list(tab_faults(path, 4, 1.2, 3.0)) == []
    assert "a1" not in told[0]
    assert "a2" not in told[0]


def test_what_finds_no_place_is_refused_by_its_number() -> None:
    with pytest.raises(ExportError) as refused:
        tabbed(box(30.0, 20.0), 9, process="plasma")
    assert re.fullmatch(r"tab \d of 9 on the contour of e\d", refused.value.place)
    assert refused.value.remedy == "give fewer or narrower tabs"
    tabbed(box(30.0, 20.0), 9, process="laser", tab_width=0.5)


@pytest.mark.parametrize(("chosen", "problem"), [
    ({"tabs": -1, "process": "laser"}, "-1 is no number of tabs"),
    ({"tabs": 2}, "their width goes by the process, and none is named"),
    ({"tabs": 2, "tab_width": 0.0}, "0 is no width of a tab"),
    ({"tabs": 2, "tab_width": float("nan")}, "nan is no width of a tab"),
])
def test_a_count_or_a_width_that_is_none_is_refused(chosen: Any, problem: str) -> None:
    with pytest.raises(ExportError) as refused:
        tabbed(box(100.0, 60.0), lead=None, **chosen)
    assert refused.value.problem == problem
    assert refused.value.remedy
