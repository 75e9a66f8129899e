"""Names of edges and dimensions: what the papers of the demo parts show at these places."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketcher.marking.key_changes import KeyChange
from sketcher.marking.outline_words import OutlineWords
from sketcher.marking.rules.wrong_value_rule import decide
from tests.ready_keys import key_ready
from tests.unit.marking.by_hand import compared, gate_strap


@pytest.mark.parametrize(("key", "name", "between"), [
    ("gate-strap", "b5", "from the axis to the right edge"),
    ("gate-strap", "b19", "from the bottom edge to the hole Ø20"),
    ("gate-strap", "b34", "from the axis to the right edge of the opening"),
    ("gate-strap", "b11", "from the right edge to the sharp corner at the right"),
    ("pump-flange", "b5", "from the hole Ø36 to the hole Ø13 at the right"),
    ("shelf-bracket", "b9", "from the bottom edge to the top edge"),
    ("shelf-bracket", "b25", "from the top edge to the hole Ø3/8"),
])
def test_a_length_is_said_between_what_the_paper_shows(key: str, name: str, between: str) -> None:
    shape = key_ready(key).explainer.key
    binding = shape.part.bindings[name]
    assert OutlineWords(shape).between(binding.kind, binding.of) == between


@pytest.mark.parametrize(("change", "text"), [
    (KeyChange("dimension", "b10", "30", "32"),
     "the angle of 30° of the slanting edge at the lower right is drawn 32°"),
    (KeyChange("parameter", "width", "96 + 2*wall", "118"), "the width, 120, is drawn 118"),
])
def test_a_value_is_told_in_one_clause(change: KeyChange, text: str) -> None:
    comparison = compared("gate-strap", gate_strap())
    comparison = replace(comparison, changes=(change,))
    assert [each.text for each in decide(comparison)] == [text]


def test_how_far_something_is_off_is_said_by_sides() -> None:
    words = OutlineWords(key_ready("gate-strap").explainer.key)
    assert words.away((1.2, 0.0)) == "1.2 to the right of its place"
    assert words.away((-0.5, 0.3)) == "0.5 to the left of and 0.3 above its place"
    assert words.away((0.0, -0.02)) == "0.02 below its place"
