"""Clean-up on seeded defects: each is found, named with its size, and mended."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from sketcher.geometry.curves import Curve
from sketcher.geometry.loops import find_loops
from sketcher.inspect.cleanup import defects, mend_all, mends
from sketcher.inspect.mend import Step
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.set_mirror import set_mirror
from sketcher.part.store import load
from sketcher.part.text import read, write
from sketcher.part.value import Part
from sketcher.part.whole import whole
from sketcher.solve import solve

DEMO_PARTS = sorted((Path(__file__).parents[3] / "demo_parts").glob("*.profile.json"))


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


AREA = 60 * 40 + 3.141592653589793 * (20**2 / 2 - 6**2)


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


SEEDED: dict[Callable[[Draft], None], tuple[str, float, str]] = {
    copied: ("doubled", 60, "e4 is drawn over e2"),
    copied_arc: ("doubled", 20 * 3.141592653589793, "a2 is drawn over a1"),
    copied_circle: ("doubled", 12 * 3.141592653589793, "h2 is drawn over h1"),
    inside_another: ("overlap", 20, "e4 and e1 run over each other for 20"),
    arc_over_circle: ("overlap", 3 * 3.141592653589793, "a2 and h1 run over each other"),
    speck_at_a_corner: ("speck", 1e-7, "e4 has no length"),
    lone_speck: ("speck", 2e-6 * 3.141592653589793, "h2 has no length"),
    gap_at_a_corner: ("gap", 0.2, "the gap is 0.2 mm"),
    gap_beside_an_arc: ("gap", 0.1, "the gap is 0.1 mm"),
    both_run_past: ("gap", 0.2, "past"),
    two_points_at_a_corner: ("apart", 0, "e2 and e3 end at one place, but in different points"),
    stub_in_the_open: ("stub", 20 * 2**0.5, "e4 hangs from the outline by one end"),
    stub_of_two: ("stub", 20 * 2**0.5 + 10, "e4 and e5 hang from the outline"),
    stub_from_a_side: ("stub", 15, "e4 hangs from the outline by one end (15 mm)"),
    tail_past_a_crossing: ("stub", 20, "e2 sticks out 20 mm past e3"),
    lone_point: ("lone", 0, "point p7 belongs to nothing"),
    loose_bit: ("stub", 0.3, "e4 hangs from nothing (0.3 mm)"),
    overlapping_tails: ("overlap", 15, "run over each other for 15 mm"),
}


@pytest.mark.parametrize("seed", SEEDED, ids=lambda seed: seed.__name__)
def test_a_seeded_defect_is_named_with_its_size(seed: Callable[[Draft], None]) -> None:
    draft = tongue()
    seed(draft)
    found = defects(draft.done())
    kind, size, text = SEEDED[seed]
    match = [d for d in found if d.kind == kind and text in d.text]
    assert match, found
    assert min(abs(d.size - size) for d in match) < 1e-9 * max(size, 1.0)
    assert {d.kind for d in found} == {kind}
    assert all(d.step is not None and d.offer for d in found)


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
    assert "mended" in edited.said


def test_all_of_them_at_once() -> None:
    draft = tongue()
    for seed in (copied_circle, inside_another, lone_speck, gap_beside_an_arc, stub_from_a_side,
                 loose_bit):
        seed(draft)
    found = defects(draft.done())
    assert {d.kind for d in found} == {"doubled", "overlap", "speck", "gap", "stub"}
    edited = mend_all(draft.done())
    assert edited.said.startswith("mended 6")
    assert find_loops(outline(edited.part)).sound


def test_a_clean_outline_is_left_alone() -> None:
    part = tongue().done()
    assert defects(part) == ()
    assert mend_all(part).part is part
    assert mend_all(part).said == "nothing to clean up"
    assert defects(Part()) == ()


@pytest.mark.parametrize("path", DEMO_PARTS, ids=lambda path: path.stem)
def test_the_demo_parts_are_clean(path: Path) -> None:
    assert defects(solve(load(path)).part) == ()


def test_layout_lines_under_the_outline_are_no_defect() -> None:
    draft = tongue()
    draft.line((-10, 0), (80, 0), "layout")
    draft.line((0, -10), (0, 39.9), "layout")
    assert defects(draft.done()) == ()


def half_plate(reach: float) -> Part:
    """Three sides of a rectangle whose top ends `reach` off the axis."""
    draft = Draft(Part())
    a, b, c = (draft.point(at) for at in ((0, 0), (30, 0), (30, 20)))
    draft.line(a, b)
    draft.line(b, c)
    draft.line(c, (reach, 20))
    axis = draft.line(draft.point((0, -5)), draft.point((0, 30)), "axis")
    return set_mirror(draft.done(), axis).part


@pytest.mark.parametrize("reach", [0.05, -0.05])
def test_an_end_beside_the_axis_is_brought_to_it(reach: float) -> None:
    part = half_plate(reach)
    (found,) = defects(part)
    assert found.kind == "gap"
    assert "its own reflection" in found.text
    assert "axis" in found.offer
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
    assert "across" in found[0].text
    edited = mend_all(part)
    assert edited.part is part
    assert "left" in edited.said
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
    step = Step("merge", ("p2", "p3"), (("at", (1.0, 2.0)),))
    assert step == Step("merge", ("p2", "p3"), (("at", (1.0, 2.0)),))
    assert hash(step) is not None
    draft = Draft(Part())
    draft.line((0, 0), (0, 1))
    draft.line((1, 2), (5, 5))
    assert step.apply(draft.done()).part.points["p2"] == (1.0, 2.0)


def test_every_mend_is_named_and_ordered() -> None:
    assert list(mends()) == ["speck", "doubled", "overlap", "gap", "apart", "stub", "lone"]
    for name, mend in mends().items():
        assert name == mend.name
        assert mend.title
