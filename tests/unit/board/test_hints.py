"""Hints: the next step's first half, then all of it; letters for names, and no coordinates."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from sketcher.board.exercise.attempt import judge_attempt, paper_key
from sketcher.board.exercise.hints import PracticeHint, hint_steps, next_hint
from sketcher.geometry.curves import Circle, Line
from sketcher.lesson.order_step import OrderStep
from sketcher.part.value import Part
from tests.demo_parts import FOLDER
from tests.loose_drawings import demo, lengthened, loose, outline_of, solved_file

PROBLEMS = sorted((FOLDER / "practice").glob("*.profile.json"))


def on_the_way(key: Part, steps: tuple[OrderStep, ...]) -> Iterator[PracticeHint]:
    """The hints that somebody meets who does what each says, and nothing else."""
    drawn: list[str] = []
    part = key.having(curves={}, bindings={}, mirrors=(), patterns={})
    for _ in range(2 * len(steps) + 2):
        hint = next_hint(key, steps, judge_attempt(key, part))
        if hint is None:
            assert judge_attempt(key, part).finished
            return
        yield hint
        new = [name for name in steps[hint.step - 1].curves
               if name in key.curves and name not in drawn]
        drawn += new if new else list(key.curves)  # what is repeated is repeated about its axis
        part = part.having(curves={name: key.curves[name] for name in key.curves
                                   if name in drawn})
        if not new:
            part = part.having(mirrors=key.mirrors, patterns=key.patterns)
    raise AssertionError("the hints go round in a circle")


@pytest.mark.parametrize("path", PROBLEMS, ids=lambda path: path.name[:2])
def test_hints_lead_from_the_empty_sheet_to_the_part(path: Path) -> None:
    key = solved_file(path)
    hints = list(on_the_way(key, hint_steps(key)))
    assert len(hints) >= 3
    names = {*key.points, *key.curves}
    for hint in hints:
        said = " ".join((hint.first, *hint.rest))
        assert not names & set(re.findall(r"\w+", said)), said
        assert not re.search(r"\(\s*-?[\d.]+\s*,", said), said  # no place in coordinates
        assert "[" not in said
        assert hint.marks
        letters = [mark.letter for mark in (*hint.marks, *hint.further) if mark.letter]
        assert len(set(letters)) == len(letters)
        first = {mark.letter for mark in hint.marks if mark.letter}
        assert first == set(re.findall(r"\b[A-Z]\b", hint.first))
        assert all(re.search(rf"\b{letter}\b", said) for letter in letters)
        assert not re.search(r"\d", hint.first)  # the first half tells no amount
    assert [hint.step for hint in hints] == sorted(hint.step for hint in hints)


def test_the_first_half_marks_the_curve_that_comes_next() -> None:
    key = demo("shift-arm")
    steps = hint_steps(key)
    hint = next_hint(key, steps, judge_attempt(key, loose([])))
    assert hint is not None
    assert hint.first.startswith("Next: ")
    assert hint.rest
    drawn = {name for name in steps[hint.step - 1].curves if key.curves[name].role == "outline"}
    assert len(hint.marks) == len(drawn)


def test_a_curve_with_another_size_is_looked_at_again() -> None:
    key = demo("shelf-bracket")
    curves = outline_of(key)
    hole = next(n for n, c in enumerate(curves) if isinstance(c, Circle) and c.radius == 0.1875)
    curves[hole] = Circle(curves[hole].center, 0.25)
    hint = next_hint(key, hint_steps(key), judge_attempt(key, loose(curves, "in")))
    assert hint is not None
    assert hint.first == "Look at the circle K again: not all is there as on the paper."
    assert hint.marks[0].curve == Circle((1.0, 3.75), 0.1875)


def test_what_runs_too_far_is_the_last_hint_and_letters_of_the_paper_are_left_out() -> None:
    key = demo("shelf-bracket")
    curves = [lengthened(c, 0.1) if isinstance(c, Line) and c.length > 4.0 else c
              for c in outline_of(key)]
    hint = next_hint(key, hint_steps(key), judge_attempt(key, loose(curves, "in")), "KL")
    assert hint is not None
    assert hint.first.startswith("The curve M is too long or too short")
    assert (hint.step, hint.rest) == (0, ())


def test_images_that_are_missing_are_marked_all_together() -> None:
    key = demo("gate-strap")
    half = key.having(mirrors=())
    hint = next_hint(key, hint_steps(key), judge_attempt(key, half))
    assert hint is not None
    assert hint.first == "Next: repeat what is drawn; the marked curves are still missing."
    assert {mark.letter for mark in hint.marks} == {""}
    there = judge_attempt(key, half).right
    assert len(hint.marks) == len(paper_key(key).outline) - len(there)


@pytest.mark.parametrize("name", ["gate-strap", "pump-flange", "roof-gusset"])
def test_parameters_are_told_by_their_numbers(name: str) -> None:
    key = demo(name)
    hints = list(on_the_way(key, hint_steps(key)))
    said = " ".join(sentence for hint in hints for sentence in hint.rest)
    assert key.parameters
    assert not re.search(r"\b([\d.]+)(°?) = \1\b(?![./])", said)
    assert not set(key.parameters) & set(re.findall(r"\w+", said))


def test_nothing_is_left_to_hint_at_when_all_is_there() -> None:
    key = demo("shelf-bracket")
    assert next_hint(key, hint_steps(key), judge_attempt(key, key)) is None
