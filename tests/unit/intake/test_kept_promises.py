"""Nothing of a drawing is lost, and what is promised of its move and area is checked."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from sketcher.exchange.dxf_content import DxfContent, FileCurve
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.intake.linework import PlaceInFile, Shape
from sketcher.intake.moved import as_promised
from sketcher.intake.nesting import shapes
from sketcher.intake.take_in import take_in
from sketcher.intake.taken import BoundHalf, Taken
from sketcher.intake.unbound_strays import with_strays
from sketcher.intake.wishes import Wishes
from sketcher.part.value import Binding, Mirror, Part
from sketcher.part.whole import whole
from sketcher.solve import solve
from tests.drawn import drawn, lines_through, shapes_of
from tests.plates import plate, rectangle

PLATE = lines_through((0, 0), (40, 0), (40, 20), (0, 20))


def taken_in(*curves: Curve) -> Taken:
    # Without an axis the datum is the corner at (0, 0): the part lies where the file has it.
    return take_in(DxfContent("plate", tuple(
        FileCurve(curve, n) for n, curve in enumerate(curves, 1)), "mm"), Wishes(axis="none"))


def test_an_open_outline_is_written_and_told() -> None:
    taken = taken_in(*PLATE[:3])
    (part,) = taken.parts
    assert not taken.sound
    assert part.bound.solution.report.freedoms == 0
    assert shapes_of(piece.curve for piece in whole(part.part)) == shapes_of(PLATE[:3])
    assert [fault.text for fault in part.faults] == ["open by 20 mm"]
    assert part.bound.largest_move < 1e-6
    assert part.findings


def test_strays_of_every_kind_are_held_where_they_are() -> None:
    strays = [Line((5, 5), (9, 7)), Arc((20, 10), (25, 10), (20, 15)),
              Arc((24, 10), (20, 13), (21, 6), ccw=False)]
    (part,) = taken_in(*PLATE, *strays).parts
    pieces = [piece.curve for piece in whole(part.part)]
    assert set(shapes_of(strays)) < set(shapes_of(pieces))
    assert len(pieces) == 7
    assert part.bound.solution.report.doubled == ()
    # The plate itself may be bound or not: what hangs on the strays cannot move.
    alone = taken_in(*PLATE).parts[0].bound.solution.report.freedoms
    assert part.bound.solution.report.freedoms == alone


def test_a_stray_is_not_reflected() -> None:
    points, lines = rectangle(20.0, 20.0)
    half = plate({**points, "a": (0, -5), "b": (0, 25)},
                 {**{k: v for k, v in lines.items() if k != "pe4"}, "ax": ("a", "b")},
                 *(Binding("fixed", (name,)) for name in ("a", "b", "p1", "p2", "p3", "p4")),
                 roles={"ax": "axis"}, axis="ax")
    assert half.mirrors == (Mirror("ax"),)
    place = PlaceInFile(0.5 * pi, (100.0, 50.0))
    stray = drawn(Line((98, 51), (98, 57))).curves
    solution = solve(half)
    bound = with_strays(BoundHalf(solution.part, solution, frame=place), stray)
    outline = [piece.curve for piece in whole(bound.part) if piece.role == "outline"]
    assert len(outline) == 7
    assert shapes_of([Line((1, 2), (7, 2))])[0] in shapes_of(outline)


def bound(part: Part) -> BoundHalf:
    solution = solve(part)
    return BoundHalf(solution.part, solution)


def shape_of(*curves: Curve) -> tuple[Shape, Part]:
    (shape,) = shapes(drawn(*curves), Wishes())
    (part,) = taken_in(*curves).parts
    return shape, part.part


def test_the_move_of_a_part_is_measured_where_the_file_has_it() -> None:
    shape, part = shape_of(*PLATE, Circle((10, 10), 3))
    there = bound(part)
    file = drawn(*PLATE, Circle((10, 10), 3)).curves
    move, fault = as_promised(file, shape, there)
    assert (move < 1e-6, fault) == (True, None)
    off = replace(there, frame=PlaceInFile(0.0, (0.25, 0.0)))
    move, fault = as_promised(file, shape, off)
    assert move == pytest.approx(0.25, rel=2e-3)
    assert fault is None


def test_an_area_that_no_move_explains_is_a_fault() -> None:
    """A disc in which somebody's circle was no hole and is one: nothing moved, 16 pi is lost."""
    ring = [Circle((0, 0), 10), Circle((0, 0), 4)]
    shape, part = shape_of(*ring)
    disc = replace(shape, loops=shape.loops[:1], strays=shape.loops[1])
    move, fault = as_promised(drawn(*ring).curves, disc, bound(part))
    assert move < 1e-6
    assert fault is not None
    assert (fault.kind, fault.entities) == ("area", (1, 2))
    assert fault.size == pytest.approx(16 * pi)
