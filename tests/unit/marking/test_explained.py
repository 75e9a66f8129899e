"""What a hand-in was drawn with instead of the key's values, named from its outline alone."""

from __future__ import annotations

from math import cos, pi, sin

import pytest

from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.geometry.evaluate import moved
from sketcher.marking.comparing import NoFit
from sketcher.marking.comparison import Comparison
from tests.ready_keys import key_ready
from tests.unit.marking.by_hand import (
    Outline,
    but,
    compared,
    flipped,
    gate_strap,
    handed,
    marks_of,
    pump_flange,
    shelf_bracket,
    turned,
)


def named(comparison: Comparison) -> dict[str, str]:
    """What was named, by dimension, parameter or field of a pattern."""
    return {each.name: each.found for each in comparison.changes}


def mirrored(curve: Curve) -> Curve:
    """A curve reflected about the y axis, moved aside."""
    return moved(flipped(curve), 7.0, 0.0)


def test_a_perfect_outline_has_nothing_to_name() -> None:
    for name, outline in (("gate-strap", gate_strap()), ("pump-flange", pump_flange()),
                          ("shelf-bracket", shelf_bracket())):
        found = compared(name, outline)
        assert (found.changes, found.matching.wrong(found.within)) == ((), 0), name


def test_a_parameter_that_moves_two_values_is_named_once() -> None:
    assert named(compared("gate-strap", gate_strap(wall=10.0, k1=(44.0, 12.0)))) == {"wall": "10"}


def test_an_odd_value_is_named_to_its_digits() -> None:
    found = compared("gate-strap", gate_strap(fillet=13.37))
    assert [(each.found, each.wanted) for each in found.changes] == [("13.37", "12")]


@pytest.mark.parametrize("turn", [0.0, 90.0, 180.0, 37.123, 251.9])
@pytest.mark.parametrize("reflected", [False, True])
def test_the_pose_of_a_hand_in_does_not_matter(turn: float, reflected: bool) -> None:
    curves = [turned(mirrored(curve) if reflected else curve, turn, (11.0, -4.0))
              for curve in but(shelf_bracket(), peg=Circle((1.0, 3.75), 0.25)).values()]
    found = compared("shelf-bracket", [moved(curve, 211.0, -33.0) for curve in curves])
    assert [(each.wanted, each.found) for each in found.changes] == [("3/8", "1/2")]
    assert found.pose.mirrored == reflected
    off = (found.pose.turn + turn * (-1.0 if reflected else 1.0)) % 360.0
    assert min(off, 360.0 - off) == pytest.approx(0.0, abs=1e-9)


def test_a_dimension_that_turns_nothing_but_itself_is_no_turn() -> None:
    pitch = compared("roof-gusset", _gusset_turned(2.5))
    assert named(pitch) == {"pitch": "30"}
    odd = compared("roof-gusset", _gusset_turned(2.5123))
    assert named(odd) == {}
    assert odd.pose.turn == pytest.approx(360.0 - 2.5123, abs=1e-9)


def _gusset_turned(degrees: float) -> list[Curve]:
    return [turned(piece.curve, degrees) for piece in
            key_ready("roof-gusset").explainer.key.pieces]


def test_the_step_of_a_grid_is_read_off_all_its_holes() -> None:
    wide: Outline = {f"hole{k}": Circle((2.75 + 1.625 * (k % 2), 0.5625 + 1.125 * (k // 2)),
                                        9.0 / 64.0) for k in range(4)}
    assert named(compared("shelf-bracket", but(shelf_bracket(), **wide))) == {
        "n1.step.0": "1 5/8"}


def test_a_hole_drawn_aside_is_no_wrong_value() -> None:
    aside = compared("shelf-bracket", but(shelf_bracket(), hole0=Circle((2.811, 0.5214),
                                                                        9.0 / 64.0)))
    assert aside.changes == ()
    assert sum(off > aside.within for off in aside.matching.off) == 1


def test_another_count_round_a_bolt_circle_is_named_as_such() -> None:
    eight = {f"screw{k}": Circle((30.0 * cos(pi / 2.0 + k * pi / 4.0),
                                  30.0 * sin(pi / 2.0 + k * pi / 4.0)), 3.3) for k in range(8)}
    found = compared("pump-flange", but(pump_flange(), **eight))
    assert [(each.sort, each.found) for each in found.changes] == [("count", "8")]


def test_a_row_of_holes_left_out_is_a_count() -> None:
    for row, field in ((("hole1", "hole3"), "0"), (("hole2", "hole3"), "1")):
        found = compared("shelf-bracket", but(shelf_bracket(), **dict.fromkeys(row)))
        assert [(each.sort, each.name) for each in found.changes] == [
            ("count", f"n1.count.{field}")]
        assert found.matching.wrong(found.within) == 0


def test_seven_holes_round_a_bolt_circle_are_seen_in_any_pose() -> None:
    seven = {f"screw{k}": Circle((30.0 * cos(pi / 2.0 + k * pi / 3.5),
                                  30.0 * sin(pi / 2.0 + k * pi / 3.5)), 3.3) for k in range(7)}
    drawn = [turned(mirrored(curve), 90.0) for curve in but(pump_flange(), **seven).values()]
    assert [(each.sort, each.found) for each in compared("pump-flange", drawn).changes] == [
        ("count", "7")]


def test_the_other_side_of_a_distance_is_named_as_such() -> None:
    key = key_ready("shelf-bracket").explainer
    way = next(way for way in key._others.ways if way.change.sort == "side")
    found = compared("shelf-bracket", [piece.curve for piece in way.key.shape.pieces])
    assert [(each.sort, each.name) for each in found.changes] == [("side", way.change.name)]


def test_a_value_that_a_missing_hole_alone_shows_is_undecided() -> None:
    whole, without = shelf_bracket(), but(shelf_bracket(), peg=None)
    assert compared("shelf-bracket", whole).undecided == ()
    part = key_ready("shelf-bracket").part
    kinds = {part.bindings[name].kind for name in compared("shelf-bracket", without).undecided}
    assert "diameter" in kinds
    assert compared("shelf-bracket", without).changes == ()
    assert "wrong-value" not in marks_of("shelf-bracket", whole).undecided
    assert marks_of("shelf-bracket", without).undecided["wrong-value"] == (
        "only what is missing would show Ø.375 and the offset of 1 from the left edge to the hole "
        "Ø3/8 and the offset of 1 1/4 from the top edge to the hole Ø3/8")


def test_another_part_is_not_graded() -> None:
    plate = [Line((0, 0), (90, 0)), Line((90, 0), (90, 100)), Line((90, 100), (0, 100)),
             Line((0, 100), (0, 0)), Circle((20, 20), 7.7)]
    with pytest.raises(NoFit, match="lines and rounds are found"):
        key_ready("gate-strap").compare(handed(plate))
