"""The page of a cut without a window: its form read, its way played, its refusals blamed."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import dist, pi, sqrt

import pytest
from shapely.geometry import LineString, Point
from shapely.ops import substring

from sketcher.board.board import Board
from sketcher.board.files import cutting_trial
from sketcher.board.files.cutting_advice import advice_lines
from sketcher.board.files.cutting_form import (
    CutOrder,
    cut_fields,
    keep_values,
    kept_kerf,
    read_cut,
    start_values,
)
from sketcher.board.files.cutting_run import RAPID, CutRun
from sketcher.board.files.cutting_trial import tried_cut
from sketcher.board.files.cutting_words import lines_to_heed, material_words, plan_words, step_words
from sketcher.board.settings import Settings
from sketcher.errors import ExportError, QuantityError
from sketcher.geometry.curves import Circle, Line
from sketcher.geometry.evaluate import midpoint, start_of
from sketcher.part.value import CircleCurve, Material
from sketcher.shop.cut_plan import CutContour, CutMark, CutPath, CutPlan, CutSettings
from tests.plates import bound


def square(x: float, y: float, side: float, hole: bool = False) -> CutContour:
    corners = [(x, y), (x, y + side), (x + side, y + side), (x + side, y), (x, y)]
    lines = tuple(Line(a, b) for a, b in pairwise(corners))
    return CutContour(("e1", "e2", "e3", "e4"), lines, hole, int(hole))


def made_plan() -> CutPlan:
    """A mark, a round hole, and a square with a lead-in and a tab."""
    hole = CutContour(("h",), (Circle((5.0, 5.0), 2.0),), True, 1)
    outside = CutPath(square(0.0, 0.0, 10.0), (Line((-3.0, 0.0), (0.0, 0.0)),), (),
                      ((12.0, 14.0),))
    return CutPlan("made", "mm", 3.0, CutSettings(process="plasma", tabs=1),
                   (CutMark("m", (8.0, 8.0), 3.0, "too small"),),
                   (CutPath(hole), outside), (hole, outside.contour), travel=30.0,
                   travel_as_drawn=45.0)


def test_the_way_is_as_long_as_what_is_cut_and_goes_through_it() -> None:
    run = CutRun(made_plan())
    cuts = [leg for leg in run.legs if leg.kind == "cut"]
    # by hand: a circle of radius 2, a lead-in of 3, four sides of 10 less a tab of 2
    assert sum(leg.takes for leg in cuts) == pytest.approx(4.0 * pi + 3.0 + 38.0, rel=1e-12)
    assert [leg.kind for leg in run.legs] == [
        "mark", "rapid", "cut", "rapid", "cut", "cut", "tab", "cut"]
    rapid = dist((8.0, 8.0), (7.0, 5.0)) + dist((7.0, 5.0), (-3.0, 0.0)) + 2.0
    moment = run.legs[0].takes
    assert run.takes == pytest.approx(4.0 * pi + 41.0 + rapid / RAPID + moment, rel=1e-12)
    assert run.stops[0] == 0.0
    assert run.stops[-1] == run.takes


def test_the_torch_is_where_the_length_along_the_contour_says() -> None:
    """Against shapely's length along a line, for the square of which every place is known."""
    run = CutRun(made_plan())
    ring = LineString([(-3, 0), (0, 0), (0, 10), (10, 10), (10, 0), (0, 0)])
    begin = run.begin_of(3)
    for far in (0.0, 1.5, 3.0, 7.25, 14.9):  # up to the tab, 3 of lead-in and 12 of contour
        torch = run.torch(begin + far)
        assert torch is not None
        assert Point(torch).distance(ring.interpolate(far)) < 1e-9
        assert run.number(begin + far) == 3
    behind = run.begun(begin + 3.0 + 7.25)
    cut = LineString([start_of(behind[0]), *(c.end for c in behind if isinstance(c, Line))])
    assert cut.equals_exact(substring(ring, 3.0, 10.25), 1e-9)
    assert run.torch(run.takes) == (0.0, 0.0)
    assert run.torch(0.0) == (8.0, 8.0)


def test_a_round_plate_is_cut_clockwise_and_its_tab_lies_there() -> None:
    """By hand: from the right, outside contours run clockwise, so a quarter turn on is below."""
    disc = CutContour(("d",), (Circle((0.0, 0.0), 10.0),), False, 0)
    quarter = 5.0 * pi
    path = CutPath(disc, tabs=((quarter - 1.0, quarter + 1.0),))
    run = CutRun(replace(made_plan(), marks=(), paths=(path,), finished=(disc,)))
    assert [leg.kind for leg in run.legs] == ["cut", "tab", "cut"]
    tab = run.legs[1].curves
    assert dist(midpoint(tab[len(tab) // 2]), (0.0, -10.0)) < 1e-9
    assert run.torch(0.5 * quarter) == pytest.approx((10.0 / sqrt(2.0), -10.0 / sqrt(2.0)))
    assert run.torch(run.takes) == pytest.approx((10.0, 0.0))


def test_what_is_cut_in_a_moment_is_told_by_its_name() -> None:
    plan = made_plan()
    run = CutRun(plan)
    assert [step_words(run, number) for number in range(4)] == [
        "Before the first of 3", "1 of 3: mark m, drill \xd83", "2 of 3: inside h",
        "3 of 3: outside e1, e2, e3 and e4"]
    told = plan_words(plan)
    assert "2 cuts" in told
    assert "1 punch mark" in told
    assert "3 pierces" in told  # one at each path and one after the tab
    assert "53.6 mm of cut" in told  # 4 pi + 41 by hand
    assert "30 mm of travel (45 mm as drawn)" in told


def test_the_plate_is_told_with_its_unit_as_it_was_typed() -> None:
    part = bound().having(unit="in", material=Material("brass", 0.25, written="1/4"))
    assert material_words(part) == "brass, 1/4 in thick"
    assert material_words(bound().having(material=Material("", 3.0))) == \
        "material not said, 3 mm thick"


def test_a_form_as_it_opens_orders_the_part_as_it_is() -> None:
    for unit in ("mm", "in"):
        part = bound().having(unit=unit)
        values = start_values(part, Settings())
        assert set(values) == {one.name for one in cut_fields(part)}
        assert read_cut(part, values) == CutOrder(CutSettings())
        assert read_cut(part, {}) == CutOrder(CutSettings())


def test_all_that_can_be_chosen_arrives() -> None:
    order = read_cut(bound(), {
        "process": "plasma", "kerf": "1.5", "lead": "1/4 in", "small_holes": "mark",
        "mark_form": "cross", "tabs": "3", "tab_width": "4", "copies": "12",
        "plate": "1000 x 500", "between": "10", "grain": "yes", "lower_left": "yes",
        "form": "r12", "pieces": "yes"})
    assert order == CutOrder(CutSettings(
        "plasma", 1.5, 6.35, "mark", "cross", 3, 4.0, 12, (1000.0, 500.0), 10.0, True, True),
        "r12", True)
    assert read_cut(bound(), {"lead": "auto"}).settings.lead == "auto"
    inches = bound().having(unit="in")
    assert read_cut(inches, {"plate": "48 \xd7 24"}).settings.plate == (48.0, 24.0)
    assert read_cut(inches, {"kerf": "1.27 mm"}).settings.kerf == pytest.approx(0.05, rel=1e-12)


@pytest.mark.parametrize(("name", "text"), [
    ("kerf", "wide"), ("kerf", "25"), ("kerf", "-1"), ("lead", "1/4"), ("tab_width", "-2"),
    ("plate", "1000"), ("plate", "1000 x"), ("plate", "0 x 500"), ("between", "1..2")])
def test_what_cannot_be_read_is_told_at_its_field(name: str, text: str) -> None:
    with pytest.raises(QuantityError) as told:
        read_cut(bound(), {name: text})
    assert told.value.place == name
    assert told.value.reason


def test_the_next_cut_begins_as_the_last_one_was() -> None:
    settings, part = Settings(), bound()
    order = read_cut(part, {"process": "plasma", "kerf": "1.2", "lead": "auto", "form": "r12",
                            "copies": "4"})
    keep_values(order, part, settings)
    keep_values(read_cut(part, {"process": "laser"}), part, settings)
    keep_values(order, part, settings)
    values = start_values(part, settings)
    assert {name: values[name] for name in ("process", "kerf", "lead", "form", "copies")} == {
        "process": "plasma", "kerf": "1.2", "lead": "auto", "form": "r12", "copies": "1"}
    assert kept_kerf("laser", part, settings) == ""
    assert kept_kerf("plasma", part.having(unit="in"), settings) == ".0472"  # 1.2 / 25.4
    settings["kerf_plasma"] = "as wide as it is"  # settings are typed by hand too
    assert kept_kerf("plasma", part, settings) == ""


def test_what_can_be_done_without_is_blamed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever the stages refuse, the field is found by trying without each."""
    board = Board()
    board.load(bound())
    inspection = board.bench.derived.inspection()
    settings = CutSettings("plasma", 1.5, "auto", tabs=2, copies=3)

    def refusing(*names: str):
        made: list[CutSettings] = []

        def planned(_: object, chosen: CutSettings, __: object) -> CutPlan:
            assert chosen not in made  # a plan takes its time
            made.append(chosen)
            if any(getattr(chosen, name) != getattr(CutSettings(), name) for name in names):
                raise ExportError("h", "cannot be cut so", "choose otherwise")
            return made_plan()

        monkeypatch.setattr(cutting_trial, "plan_cut", planned)
        return tried_cut(inspection, settings, ())

    for names, blamed in ((("kerf",), "kerf"), (("lead",), "lead"), (("tabs",), "tabs"),
                          (("copies",), "plate"), (("kerf", "lead"), "kerf"), ((), "")):
        trial = refusing(*names)
        assert trial.blamed == blamed
        assert (trial.plan is None) is bool(names)
    assert refusing("process").blamed == ""  # no field that can be left alone


def test_what_the_plan_tells_is_read_first_and_only_the_advice_of_its_process() -> None:
    board = Board()
    part = bound()
    board.load(part.having(bindings={k: b for k, b in part.bindings.items() if k != "b7"},
                           points={**part.points, "c": (2.0, 10.0)},
                           curves={**part.curves, "h": CircleCurve("c", 0.5)}))
    inspection = board.bench.derived.inspection()
    assert any(one.process == "plasma" for one in inspection.cutting)
    codes = {found.code for found in inspection.findings}
    plan = made_plan()
    told = replace(plan, told=("2 holes are marked",))
    laser = advice_lines(replace(inspection, processes=("laser",)))
    lines = lines_to_heed(inspection, codes, laser, told, ("Mind the fumes.",))
    assert f"look at {laser.places} place" in " ".join(lines)
    assert lines[:2] == ("This cut", "    2 holes are marked")
    assert lines[-2:] == ("Cautions", "    Mind the fumes.")
    assert any(line.strip().startswith(tuple(codes)) for line in lines)
    assert "Laser" in lines
    assert not any("plasma" in line.lower() for line in lines)
    waiting = lines_to_heed(inspection, codes, None, None, ("Mind the fumes.",))
    assert any("being worked out" in line for line in waiting)
