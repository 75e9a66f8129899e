"""Unit, scale and pose of a hand-in: what is wrong with them is one mistake, the rest is right."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketcher.exchange.dxf_content import DxfContent, FileWords
from sketcher.geometry.evaluate import scaled
from sketcher.marking.comparison import Comparison
from sketcher.marking.poses import Pose
from sketcher.marking.rules import marking_rules
from sketcher.marking.rules.turned_or_mirrored_rule import lies
from sketcher.marking.scale_told import scale_told
from sketcher.part.value import Unit
from tests.ready_keys import key_ready
from tests.unit.marking.by_hand import below, compared, flipped, gate_strap, handed, shelf_bracket

MM_IN = 1.0 / 25.4


def drawn(key: str, times: float, unit: Unit | None, factor: float = 1.0, said: str = "",
          **hints: int) -> Comparison:
    """A demo part whose numbers are those of the paper times a factor, under a header."""
    outline = gate_strap() if key == "gate-strap" else shelf_bracket()
    content = DxfContent("drawn", (), hints={f"${name}": value for name, value in hints.items()})
    hand_in = replace(
        handed(scaled(curve, times) for curve in outline.values()), unit=unit, factor=factor,
        words=(FileWords(said, (0.0, 0.0)),) if said else (), content=content)
    return key_ready(key).compare(hand_in)


def found(comparison: Comparison, rule: str) -> list[tuple[str, str]]:
    decided = marking_rules()[rule].decide(comparison)
    assert isinstance(decided, tuple)
    return [(each.found, each.wanted) for each in decided]


RIGHT = [
    ("gate-strap", 1.0, "mm", 1.0), ("gate-strap", MM_IN, "in", 1.0),
    ("gate-strap", 0.1, "mm", 10.0), ("gate-strap", 0.001, "mm", 1000.0),
    ("gate-strap", MM_IN / 12.0, "in", 12.0), ("gate-strap", 1.0, None, 1.0),
    ("shelf-bracket", 1.0, "in", 1.0), ("shelf-bracket", 25.4, "mm", 1.0),
    ("shelf-bracket", 2.54, "mm", 10.0), ("shelf-bracket", 1.0, None, 1.0)]


@pytest.mark.parametrize(("key", "times", "unit", "factor"), RIGHT)
def test_any_unit_is_right_that_the_header_says(
    key: str, times: float, unit: Unit | None, factor: float
) -> None:
    comparison = drawn(key, times, unit, factor)
    assert comparison.matching.wrong(comparison.within) == 0
    assert found(comparison, "wrong-unit") == found(comparison, "scale") == []
    assert scale_told(comparison).drawn == 1.0


WRONG = [
    ("gate-strap", MM_IN, "mm", 1.0, "inches", "millimetres"),
    ("gate-strap", 1.0, "in", 1.0, "millimetres", "inches"),
    ("gate-strap", 1.0, "mm", 1000.0, "millimetres", "metres"),
    ("gate-strap", 1.0, "mm", 10.0, "millimetres", "centimetres"),
    ("gate-strap", MM_IN, None, 1.0, "inches", "millimetres"),
    ("gate-strap", 25.4, "mm", 1.0, "units of 0.0393701 mm", "millimetres"),
    ("shelf-bracket", 1.0, "mm", 1.0, "inches", "millimetres"),
    ("shelf-bracket", 25.4, "in", 1.0, "millimetres", "inches"),
    ("shelf-bracket", 25.4, None, 1.0, "millimetres", "inches")]


@pytest.mark.parametrize(("key", "times", "unit", "factor", "numbers", "says"), WRONG)
def test_numbers_in_another_unit_than_the_header_says_are_one_mistake(
    key: str, times: float, unit: Unit | None, factor: float, numbers: str, says: str
) -> None:
    comparison = drawn(key, times, unit, factor)
    assert comparison.matching.wrong(comparison.within) == 0
    assert found(comparison, "wrong-unit") == [(numbers, says)]
    assert found(comparison, "scale") == []


def test_a_header_without_a_unit_may_hint_at_it() -> None:
    assert found(drawn("gate-strap", MM_IN, None, MEASUREMENT=0), "wrong-unit") == []
    assert found(drawn("gate-strap", MM_IN, None, LUNITS=5), "wrong-unit") == []
    assert len(found(drawn("gate-strap", MM_IN, None, MEASUREMENT=1), "wrong-unit")) == 1


@pytest.mark.parametrize(("times", "unit", "said"), [
    (0.5, "mm", "1:2"), (2.0, "mm", "2:1"), (0.1, "mm", "1:10"), (5.0 * MM_IN, "in", "5:1")])
def test_a_scale_that_nothing_tells_is_one_mistake(times: float, unit: Unit, said: str) -> None:
    comparison = drawn("gate-strap", times, unit)
    assert comparison.matching.wrong(comparison.within) == 0
    assert found(comparison, "scale") == [(said, "1:1")]
    assert found(comparison, "wrong-unit") == []
    assert found(drawn("gate-strap", times, unit, said=f"SCALE {said}"), "scale") == []
    assert found(drawn("gate-strap", times, unit, said="SCALE 3:1"), "scale") == [(said, "1:1")]
    assert found(drawn("gate-strap", times, unit, said=f"12:0{said}"), "scale") != []


def test_the_scale_of_a_sheet_is_no_mistake() -> None:
    assert found(drawn("gate-strap", 1.0, "mm", said="1:2"), "scale") == []


@pytest.mark.parametrize(("pose", "said"), [
    (Pose(), ""), (Pose(turn=0.04), ""), (Pose(turn=90.0), "turned by 90° clockwise"),
    (Pose(turn=-90.0), "turned by 90° counter-clockwise"), (Pose(turn=180.0), "turned by 180°"),
    (Pose(turn=270.0), "turned by 90° counter-clockwise"),
    (Pose(turn=12.5), "turned by 12.5° clockwise"), (Pose(mirrored=True), "mirrored left to right"),
    (Pose(turn=180.0, mirrored=True), "mirrored top to bottom"),
    (Pose(turn=90.0, mirrored=True), "turned by 90° clockwise, then mirrored left to right")])
def test_how_a_part_lies_is_said_as_it_was_drawn(pose: Pose, said: str) -> None:
    assert lies(pose, 0.05) == said


def test_a_mirror_image_is_one_mistake_and_nothing_else() -> None:
    bracket = shelf_bracket()
    for curves, said in ((map(flipped, bracket.values()), "mirrored left to right"),
                         (map(below, bracket.values()), "mirrored top to bottom")):
        comparison = compared("shelf-bracket", curves)
        assert found(comparison, "turned-or-mirrored") == [(said, "as on the paper")]
        assert comparison.matching.wrong(comparison.within) == 0
        straight = replace(comparison, pose=replace(comparison.pose, turn=0.0, mirrored=False))
        assert found(straight, "turned-or-mirrored") == []


@pytest.mark.parametrize(("version", "mistakes"), [("AC1009", 0), ("AC1015", 1)])
def test_a_file_that_has_no_place_for_its_unit_is_not_wrong(version: str, mistakes: int) -> None:
    comparison = drawn("gate-strap", MM_IN, None)
    content = DxfContent("one.dxf", (), version=version)
    told = replace(comparison, hand_in=replace(comparison.hand_in, content=content))
    assert len(found(told, "wrong-unit")) == mistakes
