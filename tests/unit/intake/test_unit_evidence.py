"""The unit of a file: its header, and what its numbers say; the check is the part's own unit."""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import cos, pi, sin

import pytest

from sketcher.exchange.dxf_content import DxfContent, FileCurve, FileWords
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.inspect.inspection import inspect_part
from sketcher.inspect.sketched import solve_sketch
from sketcher.intake.drawn_lines import drawn_lines
from sketcher.intake.telling_values import telling_values
from sketcher.intake.unit_evidence import UNIT_WORDS, unit_verdict
from sketcher.intake.wishes import Wishes
from sketcher.part.store import load
from sketcher.part.value import Unit
from sketcher.shipped import shipped

OTHER: dict[str, Unit] = {"mm": "in", "in": "mm"}
PARTS = ("gate-strap", "latch-plate", "pump-flange", "roof-gusset", "shelf-bracket", "shift-arm")


def content(curves: list[Curve], unit: Unit | None = None, factor: float = 1.0,
            words: tuple[FileWords, ...] = ()) -> DxfContent:
    taken = tuple(FileCurve(curve, number) for number, curve in enumerate(curves, 1))
    return DxfContent("drawing", taken, unit, factor, words=words)


@cache
def drawn(name: str) -> tuple[Unit, tuple[Curve, ...]]:
    """The whole outline of a demo part, and its unit."""
    solution = solve_sketch(load(shipped("demo_parts", f"{name}.profile.json")))
    profile = inspect_part(solution.part, solution.report).profile
    return solution.part.unit, tuple(curve for loop in profile.loops for curve in loop.shapes)


def moved(curve: Curve, noise: float = 0.0, turn: float = 0.0, factor: float = 1.0) -> Curve:
    """A curve shaken, turned and scaled, with six decimals."""
    rng = random.Random(repr(curve))
    c, s = cos(turn), sin(turn)

    def at(point: XY) -> XY:
        x, y = (value * factor + rng.uniform(-noise, noise) for value in point)
        return (round(x * c - y * s + 31.7, 6), round(x * s + y * c - 12.3, 6))

    if isinstance(curve, Line):
        return Line(at(curve.start), at(curve.end))
    if isinstance(curve, Circle):
        return Circle(at(curve.center), curve.radius * factor)
    return Arc(at(curve.center), at(curve.start), at(curve.end), curve.ccw)


def plate(wide: float, high: float, *holes: float) -> list[Curve]:
    corners = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)]
    sides = [Line(corners[i], corners[(i + 1) % 4]) for i in range(4)]
    return [*sides, *(Circle((wide * (i + 1) / (len(holes) + 1), high / 2), hole / 2)
                      for i, hole in enumerate(holes))]


@pytest.mark.parametrize("name", PARTS)
@pytest.mark.parametrize(("noise", "turn"), [(0.0, 0.0), (0.01, 0.0), (0.0, 13.0)])
def test_a_part_has_its_unit_or_is_asked_for_it(name: str, noise: float, turn: float) -> None:
    unit, curves = drawn(name)
    off = noise / (25.4 if unit == "in" else 1.0)
    drawing = content([moved(each, off, turn * pi / 180.0) for each in curves])
    right = unit_verdict(replace(drawing, unit=unit), Wishes())
    assert (right.unit, right.factor, right.question) == (unit, 1.0, None)
    without = unit_verdict(drawing, Wishes())
    assert without.unit == unit
    assert without.question is None or without.question.answers == (unit, OTHER[unit])
    wrong = unit_verdict(replace(drawing, unit=OTHER[unit]), Wishes())
    assert wrong.question is not None
    assert wrong.question.option == "--unit"
    assert wrong.question.answers == (unit, OTHER[unit])
    assert f"says {UNIT_WORDS[OTHER[unit]]}, but as {UNIT_WORDS[unit]}" in wrong.why
    assert f"{unit} {wrong.scores[unit]:.3f}" in wrong.question.text


def test_millimetres_over_a_drawing_in_inches_stay_millimetres() -> None:
    unit, curves = drawn("shelf-bracket")
    assert unit == "in"
    thousandths = content([moved(each, 0.0, 0.0, 25.4) for each in curves], "mm")
    verdict = unit_verdict(thousandths, Wishes())
    assert (verdict.unit, verdict.question) == ("mm", None)
    assert unit_verdict(replace(thousandths, unit=None), Wishes()).unit == "mm"


def test_few_values_are_doubtful() -> None:
    verdict = unit_verdict(content(plate(20.0, 10.0)), Wishes())
    assert verdict.question is not None
    assert sum(verdict.scores.values()) == pytest.approx(1.0, abs=1e-3)


@pytest.mark.parametrize(("factor", "unit"), [(1000.0, "mm"), (1e-3, "mm"), (1.0, "in")])
def test_a_header_that_makes_no_plate_is_asked_about(factor: float, unit: Unit) -> None:
    """A plate of 120 by 80 as metres, as micrometres and as inches."""
    drawing = content(plate(120.0, 80.0, 9.0, 9.0, 5.5), unit, factor)
    verdict = unit_verdict(drawing, Wishes())
    assert verdict.question is not None
    assert (verdict.unit, verdict.factor, verdict.question.answers[0]) == ("mm", 1.0, "mm")


def test_centimetres_are_as_good_a_header_as_any() -> None:
    verdict = unit_verdict(content(plate(12.0, 8.0, 0.9, 0.9, 0.55), "mm", 10.0), Wishes())
    assert (verdict.unit, verdict.factor, verdict.question) == ("mm", 10.0, None)


def test_a_wish_is_not_argued_with() -> None:
    verdict = unit_verdict(content(plate(120.0, 80.0, 9.0), "mm"), Wishes(unit="in"))
    assert (verdict.unit, verdict.why, verdict.question) == ("in", "as asked", None)


def test_dimensions_tell_the_unit_that_they_were_written_in() -> None:
    """A dimension of 2 over a line of 50.8: millimetres, drawn by somebody who thinks in inches."""
    bare = content(plate(50.8, 31.0))
    told = content(plate(50.8, 31.0), words=(FileWords("2", (25.0, -5.0), "dimension", 2.0),))
    assert unit_verdict(told, Wishes()).scores["mm"] > unit_verdict(bare, Wishes()).scores["mm"]
    said = content(plate(20.0, 10.0), words=(FileWords("ALL DIMENSIONS IN INCHES", (0.0, 0.0)),))
    assert unit_verdict(said, Wishes()).scores["in"] > 0.15
    assert unit_verdict(content(plate(20.0, 10.0)), Wishes()).scores["in"] < unit_verdict(
        said, Wishes()).scores["in"]


def test_random_lengths_do_not_outvote_a_header() -> None:
    """Lengths that mean nothing are on some grid by chance; neither unit may win by that."""
    for seed in range(20):
        rng = random.Random(seed)
        places = [(rng.uniform(0, 200), rng.uniform(0, 200)) for _ in range(150)]
        lines: list[Curve] = [Line(*ends) for ends in pairwise(places)]
        assert unit_verdict(content(lines, "mm"), Wishes()).question is None


def test_a_drawing_of_nothing_is_asked_for_its_unit() -> None:
    verdict = unit_verdict(content([]), Wishes())
    assert verdict.question is not None
    assert unit_verdict(content([], "mm"), Wishes()).question is None


def test_the_values_of_a_plate_are_its_sides_and_holes() -> None:
    values = telling_values(content(plate(120.0, 80.0, 9.0, 5.5)))
    assert values.holes == (5.5, 9.0)
    assert values.lengths == (40.0, 80.0, 120.0)  # the holes stand at 40 and 80, halfway up
    assert (values.extent, values.radii) == (120.0, ())


@pytest.mark.parametrize("digits", [2, 3, 4, 6])
def test_the_last_decimal_is_the_one_that_was_written(digits: int) -> None:
    """A part turned by 13°, so that no coordinate is round by itself, written with few digits."""
    _, curves = drawn("gate-strap")
    turned = [moved(each, 0.0, 13.0 * pi / 180.0) for each in curves]
    cut = [Line((round(c.start[0], digits), round(c.start[1], digits)),
                (round(c.end[0], digits), round(c.end[1], digits)))
           for c in turned if isinstance(c, Line)]
    verdict = unit_verdict(content(cut, "mm"), Wishes())
    lines = drawn_lines(content(cut, "mm"), verdict, Wishes())
    assert lines.quantum == pytest.approx(10.0 ** -digits)
    assert lines.noise == pytest.approx(lines.quantum / 2.0)


def test_whole_and_half_numbers_are_meant_so() -> None:
    drawing = content([*plate(120.0, 80.0), *plate(12.5, 7.5, 4.0)], "mm")
    assert drawn_lines(drawing, unit_verdict(drawing, Wishes()), Wishes()).quantum == 0.0
