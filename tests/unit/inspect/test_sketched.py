"""Sides that the file leaves out: searched, and asked for where the sketch cannot tell them."""

from __future__ import annotations

import json
import re
from pathlib import Path

import numpy as np
import pytest

from sketcher.inspect import sketched
from sketcher.inspect.doubtful import in_words
from sketcher.inspect.inspection import inspect_part
from sketcher.inspect.sketched import solve_sketch
from sketcher.inspect.words import UNADVISED
from sketcher.part.edits import EDITS
from sketcher.part.file_text import read, write
from sketcher.part.kinds import settle_sides
from sketcher.part.part_size import part_size
from sketcher.part.store import load
from sketcher.part.value import Binding, Doubt, GridPattern, Material, Part, frozen
from sketcher.part.whole import same_outline
from sketcher.solve import rivals, solve
from tests.demo_parts import SOUND as DEMO
from tests.inspected import inspected
from tests.rough import HOLE, holed_plate, roughened, stepped_half
from tests.seldom import some_of


def codes(part: Part) -> list[str]:
    return [finding.code for finding in inspected(part).findings]


@pytest.mark.parametrize("path", DEMO, ids=lambda p: p.name.split(".")[0])
def test_a_sketch_as_people_draw_leaves_no_doubt(path: Path) -> None:
    solution = solve_sketch(load(path))
    assert solution.report.converged
    assert solution.part.doubts == ()
    for name, at in solve(load(path)).part.points.items():
        assert solution.part.points[name] == pytest.approx(at, abs=1e-9)


def test_a_hole_clearly_on_one_side_leaves_no_doubt() -> None:
    for across, x in ((9.0, 50.0), (-9.0, 30.0)):
        solution = solve_sketch(holed_plate(across))
        assert solution.part.points["k1"] == pytest.approx((x, 25.0))
        assert inspect_part(solution.part, solution.report).sound


def test_a_hole_on_the_line_is_in_doubt_and_both_places_are_told() -> None:
    solution = solve_sketch(holed_plate(0.2))
    inspection = inspect_part(solution.part, solution.report)
    assert not inspection.sound
    (finding,) = inspection.findings
    assert (finding.code, finding.ids) == ("doubtful", (HOLE,))
    assert "right" in finding.found
    assert "left" in finding.wanted
    assert finding.at == pytest.approx((50.0, 25.0))
    assert "(50, 25)" in finding.text
    assert "(30, 25)" in finding.text
    (told,) = json.loads(json.dumps(inspection.as_dict()))["doubtful"]
    assert told["ids"] == [HOLE]
    assert told["taken"]["sides"] == {HOLE: "right"}
    assert told["taken"]["points"]["k1"] == pytest.approx([50.0, 25.0])
    assert told["other"]["sides"] == {HOLE: "left"}
    assert told["other"]["points"]["k1"] == pytest.approx([30.0, 25.0])


def test_what_is_written_keeps_the_doubt_until_it_is_confirmed_or_turned() -> None:
    part = read(write(solve_sketch(holed_plate(0.2)).part))
    assert codes(part) == ["doubtful"]
    part = solve_sketch(read(write(part))).part
    assert codes(part) == ["doubtful"]
    sure = EDITS["confirm_side"](part, HOLE).part
    assert codes(read(write(sure))) == []
    assert sure.points == part.points
    turned = solve_sketch(EDITS["turn_side"](part, HOLE).part).part
    assert codes(read(write(turned))) == []
    assert turned.points["k1"] == pytest.approx((30.0, 25.0))


def test_a_part_with_every_side_stored_is_never_searched(monkeypatch) -> None:
    def refuse(*given: object) -> None:
        raise AssertionError("searched")

    part = solve_sketch(holed_plate(0.2)).part.having(doubts=())
    rough = part.having(points={**part.points, "k1": (40.1, 25.0)})
    monkeypatch.setattr(rivals, "Hunt", refuse)
    assert solve_sketch(rough).part.points["k1"] == pytest.approx((50.0, 25.0))


def test_the_sound_part_is_taken_where_the_nearest_is_not() -> None:
    # A hole 4 inside the left edge, drawn just outside it, would be no part of the plate.
    part = holed_plate(0.0)
    bindings = {**part.bindings, HOLE: Binding("offset", ("e4", "k1"), "6")}
    drawn = part.having(bindings=bindings, points={**part.points, "k1": (-1.0, 25.4)})
    assert solve(drawn).part.points["k1"][0] == pytest.approx(-6.0)
    solution = solve_sketch(drawn)
    assert solution.part.points["k1"] == pytest.approx((6.0, 25.0))
    assert inspect_part(solution.part, solution.report).sound


def test_a_printed_reference_decides() -> None:
    for value, x in (("30", 30.0), ("50", 50.0)):
        said = Binding("run", ("p1", "k1"), value, drives=False)
        for across in (0.4, -0.4):
            solution = solve_sketch(holed_plate(across, said))
            assert solution.part.points["k1"][0] == pytest.approx(x)
            assert inspect_part(solution.part, solution.report).sound


def test_two_dimensions_of_one_line_turn_together() -> None:
    # Run and angle say the sense of the chamfer together; either alone cannot hold.
    path = next(p for p in DEMO if p.name.startswith("shelf"))
    exact = solve(load(path)).part
    x, y = exact.points["p7"]
    drawn = load(path)
    drawn = drawn.having(points={**drawn.points, "p8": (x + 0.02, y + 0.6)})
    (doubt,) = solve_sketch(drawn).part.doubts
    assert set(doubt.sides) == {"b18", "b19"}
    turned = solve_sketch(EDITS["turn_side"](solve_sketch(drawn).part, "b18").part)
    assert {doubt.points["p8"][0] < x, turned.part.points["p8"][0] < x} == {True}
    assert same_outline(turned.part, exact, 1e-6)


def test_an_image_of_the_same_part_is_no_rival() -> None:
    path = next(p for p in DEMO if p.name.startswith("pump"))
    part = load(path)
    exact = solve(part).part
    k1 = exact.points["k1"]
    other = exact.having(points={**exact.points, "k1": (k1[0], -k1[1])})
    assert same_outline(other, exact, 1e-9)
    moved = exact.having(points={**exact.points, "k1": (k1[0] + 1e-6, k1[1])})
    assert not same_outline(moved, exact, 1e-9)


def test_without_a_solution_the_sides_stay_open() -> None:
    part = holed_plate(9.0, Binding("run", ("p1", "p2"), "90"))
    solution = solve_sketch(part)
    assert not solution.report.converged
    assert solution.report.clashes
    assert solution.part.bindings[HOLE].side is None


def test_a_loose_sketch_is_asked_for_as_well() -> None:
    part = holed_plate(0.2)
    loose = part.having(bindings={n: b for n, b in part.bindings.items() if n != "b13"})
    assert sorted(codes(loose)) == ["doubtful", "loose"]


def test_a_side_that_follows_is_read_where_the_part_lies() -> None:
    # Drawn the wrong way round, a reference dimension measures positive all the same.
    part = holed_plate(9.0, Binding("rise", ("k1", "p2"), "25", drives=False))
    drawn = part.having(points={**part.points, "p2": (81.5, 27.0)})
    assert settle_sides(drawn).bindings["b15"].side == "above"
    assert solve_sketch(drawn).part.bindings["b15"].side == "below"
    assert "reference-differs" not in codes(drawn)


@pytest.mark.parametrize("share", some_of([0.02, 0.05, 0.1, 0.2], lambda share: share < 0.1))
def test_no_rough_sketch_becomes_another_part_without_a_word(share: float) -> None:
    rng = np.random.default_rng(int(1000 * share))
    for exact in (solve(load(DEMO[0])).part, solve(stepped_half()).part):
        for _ in range(3):
            solution = solve_sketch(roughened(exact, share, rng))
            right = same_outline(solution.part, exact, 1e-6 * part_size(exact))
            assert right or not inspect_part(solution.part, solution.report).sound
            if share <= 0.02:
                assert right
                assert solution.part.doubts == ()


def test_the_half_is_whole_and_sound() -> None:
    part = stepped_half()
    assert len(part.curves) == 14
    assert inspected(part).sound


@pytest.mark.parametrize(("moved", "named", "more"), [(2, 2, []), (3, 3, []), (5, 3, [2, 2])])
def test_a_sentence_names_three_places_and_counts_the_others(
    moved: int, named: int, more: list[int]
) -> None:
    part = solve_sketch(holed_plate(9.0)).part
    names = ["p2", "p3", "p4", "m1", "m2"][:moved]
    doubt = Doubt(frozen({HOLE: "left"}), frozen(dict.fromkeys(names, (7.0, 7.0))))
    text = in_words(part, doubt)
    assert [text.count(f"{name} at (") for name in names] == [2] * named + [0] * (moved - named)
    assert [int(n) for n in re.findall(r"(\d+) more", text)] == more


def row_of_holes(step: str, count: int) -> GridPattern:
    return GridPattern(("h1",), (step, "0"), (count, 1))


def test_sides_are_compared_without_the_instances_of_a_large_pattern(monkeypatch) -> None:
    """The hole and its 300 instances: each trial looks at the hole, the outcome at all of them."""
    drawn = holed_plate(0.0).having(patterns={"g": row_of_holes("1", 300)})
    seen = []
    monkeypatch.setattr(sketched, "inspect_part", lambda part, report: (
        seen.append(len(part.patterns)) or inspect_part(part, report)))
    solution = solve_sketch(drawn)
    assert set(seen) == {0}
    assert solution.part.patterns == drawn.patterns
    monkeypatch.setattr(sketched, "MANY", 1000)
    seen.clear()
    assert solve_sketch(drawn).part.bindings == solution.part.bindings
    assert set(seen) == {1}


def test_a_plate_of_crossing_contours_gets_no_advice() -> None:
    drawn = holed_plate(0.0).having(patterns={"g": row_of_holes("0.01", 500)})
    inspection = inspected(drawn)
    assert inspection.profile.more
    assert not inspection.advised
    assert inspection.cutting == ()
    assert UNADVISED in inspection.as_text()
    steel = Material("mild steel", 3.0)
    assert inspected(holed_plate(0.0).having(material=steel)).advised
