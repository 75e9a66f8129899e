"""Layers that files do not tell of are asked once for the class, and the rubric answers."""

from __future__ import annotations

from pathlib import Path

import ezdxf

from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.asked_layers import AskedLayer, asked_layers
from sketcher.marking.class_worker import ClassMarker, Task
from sketcher.marking.hand_in import LayerQuestion
from sketcher.marking.roster import ClassEntry
from sketcher.marking.rubric import Rubric
from tests.plates import bound


def test_each_layer_is_asked_once_by_what_most_take_it_for() -> None:
    one = LayerQuestion("Rand", "outline", 4, "why")
    other = LayerQuestion("RAND", "construction", 9, "for another reason")
    rare = LayerQuestion("Achs", "center", 1, "so")
    assert asked_layers([(one, rare), (), (other,), (one,)]) == (
        AskedLayer("Rand", "construction", 3, "why"), AskedLayer("Achs", "center", 1, "so"))


def test_what_a_hand_in_asks_comes_with_its_marks_and_the_rubric_answers(tmp_path: Path) -> None:
    document = ezdxf.new("R2000", units=4)
    space = document.modelspace()
    corners = [(0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0)]
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        space.add_line(a, b, {"layer": "OUTLINE"})
    space.add_line((10.0, -5.0), (10.0, 25.0), {"layer": "Q"})
    document.saveas(tmp_path / "1.dxf")
    entry, key = ClassEntry("1", str(tmp_path / "1.dxf")), solve_sketch(bound()).part
    asked = ClassMarker(Task({"": key}, Rubric())).mark(entry)
    assert [each.layer for each in asked.questions] == ["Q"]
    assert asked.marks.points == 100.0  # taken for construction, which is on a layer of its own
    answered = ClassMarker(Task({"": key}, Rubric(layers={"q": "outline"}))).mark(entry)
    assert answered.questions == ()
    assert answered.marks.points < 100.0
