"""Chamfers, halves and layout on the written sheet.

Forms: chamfers as ISO 129-1 and ASME Y14.5 have them; the whole of a symmetric outline is
dimensioned across its axis (ASME Y14.5, symmetrical outlines); all from memory.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from sketcher.drafting.dimension_text import Wording
from sketcher.drafting.measured import measured
from sketcher.drafting.paper_view import View
from sketcher.drafting.sheet import pages
from sketcher.part import store
from sketcher.part.edits.chamfer import chamfer
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.fillet import fillet
from sketcher.part.value import Binding, Mirror, Part
from sketcher.shipped import shipped
from sketcher.solve import solve
from tests.called_out import board, callouts


def cut(*legs: tuple[str, str, str, str | None]) -> Part:
    """A plate with chamfers between named edges."""
    part = board().done()
    for one, other, leg, second in legs:
        part = chamfer(part, one, other, leg, second).part
    return solve(part).part


@pytest.mark.parametrize(("practice", "said"), [("ISO", "2x 4 × 45°"), ("ASME", "2X 4 X 45°")])
def test_equal_legs_of_a_square_corner_are_one_chamfer_with_its_count(
    practice: str, said: str, tmp_path: Path
) -> None:
    part = cut(("e1", "e2", "4", None), ("e3", "e4", "4", None), ("e2", "e3", "6", None))
    assert callouts(part, tmp_path, practice) == {said: 1, said[3:].replace("4 ", "6 ", 1): 1}


def test_unequal_legs_stay_two_dimensions(tmp_path: Path) -> None:
    assert callouts(cut(("e1", "e2", "4", "7")), tmp_path) == {"4": 1, "7": 1}


def test_a_leg_with_a_tolerance_of_its_own_keeps_it(tmp_path: Path) -> None:
    part = cut(("e1", "e2", "4", None))
    name = next(n for n, b in part.bindings.items() if b.value == "4")
    bound = Binding(**{**{f: getattr(part.bindings[name], f) for f in (
        "kind", "of", "value", "side", "drives")}, "tolerance": (0.2, -0.2)})
    part = part.having(bindings={**part.bindings, name: bound})
    assert callouts(part, tmp_path) == {"4 ±0.2": 1, "4": 1}


def test_a_run_and_forty_five_degrees_are_a_chamfer(tmp_path: Path) -> None:
    part = solve(store.load(shipped("demo_parts", "shelf-bracket.profile.json"))).part
    found = callouts(part, tmp_path)
    assert found["5/8 × 45°"] == 1
    assert not {"5/8", "45°"} & found.keys()


def test_a_long_bevel_keeps_its_length_and_its_angle(tmp_path: Path) -> None:
    draft = Draft(Part())
    corners = [draft.point(at) for at in ((0, 0), (60, 0), (60, 10), (20, 50), (0, 50))]
    for one, other in zip(corners, (*corners[1:], corners[0]), strict=True):
        draft.line(one, other)
    draft.bind("angle", ("e3",), "45")
    draft.bind("run", ("e3",), "40")
    assert callouts(draft.done(), tmp_path) == {"45°": 1, "40": 1}


def test_a_base_that_begins_on_the_axis_is_dimensioned_across_though_its_corner_is_round(
    tmp_path: Path,
) -> None:
    draft = Draft(Part())
    corners = [draft.point(at) for at in ((0, 0), (60, 0), (60, 40), (0, 40))]
    for one, other in pairwise(corners):
        draft.line(one, other)
    draft.line(corners[0], corners[3], "axis", name="x1")
    draft.bind("fixed", ("p1",))
    draft.bind("level", ("e1",))
    draft.bind("distance", ("e1",), "60")
    draft.set_mirrors([Mirror("x1")])
    part = solve(draft.done()).part
    assert callouts(part, tmp_path) == {"120": 1}
    assert callouts(solve(fillet(part, "e1", "e2", "8").part).part, tmp_path) == {
        "120": 1, "2x R8": 1}


def test_a_distance_to_a_scribed_line_goes_to_the_holes_on_it(tmp_path: Path) -> None:
    draft = board()
    draft.line((0, 25), (120, 25), "layout", name="s1")
    draft.circle((40, 25), 3.0)
    draft.bind("on", (draft.curves["h1"].center, "s1"))
    draft.bind("level", ("s1",))
    draft.bind("offset", ("e1", "s1"), "25")
    (one,) = measured(draft.done(), View(1.0))
    assert (40.0, 25.0) in one.second
    assert (0.0, 25.0) not in one.second
    assert callouts(draft.done(), tmp_path) == {"25": 1}


def test_the_step_between_concentric_rounds_of_the_outline_is_printed(tmp_path: Path) -> None:
    draft = Draft(Part())
    center = draft.point((0, 0))
    draft.circle(center, 20.0)
    draft.circle(center, 6.0)
    draft.bind("offset", ("h1", "h2"), "14")
    assert callouts(draft.done(), tmp_path) == {"14": 1}


def test_layout_that_determines_nothing_is_not_dimensioned(tmp_path: Path) -> None:
    draft = board()
    draft.line((300, 90), (340, 90), "layout", name="s1")
    draft.bind("run", ("p1", draft.curves["s1"].ends[0]), "300")
    draft.bind("distance", ("s1",), "40")
    draft.bind("distance", ("e1",), "120")
    assert callouts(draft.done(), tmp_path) == {"120": 1}


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_the_angles_of_a_curved_slot_open_at_the_center_of_its_path(practice: str) -> None:
    part = solve(store.load(shipped("demo_parts", "shift-arm.profile.json"))).part
    page = pages(part.having(drawing=replace(part.drawing, practice=practice)))[0]
    assert page.view is not None
    center = page.view.point(part.points["c1"])
    angles = {d.id: d.points[0] for d in page.dimensions if d.id in ("b30", "b31")}
    assert len(angles) == 2
    for vertex in angles.values():
        assert vertex == pytest.approx(center, abs=1e-6)


def test_stacked_deviations_are_no_smaller_than_lettering_may_be() -> None:
    """ASME Y14.2 Table 1, 3 mm (from memory); beside large numbers they are 0.7 of their height."""
    said = Wording("Ø36", "+0.05", "0")
    for height, small in ((3.0, 3.0), (3.5, 3.0), (5.0, 3.5)):
        _, upper, lower = said.texts((0.0, 0.0), (1.0, 0.0), height, "dimension:b1")
        assert upper.height == lower.height == pytest.approx(small)
        assert said.height(height) == pytest.approx(upper.at[1] - lower.at[1] + small)
