"""What opens the compass for a round: what is drawn before it, be it equal to a sum or not."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from tests.hand_moves import by_hand

START: dict[str, Any] = {"format": "part-profile", "version": 1, "name": "Rounds", "unit": "mm"}


def test_a_circle_through_an_end_is_opened_to_it_though_its_radius_is_typed_elsewhere(
    tmp_path: Path
) -> None:
    """A line beside another one, between the plumb lines of its ends, is as long as that."""
    part = {**START, "points": {"p1": [0, 0], "p2": [36, 19], "p3": [0, 18], "p4": [36, 37]},
            "curves": {"e1": {"kind": "line", "ends": ["p1", "p2"]},
                       "e2": {"kind": "line", "ends": ["p3", "p4"]},
                       "h1": {"kind": "circle", "center": "p3", "radius": 40}},
            "bindings": {"b1": {"kind": "fixed", "of": ["p1"]},
                         "b2": {"kind": "angle", "of": ["e1"], "value": "27.5"},
                         "b3": {"kind": "distance", "of": ["e1"], "value": "40.5"},
                         "b4": {"kind": "plumb", "of": ["p1", "p3"]},
                         "b5": {"kind": "plumb", "of": ["p2", "p4"]},
                         "b6": {"kind": "offset", "of": ["e1", "e2"], "value": "16.5"},
                         "b7": {"kind": "on", "of": ["p4", "h1"]}}}
    _judge(part, tmp_path)


def test_a_circle_as_large_as_one_that_leaves_a_web_is_opened_by_that(tmp_path: Path) -> None:
    """And one around it by the paper's number more; a half of a sum is said by the sum."""
    part = {**START, "points": {"p1": [0, 0], "p2": [70, 0], "p3": [30, 50], "p4": [90, 60]},
            "curves": {"e1": {"kind": "line", "ends": ["p1", "p2"]},
                       "h1": {"kind": "circle", "center": "p1", "radius": 11.25},
                       "h2": {"kind": "circle", "center": "p3", "radius": 30},
                       "h3": {"kind": "circle", "center": "p4", "radius": 30},
                       "h4": {"kind": "circle", "center": "p4", "radius": 36}},
            "bindings": {"b1": {"kind": "fixed", "of": ["p1"]},
                         "b2": {"kind": "level", "of": ["e1"]},
                         "b3": {"kind": "distance", "of": ["e1"], "value": "70"},
                         "b4": {"kind": "distance", "of": ["p1", "p3"], "value": "58"},
                         "b5": {"kind": "run", "of": ["p1", "p3"], "value": "30"},
                         "b6": {"kind": "run", "of": ["p2", "p4"], "value": "20"},
                         "b7": {"kind": "rise", "of": ["p2", "p4"], "value": "60"},
                         "b8": {"kind": "diameter", "of": ["h1"], "value": "19 + 3.5"},
                         "b9": {"kind": "web", "of": ["h1", "h2"], "value": "17"},
                         "b10": {"kind": "equal", "of": ["h2", "h3"]},
                         "b11": {"kind": "offset", "of": ["h3", "h4"], "value": "6"}}}
    _judge(part, tmp_path)


def _judge(part: dict[str, Any], folder: Path) -> None:
    path = folder / "part.profile.json"
    path.write_text(json.dumps(part), encoding="utf-8")
    found = by_hand(path, folder)
    assert found.solved
    assert found.faults == []
    assert found.counts["strokes"] > 20
