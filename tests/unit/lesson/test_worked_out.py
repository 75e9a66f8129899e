"""Lengths that several numbers of the paper give: their sums are the drafter's arithmetic."""

from __future__ import annotations

import pytest

from sketcher.lesson.order import construction_order
from sketcher.part.store import load
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve
from tests.demo_parts import SOUND
from tests.drawn_by_hand import faults_of, sentences
from tests.specimens import frame, said

ARM = next(path for path in SOUND if "shift-arm" in path.name)


def test_the_rims_of_a_curved_slot_are_its_path_and_half_its_width() -> None:
    texts = sentences(load(ARM))
    assert "Strike a7 about c1 with R48 = 52 - 4 (length of s2, radius of a8)." in texts
    assert "Strike a9 about c1 with R56 = 52 + 4 (length of s2, radius of a8)." in texts
    assert any("R52 (length of s2) about c1" in text for text in texts)


def test_half_of_a_distance_is_set_off_on_each_side_of_an_axis() -> None:
    points = {"p1": (0.0, 0.0), "p2": (0.0, 40.0), "q1": (-14.0, 10.0), "q2": (16.0, 12.0)}
    part = frame(points, [LineCurve(("p1", "p2"), "axis"), CircleCurve("q1", 3.0),
                          CircleCurve("q2", 3.0)],
                 said("fixed", "p1"), said("plumb", "e1"), said("distance", "e1", value="40"),
                 said("reflected", "q1", "q2", "e1"), said("run", "q1", "q2", value="30"),
                 said("rise", "p1", "q1", value="14"), said("radius", "e2", value="3"),
                 said("equal", "e2", "e3"))
    assert not any(step.together for step in construction_order(part))
    assert any("plumb line 15 = 30 / 2" in text for text in sentences(part))
    assert faults_of(part) == []


@pytest.mark.parametrize("wide", [8.0, 26.0])
def test_a_sum_that_only_happens_to_fit_is_not_taken(wide: float) -> None:
    """The round touches a line at 5 and goes on to reach a point: its size is no sum.

    With `wide` 8 it is 5 by 3-4-5 all the same (Euclid I.47), which is no reason to say so.
    """
    points = {"p1": (0.0, 0.0), "p2": (60.0, 0.0), "m": (10.0, 9.0), "q": (10.0 + wide / 2, 1.0)}
    part = frame(points, [("p1", "p2"), CircleCurve("m", 8.0)], said("fixed", "p1"),
                 said("level", "e1"), said("distance", "e1", value="60"),
                 said("run", "p1", "m", value="10"), said("rise", "p1", "m", value="5"),
                 said("fixed", "q"), said("on", "q", "e2"))
    assert any("Strike e2 about m with the opening that reaches q." in text
               for text in sentences(part))
    assert faults_of(part) == []


def test_a_radius_outside_another_names_its_sum_once() -> None:
    points = {"p1": (0.0, 0.0), "p2": (9.0, 0.0), "p3": (9.5, 1.0)}
    part = frame({**points, "k": (0.0, 0.0)},
                 [CircleCurve("p1", 5.0), ArcCurve(("p2", "p3"), "k")],
                 said("fixed", "p1"), said("diameter", "e1", value="10"),
                 said("offset", "e1", "e2", value="4"), said("level", "p1", "p2"),
                 said("rise", "p2", "p3", value="1"))
    texts = " ".join(sentences(part))
    assert texts.count("R9 = Ø10 / 2 + 4 (outside e1)") == 1
    assert faults_of(part) == []
