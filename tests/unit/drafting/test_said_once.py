"""A written sheet says nothing twice, and calls equal sizes out once with their number of places.

What the sheets should say: ASME Y14.5 (repeated features, slotted holes, no double dimensioning,
reference dimensions in parentheses) and ISO 129-1, from memory.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from sketcher.drafting.measured import measured
from sketcher.drafting.paper_view import View
from sketcher.part import store
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Binding, GridPattern, Mirror, Part, PolarPattern
from sketcher.shipped import shipped
from sketcher.solve import solve
from tests.called_out import board, callouts, slot


def bracket(**more: Binding) -> Part:
    part = store.load(shipped("demo_parts", "shelf-bracket.profile.json"))
    return solve(part.having(bindings={**part.bindings, **more})).part


def test_what_is_bound_twice_is_printed_once_and_a_closed_chain_in_parentheses(
    tmp_path: Path,
) -> None:
    before = callouts(bracket(), tmp_path)
    twice = callouts(bracket(x1=Binding("rise", ("p1", "p9"), "5"),
                             x2=Binding("rise", ("p4", "p9"), "2 3/4")), tmp_path)
    assert twice - before == {"(2 3/4)": 1}
    assert before - twice == {}


def test_places_on_one_level_are_dimensioned_once_from_one_edge(tmp_path: Path) -> None:
    draft = board()
    for at in ((20.0, 30.0), (50.0, 30.0), (90.0, 55.0)):
        draft.circle(at, 4.0)
    for center in ("p5", "p6", "p7"):
        draft.bind("rise", ("p1", center), "55" if center == "p7" else "30")
    (row, other) = measured(draft.done(), View(1.0))
    assert (row.stands_for, other.stands_for) == (("b1", "b2"), ("b3",))
    assert callouts(draft.done(), tmp_path) == {"30": 1, "55": 1}


def test_places_on_one_level_far_apart_have_a_dimension_each() -> None:
    draft = board(900.0, 20.0)
    for x in (20.0, 880.0):
        draft.circle((x, 12.0), 2.0)
    for center in ("p5", "p6"):
        draft.bind("rise", ("p1", center), "12")
    draft.bind("rise", ("p1", "p4"), "20")
    draft.bind("rise", ("p2", "p3"), "20")  # both edges are seen to be the same
    assert [m.wording.plain for m in measured(draft.done(), View(1.0))] == ["12", "12", "20"]


def test_a_hole_in_line_with_an_edge_has_a_dimension_of_its_own(tmp_path: Path) -> None:
    draft = Draft(Part())
    corners = [draft.point(at) for at in (
        (0, 0), (120, 0), (120, 40), (50, 40), (50, 80), (0, 80))]
    for one, other in zip(corners, (*corners[1:], corners[0]), strict=True):
        draft.line(one, other)
    draft.circle((50, 20), 5.0)
    draft.bind("run", ("p1", "p4"), "50")
    draft.bind("run", ("p1", "p7"), "50")
    assert callouts(draft.done(), tmp_path) == {"50": 2}


def test_two_tolerances_of_one_distance_are_both_printed(tmp_path: Path) -> None:
    draft = board()
    draft.bind("run", ("p1", "p2"), "120", tolerance=(0.1, -0.1))
    draft.bind("distance", ("e3",), "120", tolerance=(0.2, 0.0))
    assert sorted(callouts(draft.done(), tmp_path)) == ["120 +0.2 0", "120 ±0.1"]


def test_the_one_with_a_tolerance_speaks_for_the_one_without(tmp_path: Path) -> None:
    draft = board()
    draft.bind("run", ("p1", "p2"), "120")
    draft.bind("distance", ("e3",), "120", tolerance=(0.1, -0.1))
    assert callouts(draft.done(), tmp_path) == {"120 ±0.1": 1}


def holes(bound: str) -> Part:
    """Six holes of one size: two in a grid, one bound equal, one by itself; two reflected."""
    draft = board()
    for at in ((70.0, 15.0), (80.0, 40.0), (100.0, 60.0), (30.0, 60.0)):
        draft.circle(at, 3.0)
    draft.line((60.0, 0.0), (60.0, 80.0), "axis", name="x1")
    draft.bind(bound, ("h1",), "6" if bound == "diameter" else "3")
    draft.bind("equal", ("h1", "h2"))
    draft.bind(bound, ("h3",), "6" if bound == "diameter" else "3")
    draft.bind(bound, ("h4",), "6" if bound == "diameter" else "3")
    draft.pattern(GridPattern(("h1",), ("20", "10"), (2, 1)))
    draft.set_mirrors([Mirror("x1", ("h2",))])
    return draft.done()


@pytest.mark.parametrize(("practice", "said"), [("ISO", "6x Ø6"), ("ASME", "6X Ø6")])
def test_holes_of_one_size_share_a_callout_however_they_were_bound(
    practice: str, said: str, tmp_path: Path
) -> None:
    found = callouts(holes("diameter"), tmp_path, practice)
    assert {text: n for text, n in found.items() if "Ø" in text} == {said: 1}


def test_only_holes_about_the_center_are_said_to_be_spaced_equally(tmp_path: Path) -> None:
    draft = board()
    for at in ((80.0, 40.0), (20.0, 40.0)):
        draft.circle(at, 3.0)
    draft.bind("diameter", ("h1",), "6")
    draft.bind("equal", ("h1", "h2"))
    center = draft.point((60.0, 40.0))
    draft.pattern(PolarPattern(("h1",), center, 4))
    found = callouts(draft.done(), tmp_path)
    assert {text: n for text, n in found.items() if "Ø6" in text} == {
        "4x Ø6 equally spaced": 1, "Ø6": 1}


def test_holes_of_another_tolerance_have_a_callout_of_their_own(tmp_path: Path) -> None:
    draft = board()
    for at in ((20.0, 30.0), (50.0, 30.0), (90.0, 55.0)):
        draft.circle(at, 4.0)
    draft.bind("diameter", ("h1",), "8")
    draft.bind("diameter", ("h2",), "8", tolerance=(0.1, 0.0))
    draft.bind("diameter", ("h3",), "8")
    assert callouts(draft.done(), tmp_path) == {"2x Ø8": 1, "Ø8 +0.1 0": 1}


def test_fillets_share_a_callout_and_other_arcs_of_their_radius_do_not(tmp_path: Path) -> None:
    draft = Draft(Part())
    # two rounded corners below, a notch of the same radius above, square to its edge
    for one, other in (((6, 0), (54, 0)), ((60, 6), (60, 40)), ((60, 40), (36, 40)),
                       ((24, 40), (0, 40)), ((0, 40), (0, 6))):
        draft.line(one, other)
    draft.arc((54, 0), (60, 6), (54, 6), name="a1")
    draft.arc((0, 6), (6, 0), (6, 6), name="a2")
    draft.arc((24, 40), (36, 40), (30, 40), name="a3")
    part = draft.done()
    for arc in ("a1", "a2", "a3"):
        part = part.having(bindings={**part.bindings, arc: Binding("radius", (arc,), "6")})
    assert callouts(joined(part), tmp_path) == {"2x R6": 1, "R6": 1}


def joined(part: Part) -> Part:
    """Let every place be one point."""
    names: dict[tuple[float, float], str] = {}
    same = {name: names.setdefault(at, name) for name, at in part.points.items()}
    curves = {}
    for name, curve in part.curves.items():
        ends = tuple(same[end] for end in curve.ends)
        curves[name] = (type(curve)(ends, same[curve.center], curve.turn)
                        if curve.kind == "arc" else type(curve)(ends))
    return part.having(curves=curves, points={n: part.points[n] for n in set(same.values())})


@pytest.mark.parametrize(("kind", "value"), [("radius", "4"), ("diameter", "8")])
def test_a_slot_is_sized_by_its_width_and_marked_at_its_round_ends(
    kind: str, value: str, tmp_path: Path
) -> None:
    draft = board()
    caps = slot(draft, (30.0, 20.0), (50.0, 20.0), 4.0)
    draft.bind(kind, (caps[0],), value)
    draft.bind("equal", caps)
    assert callouts(draft.done(), tmp_path) == {"8": 1, "2x R": 1}
    assert callouts(draft.done(), tmp_path, "ASME") == {"8": 1, "2X R": 1}


@pytest.mark.parametrize("bound", ["across", "from the middle"])
def test_a_slot_bound_by_its_sides_is_called_out_the_same(bound: str, tmp_path: Path) -> None:
    draft = board()
    slot(draft, (30.0, 20.0), (50.0, 20.0), 4.0)
    one, other = (n for n, c in draft.curves.items() if c.kind == "line" and n > "e4")
    if bound == "across":
        draft.bind("offset", (one, other), "8")
    else:
        centers = [c.center for c in draft.curves.values() if c.kind == "arc"]
        middle = draft.line(*centers, "layout")
        draft.bind("offset", (middle, one), "4")
    assert callouts(draft.done(), tmp_path) == {"8": 1, "2x R": 1}


def test_two_slots_of_one_width_share_it_and_a_fillet_of_their_radius_keeps_its_own(
    tmp_path: Path,
) -> None:
    draft = board()
    first = slot(draft, (30.0, 20.0), (50.0, 20.0), 4.0)
    other = slot(draft, (80.0, 30.0), (80.0, 60.0), 4.0)
    draft.circle((20.0, 60.0), 4.0)
    for cap in (*first, *other):
        draft.bind("radius", (cap,), "4")
    draft.bind("equal", ("h1", first[0]))
    assert callouts(draft.done(), tmp_path) == {"2x 8": 1, "4x R": 1, "R4": 1}


def test_a_tolerance_of_a_slot_s_radius_is_twice_as_wide_across(tmp_path: Path) -> None:
    draft = board()
    caps = slot(draft, (30.0, 20.0), (50.0, 20.0), 4.0)
    draft.bind("radius", (caps[0],), "4", tolerance=(0.1, 0.0))
    assert callouts(draft.done(), tmp_path)["8 +0.2 0"] == 1


def test_the_curved_slot_of_the_shift_arm_has_its_width_and_both_ends(tmp_path: Path) -> None:
    part = solve(store.load(shipped("demo_parts", "shift-arm.profile.json"))).part
    found = callouts(part, tmp_path)
    assert found["8"] == 1
    assert found["2x R"] == 2  # one at each of the two slots, which differ in width
    assert found["R52"] == 1
    assert not {"R4", "2x R5"} & found.keys()
