"""A handout says all of the part and nothing of its construction; its datum is named in words."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from sketcher.drafting.primitives import Text
from sketcher.drafting.rebuild import rebuild
from sketcher.errors import FileError
from sketcher.inspect.sketched import solve_sketch
from sketcher.lesson.practice import practice_problems
from sketcher.marking.datum_words import datum_words
from sketcher.marking.handout import OF_ONE, Handout, handout_of, sound_problem
from sketcher.part.value import Binding, Part, frozen
from sketcher.solve.solve_report import Solution
from tests.plates import bound, looked_at
from tests.ready_keys import demo_solved

A4, A = (210.0, 297.0), (215.9, 279.4)
"""Sheets in mm: ISO 216; ASME Y14.1, 8.5 by 11 in (both from memory)."""
SOLVED = {problem.name: solve_sketch(problem.key) for problem in practice_problems()}


def set_as_problem(solution: Solution, **drawing: object) -> Handout:
    part = solution.part
    changed = replace(solution, part=part.having(drawing=replace(part.drawing, **drawing)))
    return handout_of(sound_problem(changed, "part"), "part")


def words(handout: Handout) -> str:
    """All lettering outside the view, a text a line."""
    return "\n".join(item.text for item in handout.page.items if isinstance(item, Text))


@pytest.mark.parametrize("name", SOLVED)
def test_the_part_is_made_by_its_handout_alone(name: str) -> None:
    handout = set_as_problem(SOLVED[name])
    rebuilt = rebuild(handout.page)
    assert (rebuilt.lacks, rebuilt.freedoms) == ((), 0)
    assert rebuilt.worst < 1e-6 * max(handout.page.size)
    assert tuple(sorted(handout.page.size)) in (A4, A)
    assert handout.page.view is not None
    assert handout.page.view.factor in (1.0, 25.4)  # full size: 1 mm, or 1 in, is that on paper


@pytest.mark.parametrize("name", ["04-slotted-plate", "10-cradle-arm"])
def test_no_name_and_no_place_of_a_point_stands_on_it(name: str) -> None:
    part = SOLVED[name].part
    said = [words(set_as_problem(SOLVED[name]))]
    said += [dim.text for dim in set_as_problem(SOLVED[name]).page.dimensions]
    for each in (*part.points, *part.curves, *part.bindings):
        assert not re.search(rf"\b{each}\b", "\n".join(said)), each
    assert not re.search(r"\(-?\d+(\.\d+)?, ", "\n".join(said))


def test_it_says_the_task_the_unit_and_the_cautions() -> None:
    said = " ".join(words(set_as_problem(SOLVED["05-drag-link"])).split())
    for part in ("Problem: draw this part in millimetres", "the center of the hole Ø25 at the left",
                 "tangent", "Remove burrs", "licensed engineer", "Drag link"):
        assert part in said
    inches = " ".join(words(set_as_problem(SOLVED["03-keeper-plate"])).split())
    assert "DRAW THIS PART IN INCHES" in inches


def test_it_leaves_the_title_block_to_who_solves_it_and_tells_nothing_more() -> None:
    fields = dict.fromkeys(OF_ONE, "Somebody") | {"number": "P-7"}
    handout = set_as_problem(SOLVED["05-drag-link"], fields=frozen(fields), hole_table=True,
                             dimensions=False, order_page=True, balloons=True)
    assert "Somebody" not in words(handout)
    assert "P-7" in words(handout)
    assert [dim.text for dim in handout.page.dimensions] == [
        dim.text for dim in set_as_problem(SOLVED["05-drag-link"]).page.dimensions]


def test_the_paper_that_somebody_has_chosen_stays() -> None:
    assert set_as_problem(SOLVED["05-drag-link"], sheet="A3").page.sheet == "A3"


@pytest.mark.whole
def test_what_is_crowded_on_a4_takes_the_paper_that_it_needs() -> None:
    handout = handout_of(sound_problem(demo_solved("shift-arm"), "part"), "part")
    assert (handout.page.sheet, handout.page.crowded) == ("A3", ())


def test_a_part_too_large_for_a4_is_reduced_onto_it() -> None:
    large = SOLVED["02-lug-plate"].part
    values = {n: replace(b, value=f"2*{b.value}") for n, b in large.bindings.items()
              if b.value is not None and b.kind != "angle"}
    solution = solve_sketch(large.having(bindings={**large.bindings, **values}))
    handout = set_as_problem(solution)
    assert handout.page.size == A4
    assert handout.page.view is not None
    assert handout.page.view.factor == 0.5


@pytest.mark.parametrize(("name", "told"), [
    ("latch-plate", "is no problem to set"), ("gate-strap", "")])
def test_a_part_with_findings_is_none(name: str, told: str) -> None:
    solution = demo_solved(name)
    if told:
        with pytest.raises(FileError, match=told):
            sound_problem(solution, name)
    else:
        assert sound_problem(solution, name).findings == ()


def test_a_loose_part_is_none() -> None:
    part = SOLVED["05-drag-link"].part
    short = part.having(bindings={n: b for n, b in part.bindings.items() if b.kind != "distance"})
    with pytest.raises(FileError, match="something is loose"):
        sound_problem(solve_sketch(short), "part")


def test_a_length_that_stands_nowhere_is_told() -> None:
    part = bound()
    held_twice = {**part.bindings, "b6": Binding("fixed", ("p2",))}  # in place of the run
    solution = solve_sketch(part.having(bindings=held_twice))
    with pytest.raises(FileError, match=r"its sheet does not say all of it: .* stands nowhere"):
        handout_of(sound_problem(solution, "part"), "part")


DATUMS = {
    "01-corner-bracket": "the corner at the lower left",
    "05-drag-link": "the center of the hole Ø25 at the left",
    "06-index-plate": "the center of the hole Ø30 in the middle",
    "09-door-hook": "the center of the arc R16 at the upper left",
}


@pytest.mark.parametrize("name", DATUMS)
def test_the_datum_is_told_by_what_is_seen_of_it(name: str) -> None:
    assert datum_words(looked_at(SOLVED[name].part)) == DATUMS[name]


def held(part: Part, point: str) -> str:
    """The datum of a part that is held at another point."""
    bindings = {name: replace(b, of=(point,)) if b.kind == "fixed" else b
                for name, b in part.bindings.items()}
    return datum_words(looked_at(part.having(bindings=bindings)))


@pytest.mark.parametrize(("name", "point", "told"), [
    ("08-pedal-foot", "p2", "the corner at the lower right"),
    ("02-lug-plate", "p4", "the corner in the middle"),  # 30° between the edges
    ("08-pedal-foot", "t1", "the place where edge and arc touch at the lower right"),
    ("10-cradle-arm", "t5", "the place where two arcs touch at the top"),
    ("07-cross-plate", "s2", "the place where center line and edge cross at the top"),
    ("07-cross-plate", "c2", "the center of the hole Ø15 at the top"),
    ("06-index-plate", "m1", "the center of the arc R5 at the right"),
])
def test_any_other_datum_is_told_too(name: str, point: str, told: str) -> None:
    assert held(SOLVED[name].part, point) == told


def test_a_rounded_corner_is_told_by_its_edges() -> None:
    part = SOLVED["04-slotted-plate"].part
    corner = part.having(points={**part.points, "q": (118.0, 0.0)})
    assert held(corner, "q") == "the sharp corner of the two edges at the lower right"
    assert held(corner.having(points={**part.points, "q": (117.0, 0.0)}), "q") == ""
    assert held(corner.having(points={**part.points, "q": (40.0, 31.0)}), "q") == ""  # on one edge


def test_what_nobody_sees_is_not_told() -> None:
    part = bound()
    assert datum_words(looked_at(part.having(bindings={}))) == ""
