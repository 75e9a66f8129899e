"""Circles of unknown size from three things that they reach, judged by straightedge and compass.

The problem of Apollonius in its simpler cases: three points, three lines, two lines and a point,
two points and a line, three circles of one size (Elements IV.4, IV.5, III.36; all
from memory).
"""

from __future__ import annotations

import re

import pytest

from sketcher.lesson.order import construction_order
from sketcher.part.value import CircleCurve, Part
from tests.drawn_by_hand import faults_of, sentences
from tests.specimens import frame, said

POINTS = {"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (0.0, 20.0), "p4": (2.0, 4.0)}


def fixed(points: dict[str, tuple[float, float]]) -> list:  # type: ignore[type-arg]
    return [said("fixed", name) for name in points]


def three_lines() -> Part:
    points = {"p1": (0.0, 0.0), "p2": (30.0, 0.0), "p3": (8.0, 22.0)}
    return frame({**points, "m": (12.0, 7.0)},
                 [("p1", "p2"), ("p2", "p3"), ("p3", "p1"), CircleCurve("m", 6.5)],
                 *fixed(points), *[said("tangent", f"e{k}", "e4") for k in (1, 2, 3)])


def lines_and_point(near: bool) -> Part:
    # touching both axes through (2, 4): r^2 - 12 r + 20 = 0, so 2 or 10
    start = 1.9 if near else 9.5
    return frame({**POINTS, "m": (start, start)},
                 [("p1", "p2"), ("p1", "p3"), CircleCurve("m", start)], *fixed(POINTS),
                 said("tangent", "e1", "e3"), said("tangent", "e2", "e3"), said("on", "p4", "e3"))


def points_and_line(level: bool) -> Part:
    points = {"p1": (-20.0, 0.0), "p2": (30.0, 0.0), "p3": (2.0, 9.0),
              "p4": (14.0, 9.0 if level else 5.0)}
    return frame({**points, "m": (8.0, 5.5)}, [("p1", "p2"), CircleCurve("m", 5.5)],
                 *fixed(points), said("tangent", "e1", "e2"), said("on", "p3", "e2"),
                 said("on", "p4", "e2"))


def parallels_and_point() -> Part:
    points = {"p1": (0.0, 0.0), "p2": (30.0, 0.0), "p3": (0.0, 12.0), "p4": (30.0, 12.0)}
    return frame({**points, "m": (9.0, 6.1)},
                 [("p1", "p2"), ("p3", "p4"), CircleCurve("m", 6.0)], *fixed(points),
                 said("tangent", "e1", "e3"), said("tangent", "e2", "e3"),
                 said("run", "p1", "m", value="10"))


def equal_circles() -> Part:
    points = {"p1": (0.0, 0.0), "p2": (30.0, 0.0), "p3": (12.0, 26.0)}
    return frame({**points, "m": (14.0, 9.0)},
                 [*(CircleCurve(p, 4.0) for p in points), CircleCurve("m", 11.0)], *fixed(points),
                 *[said("radius", f"e{k}", value="4") for k in (1, 2, 3)],
                 *[said("tangent", f"e{k}", "e4") for k in (1, 2, 3)])


@pytest.mark.parametrize("part", [
    three_lines(), lines_and_point(near=True), lines_and_point(near=False),
    points_and_line(level=False), points_and_line(level=True), parallels_and_point(),
    equal_circles(),
], ids=["three lines", "small in a corner", "large in a corner", "points over a line",
        "points level over a line", "between parallels", "three circles"])
def test_a_circle_is_constructed_from_three_things(part: Part) -> None:
    assert not any(step.together for step in construction_order(part))
    assert faults_of(part) == []


def test_the_sentence_says_what_the_center_is_as_far_from() -> None:
    (text,) = (t for t in sentences(lines_and_point(near=False)) if t.startswith("m is "))
    assert text.endswith(", at (10, 10).")
    assert sorted(re.findall(r"as far from (\w+) as from (\w+) and as from (\w+)", text)[0]) == [
        "e1", "e2", "p4"]


def test_what_has_no_construction_here_is_said_to_be_computed() -> None:
    # two circles of different size and a point: none of the cases above
    points = {"p1": (0.0, 0.0), "p2": (30.0, 0.0), "p3": (12.0, 26.0)}
    part = frame({**points, "m": (14.0, 9.0)},
                 [CircleCurve("p1", 4.0), CircleCurve("p2", 7.0), CircleCurve("m", 11.0)],
                 *fixed(points), said("radius", "e1", value="4"), said("radius", "e2", value="7"),
                 said("tangent", "e1", "e3"), said("tangent", "e2", "e3"), said("on", "p3", "e3"))
    (step,) = (s for s in construction_order(part) if s.together)
    assert any("Take what is computed" in text for text in step.substeps)
    assert set(step.points) == {"m"}
