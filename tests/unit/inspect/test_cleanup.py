"""Clean-up on seeded defects: each is found, named with its size, and mended."""

from __future__ import annotations

import re
from collections.abc import Callable
from math import cos, pi, sin, sqrt, tau
from pathlib import Path

import pytest

from sketcher.geometry.curves import XY, Curve, Line
from sketcher.geometry.loops import find_loops
from sketcher.inspect import cleanup
from sketcher.inspect.cleanup import Turns, defects, mend_all, mends, summary
from sketcher.inspect.mend import Defect, MendStep
from sketcher.inspect.survey import Survey
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.set_mirror import set_mirror
from sketcher.part.file_text import read, write
from sketcher.part.store import load
from sketcher.part.value import Part
from sketcher.part.whole import half, whole
from sketcher.solve import solve
from tests.demo_parts import SOUND as DEMO_PARTS
from tests.refusals import is_line


def outline(part: Part) -> list[tuple[str, Curve]]:
    return [(p.id, p.curve) for p in whole(part) if p.role == "outline"]


def tongue() -> Draft:
    """60 by 40 with a half round at its right end and a hole: e1 e2 e3 a1 h1."""
    draft = Draft(Part(name="Tongue"))
    p = [draft.point(at) for at in ((0, 0), (60, 0), (60, 40), (0, 40))]
    draft.line(p[0], p[1])
    draft.arc(p[1], p[2], (60, 20))
    draft.line(p[2], p[3])
    draft.line(p[3], p[0])
    draft.circle((20, 20), 6.0)
    return draft


AREA = 60 * 40 + pi * (20**2 / 2 - 6**2)


def line_of(draft: Draft, name: str) -> tuple[str, str]:
    ends = draft.curves[name].points[:2]
    return ends[0], ends[1]


def copied(draft: Draft) -> None:
    draft.line((60, 40), (0, 40))


def copied_arc(draft: Draft) -> None:
    draft.arc((60, 40), (60, 0), (60, 20), "cw")


def copied_circle(draft: Draft) -> None:
    draft.circle((20, 20), 6.0)


def inside_another(draft: Draft) -> None:
    draft.line((10, 0), (30, 0))


def arc_over_circle(draft: Draft) -> None:
    draft.arc((26, 20), (20, 26), (20, 20))


def speck_at_a_corner(draft: Draft) -> None:
    end = draft.point((60 - 1e-7, 40))
    draft.change_curve("e2", ends=(end, line_of(draft, "e2")[1]))
    draft.line("p3", end)


def lone_speck(draft: Draft) -> None:
    draft.circle((30, 30), 1e-6)


def gap_at_a_corner(draft: Draft) -> None:
    end = draft.point((0, 39.8))
    draft.change_curve("e3", ends=(end, "p1"))


def gap_beside_an_arc(draft: Draft) -> None:
    end = draft.point((59.9, 40))
    draft.change_curve("e2", ends=(end, "p4"))


def both_run_past(draft: Draft) -> None:
    draft.change_curve("e2", ends=("p3", draft.point((-0.3, 40))))
    draft.change_curve("e3", ends=(draft.point((0, 40.2)), "p1"))
    draft.remove("p4")


def two_points_at_a_corner(draft: Draft) -> None:
    draft.change_curve("e2", ends=("p3", draft.point((0, 40))))


def stub_in_the_open(draft: Draft) -> None:
    draft.line("p4", (-20, 60))


def stub_of_two(draft: Draft) -> None:
    far = draft.point((-20, 60))
    draft.line("p4", far)
    draft.line(far, (-30, 60))


def stub_from_a_side(draft: Draft) -> None:
    draft.line((30, 0), (30, -15))


def tail_past_a_crossing(draft: Draft) -> None:
    draft.change_curve("e2", ends=("p3", draft.point((-20, 40))))
    draft.change_curve("e3", ends=(draft.point((0, 55)), "p1"))
    draft.remove("p4")


def lone_point(draft: Draft) -> None:
    draft.point((15, 70))


def loose_bit(draft: Draft) -> None:
    draft.line((200, 0), (200.3, 0))


def overlapping_tails(draft: Draft) -> None:
    draft.change_curve("e1", ends=("p1", draft.point((40, 0))))
    draft.line((25, 0), "p2")


SEEDED: dict[Callable[[Draft], None], tuple[str, float, tuple[str, ...], XY, str]] = {
    # the kind, the size, what would change first, a place to look at, and the edit offered
    copied: ("doubled", 60, ("e4", "e2"), (30, 40), "absorb"),
    copied_arc: ("doubled", 20 * pi, ("a2", "a1"), (80, 20), "absorb"),
    copied_circle: ("doubled", 12 * pi, ("h2", "h1"), (20, 20), "absorb"),
    inside_another: ("overlap", 20, ("e4", "e1"), (20, 0), "delete"),
    arc_over_circle: ("overlap", 3 * pi, ("a2", "h1"), (20 + 3 * 2**0.5, 20 + 3 * 2**0.5),
                      "delete"),
    speck_at_a_corner: ("speck", 1e-7, ("e4",), (60, 40), "merge"),
    lone_speck: ("speck", 2e-6 * pi, ("h2",), (30, 30), "delete"),
    gap_at_a_corner: ("gap", 0.2, ("e2", "e3"), (0, 40), "corner"),
    gap_beside_an_arc: ("gap", 0.1, ("a1", "e2"), (60, 40), "corner"),
    both_run_past: ("gap", 0.2, ("e3", "e2"), (0, 40.2), "corner"),
    two_points_at_a_corner: ("apart", 0, ("e2", "e3"), (0, 40), "merge"),
    stub_in_the_open: ("stub", 20 * 2**0.5, ("e4",), (-10, 50), "delete"),
    stub_of_two: ("stub", 20 * 2**0.5 + 10, ("e4", "e5"), (-25, 60), "delete"),
    stub_from_a_side: ("stub", 15, ("e4",), (30, -7.5), "delete"),
    tail_past_a_crossing: ("stub", 20, ("e2",), (-10, 40), "cut_back"),
    lone_point: ("lone", 0, ("p7",), (15, 70), "delete"),
    loose_bit: ("stub", 0.3, ("e4",), (200.15, 0), "delete"),
    overlapping_tails: ("overlap", 15, ("e4", "e1"), (32.5, 0), "unite"),
}


@pytest.mark.parametrize("seed", SEEDED, ids=lambda seed: seed.__name__)
def test_a_seeded_defect_is_named_with_its_size(seed: Callable[[Draft], None]) -> None:
    draft = tongue()
    seed(draft)
    found = defects(draft.done())
    kind, size, ids, at, edit = SEEDED[seed]
    first = found[0]
    assert (first.kind, first.ids) == (kind, ids)
    assert first.at == pytest.approx(at, abs=1e-6)
    assert first.size == pytest.approx(size, abs=1e-9 * max(size, 1.0))
    assert first.step is not None
    assert first.step.edit == edit
    assert {d.kind for d in found} == {kind}
    for defect in found:
        assert defect.step is not None
        assert is_line(defect.offer)
        assert is_line(defect.text)
        assert set(defect.ids) <= set(re.findall(r"\w+", defect.text))


def test_an_end_short_of_a_side_is_extended_to_it() -> None:
    draft = tongue()
    draft.line((30, 40), (30, 0.2))
    found = defects(draft.done())
    short = next(d for d in found if d.kind == "gap")
    assert (short.ids, short.at, short.size) == (("e4", "e1"), (30, 0.2), pytest.approx(0.2))
    assert short.step is not None
    assert short.step.edit == "extend"
    after = short.step.apply(draft.done()).part
    assert half(after)["e4"] == Line((30, 40), (30, 0))


@pytest.mark.parametrize("named", ["e2", "e3"])
def test_the_end_that_no_binding_names_comes_to_the_other(named: str) -> None:
    draft = tongue()
    gap_at_a_corner(draft)
    draft.move_point("p7", (-0.1, 39.9))
    which = {"e2": "p4", "e3": "p7"}[named]
    draft.bind("fixed", [which])
    (found,) = defects(draft.done())
    assert found.step is not None
    assert found.step.edit == "merge"
    after = found.step.apply(draft.done()).part
    assert half(after)["e2"].end == half(after)["e3"].start == draft.points[which]  # type: ignore[union-attr]


def test_parallel_ends_meet_half_way() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (30, 0))
    draft.line((30.2, 0.1), (60, 0.1))
    draft.line("p4", (60, 40))
    (found,) = (d for d in defects(draft.done()) if d.kind == "gap")
    assert found.step is not None
    after = found.step.apply(draft.done()).part
    assert half(after)["e1"].end == half(after)["e2"].start == pytest.approx((30.1, 0.05))  # type: ignore[union-attr]


def test_a_tail_past_the_axis_is_cut_back_to_it() -> None:
    part = half_plate(-15.0, 35.0)  # falls 15 in 45, so it crosses the axis at 30
    (found,) = defects(part)
    assert (found.kind, found.ids) == ("stub", ("e3",))
    assert found.size == pytest.approx(250**0.5)
    assert found.at == pytest.approx((-7.5, 32.5))
    assert found.step is not None
    assert found.step.given[2] == ("x1",)
    after = found.step.apply(part).part
    assert half(after)["e3"] == Line((30, 20), (0, 30))
    assert find_loops(outline(after)).sound


@pytest.mark.parametrize("turned", [False, True])
def test_a_tail_is_as_long_as_what_runs_past_the_crossing(turned: bool) -> None:
    draft = tongue()
    draft.remove("e2", "e3")
    upper, left = ((60, 40), (-20, 40)), ((0, 0), (0, 55))
    for ends in (upper, left):
        draft.line(*(reversed(ends) if turned else ends))
    sizes = {d.at: d.size for d in defects(draft.done()) if d.kind == "stub"}
    assert sizes == {(-10.0, 40.0): pytest.approx(20.0), (0.0, 47.5): pytest.approx(15.0)}


def test_of_two_that_overlap_the_one_with_a_loose_end_goes() -> None:
    # The tail lies on the upper side and runs out past the corner: deleting it leaves the tongue.
    for turned in (False, True):
        draft = tongue()
        ends = ((20, 40), (-20, 40))
        draft.line(*(reversed(ends) if turned else ends), name="tail")
        found = defects(draft.done())
        over = next(d for d in found if d.kind == "overlap")
        assert over.ids == ("tail", "e2")
        assert over.size == pytest.approx(20.0)
        assert over.step == MendStep("delete", ("tail",))
    draft = Draft(Part())  # and the same when it was drawn first
    draft.line((20, 40), (-20, 40), name="tail")
    corners = [draft.point(at) for at in ((0, 0), (60, 0), (60, 40), (0, 40))]
    for start, end in zip(corners, [*corners[1:], corners[0]], strict=True):
        draft.line(start, end)
    over = next(d for d in defects(draft.done()) if d.kind == "overlap")
    assert over.ids == ("tail", "e3")
    assert over.step == MendStep("delete", ("tail",))


def test_a_bridge_over_a_side_that_others_end_on_is_kept() -> None:
    # Two ribs end at the ends of the bridge, so a contour may run over it.
    draft = tongue()
    draft.line((10, 0), (30, 0), name="bridge")
    a, b = draft.curves["bridge"].points
    draft.line(a, (10, 15))
    draft.line(b, (30, 15))
    over = next(d for d in defects(draft.done()) if d.kind == "overlap")
    assert over.step is None or "bridge" not in over.step.given


def test_mending_ends_when_a_mend_changes_nothing() -> None:
    turns = Turns()
    again = Defect("gap", ("e1",), (0.0, 0.0), 1.0, "", MendStep("extend", ("e1", (0.0, 0.0))), "x")
    other = Defect("gap", ("e2",), (0.0, 0.0), 1.0, "", MendStep("extend", ("e2", (0.0, 0.0))), "x")
    assert [turns.next([again, other]) for _ in range(5)] == [again, again, other, other, None]
    unsure = Defect("gap", ("e3",), (0.0, 0.0), 1.0, "", again.step, "x", sure=False)
    assert turns.next([unsure]) is None
    turns.give_up(unsure)


def ring_with_gaps(count: int) -> Part:
    """A regular polygon whose sides all stop a five hundredth short of the next one."""
    draft = Draft(Part())
    corners = [(100.0 * cos(tau * k / count), 100.0 * sin(tau * k / count)) for k in range(count)]
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        draft.line((x0, y0), (x1 + 0.002 * (x0 - x1), y1 + 0.002 * (y0 - y1)))
    return draft.done()


def test_many_gaps_are_closed_with_few_looks(monkeypatch: pytest.MonkeyPatch) -> None:
    looks: list[int] = []

    def counted(part: Part) -> Survey:
        looks.append(1)
        return Survey(part)

    monkeypatch.setattr(cleanup, "Survey", counted)
    numbers = {}
    for count in (12, 96):
        looks.clear()
        mended = mend_all(ring_with_gaps(count))
        assert mended.said == f"mended {count}"
        loops = find_loops(outline(mended.part))
        assert (len(loops.loops), len(loops.strays), len(mended.part.points)) == (1, 0, count)
        numbers[count] = len(looks)
    assert numbers[96] == numbers[12]


def test_one_of_three_copies_stays() -> None:
    draft = Draft(Part())
    for _ in range(3):
        draft.line((0.0, 0.0), (40.0, 0.0))
    mended = mend_all(draft.done())
    assert (list(mended.part.curves), len(mended.part.points)) == (["e1"], 2)
    assert mended.said == "mended 2"


def test_what_a_mend_has_changed_is_looked_at_again() -> None:
    draft = Draft(Part())
    corners = [draft.point(at) for at in ((0, 0), (60, 0), (60, 40), (0, 40))]
    for one, other in ((1, 2), (2, 3), (3, 0)):
        draft.line(corners[one], corners[other])
    # The base in three pieces: each but the first runs over the one before it.
    draft.line(corners[0], (25, 0), name="first")
    draft.line((20, 0), (45, 0), name="second")
    draft.line((40, 0), corners[1], name="third")
    mended = mend_all(draft.done())
    assert mended.said == "mended 2"
    assert sorted(mended.part.curves) == ["e1", "e2", "e3", "first"]
    assert find_loops(outline(mended.part)).sound


def test_a_step_that_works_on_a_changed_curve_waits_for_the_next_look() -> None:
    step = MendStep("cut_back", ("e1", (1.0, 2.0), ("e2", ("e3",))), (("keep", "e4"), ("times", 2)))
    assert set(step.names()) == {"e1", "e2", "e3", "e4"}
    draft = Draft(Part())
    # Two leftovers hang from one corner: when one is gone the other's edge is.
    p = [draft.point(at) for at in ((0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (0.0, 0.0), (0.0, 0.0),
                                    (0.0, 0.0), (0.0, 0.0), (0.0, 2.0))]
    for one, other, role in ((0, 1, "outline"), (1, 2, "outline"), (2, 3, "layout"),
                             (3, 4, "outline"), (4, 5, "outline"), (5, 6, "outline"),
                             (6, 7, "outline")):
        draft.line(p[one], p[other], role)
    mended = mend_all(draft.done())
    assert mended.said.startswith("mended ")


def test_a_clean_up_tells_how_many_and_what_is_left() -> None:
    numbers = [re.findall(r"\w*\d+", summary(*given)) for given in (
        (0, 0, []), (3, 0, []), (3, 2, []), (0, 2, []), (3, 2, ["b1", "b2", "b1"]))]
    assert numbers == [[], ["3"], ["3", "2"], ["0", "2"], ["3", "2", "b1", "b2"]]
    assert all(is_line(summary(*given)) for given in ((0, 0, []), (1, 1, ["b1"])))


@pytest.mark.parametrize("seed", SEEDED, ids=lambda seed: seed.__name__)
def test_mending_gives_the_sound_outline_back(seed: Callable[[Draft], None]) -> None:
    draft = tongue()
    seed(draft)
    edited = mend_all(draft.done())
    assert defects(edited.part) == ()
    loops = find_loops(outline(edited.part))
    assert loops.sound
    assert loops.moments.area == pytest.approx(AREA, rel=1e-7)
    assert read(write(edited.part)) == edited.part
    assert is_line(edited.said)


def test_all_of_them_at_once() -> None:
    draft = tongue()
    for seed in (copied_circle, inside_another, lone_speck, gap_beside_an_arc, stub_from_a_side,
                 loose_bit):
        seed(draft)
    found = defects(draft.done())
    assert {d.kind for d in found} == {"doubled", "overlap", "speck", "gap", "stub"}
    edited = mend_all(draft.done())
    assert re.findall(r"\d+", edited.said) == ["6"]
    assert find_loops(outline(edited.part)).sound


def test_a_clean_outline_is_left_alone() -> None:
    part = tongue().done()
    assert defects(part) == ()
    assert mend_all(part).part is part
    assert is_line(mend_all(part).said)
    assert defects(Part()) == ()


@pytest.mark.parametrize("path", DEMO_PARTS, ids=lambda path: path.stem)
def test_the_demo_parts_are_clean(path: Path) -> None:
    assert defects(solve(load(path)).part) == ()


def test_layout_lines_under_the_outline_are_no_defect() -> None:
    draft = tongue()
    draft.line((-10, 0), (80, 0), "layout")
    draft.line((0, -10), (0, 39.9), "layout")
    assert defects(draft.done()) == ()


def half_plate(reach: float, height: float = 20) -> Part:
    """Three sides of a rectangle whose top ends `reach` off the axis, maybe higher."""
    draft = Draft(Part())
    a, b, c = (draft.point(at) for at in ((0, 0), (30, 0), (30, 20)))
    draft.line(a, b)
    draft.line(b, c)
    draft.line(c, (reach, height))
    axis = draft.line(draft.point((0, -5)), draft.point((0, 30)), "axis")
    return set_mirror(draft.done(), axis).part


@pytest.mark.parametrize("reach", [0.05, -0.05])
def test_an_end_beside_the_axis_is_brought_to_it(reach: float) -> None:
    part = half_plate(reach)
    (found,) = defects(part)
    assert found.kind == "gap"
    assert (found.ids, found.size) == (("e3",), pytest.approx(2 * abs(reach)))
    assert found.step is not None
    assert found.step.given[2] == ("x1",)
    mended = mend_all(part).part
    assert find_loops(outline(mended)).sound
    assert find_loops(outline(mended)).moments.area == pytest.approx(60 * 20)
    assert defects(half_plate(0.0)) == ()


def test_a_line_across_the_outline_is_named_and_left_to_the_person() -> None:
    draft = tongue()
    draft.line((40, 0), (40, 40))
    part = draft.done()
    found = defects(part)
    assert {d.kind for d in found} == {"stub"}
    assert not any(d.sure for d in found)
    assert [d.size for d in found] == [pytest.approx(40.0)]
    edited = mend_all(part)
    assert edited.part is part
    assert is_line(edited.said)
    step = found[0].step
    assert step is not None
    assert find_loops(outline(step.apply(part).part)).sound


def test_an_open_outline_that_is_being_drawn_is_no_leftover() -> None:
    draft = Draft(Part())
    far = draft.point((40, 0))
    draft.line((0, 0), far)
    draft.line(far, (40, 25))
    assert defects(draft.done()) == ()


def test_a_twin_hands_over_its_bindings_and_its_neighbours() -> None:
    draft = Draft(Part())
    p = [draft.point(at) for at in ((0, 0), (60, 0), (60, 40), (0, 40))]
    for i in range(4):
        draft.line(p[i], p[(i + 1) % 4])
    other = draft.point((0, 0)), draft.point((60, 0))
    copy = draft.line(other[1], other[0])  # the other way round, on points of its own
    draft.bind("level", (copy,))
    draft.bind("distance", (copy,), "60")
    draft.bind("level", ("e1",))
    (found,) = defects(draft.done())
    assert found.ids == ("e1", copy)  # more is bound to the copy
    edited = mend_all(draft.done())
    assert edited.part.curves.keys() == {"e2", "e3", "e4", copy}
    assert find_loops(outline(edited.part)).sound
    assert sorted(b.kind for b in edited.part.bindings.values()) == ["distance", "level"]
    assert len(edited.dropped) == 1  # it was level twice


def test_steps_are_data() -> None:
    step = MendStep("merge", ("p2", "p3"), (("at", (1.0, 2.0)),))
    assert step == MendStep("merge", ("p2", "p3"), (("at", (1.0, 2.0)),))
    assert hash(step) is not None
    draft = Draft(Part())
    draft.line((0, 0), (0, 1))
    draft.line((1, 2), (5, 5))
    assert step.apply(draft.done()).part.points["p2"] == (1.0, 2.0)


def test_every_mend_is_named_and_ordered() -> None:
    assert list(mends()) == ["speck", "doubled", "overlap", "gap", "apart", "stub", "lone",
                             "stray"]
    for name, mend in mends().items():
        assert name == mend.name
        assert mend.title


@pytest.mark.parametrize(("away", "edit"), [(3.0, "corner"), (5.0, "merge")])
def test_curves_meet_in_a_corner_that_is_no_more_than_four_gaps_away(
    away: float, edit: str
) -> None:
    # Ends 0.2 apart of lines that would cross at (30, 0), equally far on along both.
    draft = Draft(Part())
    on = sqrt((0.2 * away) ** 2 - 0.01)
    lean = 0.1 / on
    draft.line((0, (30 - on - 30) * lean - 30 * lean + on * lean), (30 - on, -0.1))
    draft.line((30 - on, 0.1), (0, 0.1 + (30 - on) * lean))
    (found,) = (d for d in defects(draft.done()) if d.kind == "gap")
    assert found.size == pytest.approx(0.2)
    assert found.step is not None
    assert found.step.edit == edit


@pytest.mark.parametrize(("gap", "meant"), [(0.45, 1), (0.55, 0)])
def test_beside_a_curve_hardly_longer_a_gap_is_no_miss(gap: float, meant: int) -> None:
    draft = Draft(Part())
    draft.line((0, 0), (100, 0))
    draft.line((100 + gap, 0), (101 + gap, 0))
    assert [miss.size for miss in Survey(draft.done()).misses] == [pytest.approx(gap)] * meant


@pytest.mark.parametrize(("size", "speck"), [(0.7e-4, True), (1.5e-4, False)])
def test_a_millionth_of_the_size_is_a_leftover(size: float, speck: bool) -> None:
    draft = Draft(Part())
    draft.line((0, 0), (100, 0))
    draft.line((50, 5), (50, 5 + size))
    assert [piece.id for piece in Survey(draft.done()).specks] == (["e2"] if speck else [])


def with_strays(draft: Draft) -> Part:
    """Two lines that hang together, 5 and 10 long, and one of 8 by itself, all inside."""
    a, b, c = (draft.point(at) for at in ((35.0, 10.0), (40.0, 10.0), (40.0, 20.0)))
    draft.line(a, b, name="s1")
    draft.line(b, c, name="s2")
    draft.line((45.0, 30.0), (53.0, 30.0), name="s3")
    return draft.done()


def test_outline_in_no_loop_is_a_leftover_with_two_ways_to_mend_it() -> None:
    part = with_strays(tongue())
    found = defects(part)
    assert [(d.kind, d.ids) for d in found] == [("stray", ("s1", "s2")), ("stray", ("s3",))]
    assert [d.size for d in found] == [pytest.approx(15.0), pytest.approx(8.0)]
    assert not any(d.sure for d in found)  # it may have been meant
    assert mend_all(part).part is part
    for defect in found:
        assert defect.step is not None
        assert defect.other is not None
        gone, kept = defect.step.apply(part).part, defect.other.step.apply(part).part
        assert gone.curves.keys() == part.curves.keys() - set(defect.ids)
        assert {kept.curves[name].role for name in defect.ids} == {"layout"}
        assert not {d.ids for d in (*defects(gone), *defects(kept))} & {defect.ids}


def test_where_no_outline_is_closed_yet_somebody_is_drawing() -> None:
    draft = tongue()
    draft.remove("e1")
    assert [d for d in defects(with_strays(draft)) if d.kind == "stray"] == []


def test_what_hangs_from_the_outline_is_told_once() -> None:
    draft = tongue()
    draft.line(line_of(draft, "e1")[1], (90.0, -20.0), name="hangs")
    assert [(d.kind, d.ids) for d in defects(draft.done())] == [("stub", ("hangs",))]
