"""Contours nested into parts; places follow from the drawings themselves."""

from __future__ import annotations

import random

import pytest

from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.intake.linework import Repair, Shape
from sketcher.intake.nesting import shapes
from sketcher.intake.wishes import Wishes
from tests.drawn import drawn, lines_through


def nest(*curves: Curve) -> tuple[Shape, ...]:
    return shapes(drawn(*curves), Wishes())


def square(x: float, y: float, side: float) -> list[Curve]:
    return lines_through((x, y), (x + side, y), (x + side, y + side), (x, y + side))


def entities(shape: Shape) -> set[int]:
    return {e for each in (*shape.strays, *(c for loop in shape.loops for c in loop))
            for e in each.entities}


def faults(shape: Shape) -> list[tuple[str, tuple[int, ...]]]:
    return [(fault.kind, fault.entities) for fault in shape.faults]


def test_a_plate_with_holes_is_one_part_its_outside_first() -> None:
    (shape,) = nest(Circle((3, 3), 1), *square(0, 0, 10), Circle((7, 7), 1))
    assert [len(loop) for loop in shape.loops] == [4, 1, 1]
    assert (shape.strays, shape.faults) == ((), ())


def test_several_outlines_are_parts_by_falling_area() -> None:
    found = nest(*square(0, 0, 5), *square(20, 0, 10), Circle((22, 2), 1), *square(40, 0, 8))
    assert [entities(shape) for shape in found] == [{5, 6, 7, 8, 9}, {10, 11, 12, 13}, {1, 2, 3, 4}]


def test_an_island_in_a_hole_is_a_part_of_its_own_with_its_own_hole() -> None:
    found = nest(*(Circle((0, 0), r) for r in (10, 8, 6, 2)))
    assert [entities(shape) for shape in found] == [{1, 2}, {3, 4}]


def test_a_stray_goes_with_the_smallest_part_that_it_lies_on() -> None:
    rings = [Circle((0, 0), r) for r in (10, 8, 6)]
    found = nest(*rings, Line((-1, 0), (1, 0)), Line((8.5, 0), (9.5, 0)))
    assert [entities(shape) for shape in found] == [{1, 2, 5}, {3, 4}]
    assert [fault.kind for fault in found[1].faults] == ["open"] * len(found[1].faults) != []


def test_a_tail_goes_with_the_outline_that_it_hangs_on() -> None:
    found = nest(*square(0, 0, 10), *square(20, 0, 9), Line((10, 10), (15, 15)))
    assert entities(found[0]) == {1, 2, 3, 4, 9}
    assert faults(found[0]) == [("open", (9,))]
    assert found[0].faults[0].at == (15, 15)
    assert found[0].faults[0].text == "an end that meets nothing"
    assert found[1].faults == ()


def test_an_open_outline_is_a_part_of_its_own_and_nothing_is_lost() -> None:
    found = nest(*square(0, 0, 10), *square(20, 0, 9)[:3], Line((40, 0), (50, 0)))
    assert [len(shape.loops) for shape in found] == [1, 0, 0]
    assert [entities(shape) for shape in found] == [{1, 2, 3, 4}, {8}, {5, 6, 7}]
    (fault,) = found[2].faults
    assert (fault.kind, fault.size, fault.at) == ("open", 9.0, (20, 4.5))
    assert fault.text == "open by 9 mm"
    assert [f.text for f in found[1].faults] == ["both ends of one curve meet nothing, 10 mm apart"]


def test_pieces_of_one_open_outline_stay_together() -> None:
    found = nest(Line((0, 0), (10, 0)), Line((10, 0.5), (10, 10)), Line((9.5, 10), (0, 0.2)))
    assert [entities(shape) for shape in found] == [{1, 2, 3}]
    assert sorted(fault.size for fault in found[0].faults) == pytest.approx([0.2, 0.5, 0.5])


def test_a_line_across_a_plate_is_told() -> None:
    """Two plates drawn edge to edge look the same: their common edge is a stray between them."""
    found = nest(*square(0, 0, 10), *square(10, 0, 10)[:3])
    assert [entities(shape) for shape in found] == [{1, 2, 3, 4, 5, 6, 7}]
    assert faults(found[0]) == [("stray", (2,))]


def test_outlines_that_cross_are_told_on_both() -> None:
    found = nest(*square(0, 0, 10), *square(5, 5, 8))
    assert len(found) == 2
    for shape in found:
        assert sorted(faults(shape)) == [("crossing", (2, 5)), ("crossing", (3, 8))]
        assert sorted(fault.at for fault in shape.faults) == [(5, 10), (10, 5)]


def test_outlines_that_lie_on_each_other_are_told_with_their_length() -> None:
    found = nest(*square(0, 0, 10), Line((10, 2), (10, 6)), Line((10, 6), (14, 6)),
                 Line((14, 6), (14, 2)), Line((14, 2), (10, 2)))
    (fault,) = (fault for fault in found[0].faults if fault.kind == "overlap")
    assert (fault.size, fault.entities) == (4.0, (2, 5))


@pytest.mark.parametrize("hole", [
    [Circle((7, 5), 3)], [Arc((7, 5), (4, 5), (10, 5)), Arc((7, 5), (10, 5), (4, 5))]])
def test_a_hole_that_touches_the_outside_is_told(hole: list[Curve]) -> None:
    (shape,) = nest(*square(0, 0, 10), *hole)
    assert len(shape.loops) == 2
    assert {kind for kind, _ in faults(shape)} == {"touch"}
    assert shape.faults[0].at == pytest.approx((10, 5))


def test_outlines_that_touch_from_outside_and_at_a_corner_are_told() -> None:
    found = nest(Circle((0, 0), 3), Circle((8, 0), 5))
    assert [faults(shape) for shape in found] == [[("touch", (1, 2))]] * 2
    found = nest(*square(0, 0, 10), *square(10, 10, 5))
    assert [faults(shape) for shape in found] == [[("touch", (2, 3, 5, 8))]] * 2
    assert found[0].faults[0].at == (10, 10)


def test_each_part_has_the_repairs_of_its_own_entities() -> None:
    lines = drawn(*square(0, 0, 10), *square(20, 0, 9))
    repairs = [Repair("gap", (0, 0), 0.01, (1, 4), ""), Repair("gap", (20, 0), 0.01, (5, 8), "")]
    found = shapes(lines.repaired(lines.curves, repairs), Wishes())
    assert [shape.repairs for shape in found] == [(repairs[0],), (repairs[1],)]


def test_the_order_of_the_entities_makes_no_difference() -> None:
    curves = [*square(0, 0, 10), *square(20, 0, 9)[:3], Circle((5, 5), 3), Circle((5, 5), 1),
              *square(40, 0, 10), Line((4.5, 5), (5.5, 5))]
    pick = random.Random(2)

    def summary(found: tuple[Shape, ...]) -> list[tuple[int, ...]]:
        return [(len(s.loops), len(s.strays), len(s.faults)) for s in found]

    for _ in range(20):
        mixed = pick.sample(curves, len(curves))
        assert summary(nest(*mixed)) == summary(nest(*curves))


def test_nothing_drawn_is_no_part() -> None:
    assert nest() == ()
