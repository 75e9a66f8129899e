"""Marks of repairs: a ring each, numbers beside, nothing on top of another."""

from __future__ import annotations

import random

import pytest
from shapely import box
from shapely.geometry import LineString, Point

from sketcher.geometry.curves import Line
from sketcher.intake.linework import Repair
from sketcher.intake.repair_marks import DIGIT, repair_marks


def gap(x: float, y: float, number: int = 1) -> Repair:
    return Repair("gap", (x, y), 0.01, (number, number + 1), "ends apart")


def test_each_repair_has_a_ring_and_its_number() -> None:
    marks = repair_marks([gap(0, 0), gap(100, 0), gap(0, 80)], 3.0)
    assert [(mark.at, mark.label) for mark in marks] == [
        ((0, 0), "1"), ((100, 0), "2"), ((0, 80), "3")]
    assert all(mark.radius == pytest.approx(2.7) for mark in marks)


def test_repairs_on_one_place_share_a_ring() -> None:
    marks = repair_marks([gap(0, 0), gap(50, 0), gap(0.5, 0), *[gap(50, 0.1)] * 5], 3.0)
    assert [mark.label for mark in marks] == ["1, 3", "2 + 5 more"]
    assert marks[1].numbers == (2, 4, 5, 6, 7, 8)


@pytest.mark.parametrize("height", [1.0, 4.0])
def test_numbers_stand_clear_of_rings_and_of_each_other(height: float) -> None:
    """Asked of shapely, for sixty places strewn over a sheet."""
    rng = random.Random(3)
    marks = repair_marks([gap(rng.uniform(0, 400), rng.uniform(0, 280)) for _ in range(60)], height)
    rings = [Point(mark.at).buffer(mark.radius) for mark in marks]
    words = []
    for mark in marks:
        x, y = mark.label_at
        half = 0.5 * DIGIT * height * len(mark.label)
        words.append(box(x - half, y - height / 2, x + half, y + height / 2))
    assert not any(one.intersects(ring) for one in words for ring in rings)
    assert not any(one.intersects(other) for i, one in enumerate(words) for other in words[:i])


def test_a_thousand_marks_are_placed_by_asking_their_neighbors() -> None:
    marks = repair_marks([gap(7.0 * (i % 40), 7.0 * (i // 40)) for i in range(1000)], 1.0)
    assert len(marks) == 1000
    assert sorted(number for mark in marks for number in mark.numbers) == list(range(1, 1001))


def test_numbers_stand_clear_of_the_lines() -> None:
    """The corner of a plate and the middle of its side, asked of shapely."""
    sides = [Line((0, 0), (100, 0)), Line((0, 0), (0, 80))]
    marks = repair_marks([gap(0, 0), gap(50, 0), gap(0, 40)], 3.0, sides)
    for mark in marks:
        x, y = mark.label_at
        half = 0.5 * DIGIT * 3.0 * len(mark.label)
        word = box(x - half, y - 1.5, x + half, y + 1.5)
        assert not any(word.intersects(LineString([side.start, side.end])) for side in sides)
