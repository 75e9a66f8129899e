"""Halves with noise on every number become bound parts whose values are those of the paper.

The paper is the demo part that the half was taken from: its own bindings are never looked at, only
where its geometry stands.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import atan2, degrees
from pathlib import Path

import pytest

from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.inspect.inspection import inspect_part
from sketcher.inspect.sketched import solve_sketch
from sketcher.intake.bind import bound_half, held
from sketcher.intake.half_sketch import half_sketch
from sketcher.intake.linework import HalfShape, PlaceInFile, Shape, TakenCurve
from sketcher.intake.taken import BoundHalf
from sketcher.intake.wishes import Wishes
from sketcher.part.kinds import KINDS
from sketcher.part.store import load
from sketcher.part.value import CircleCurve, Part
from sketcher.part.whole import half
from tests import demo_parts
from tests.half_shapes import half_shape, turned

INCH = 25.4


@cache
def paper(path: Path) -> Part:
    return solve_sketch(load(path)).part


def taken(path: Path, noise: float, seed: int = 1) -> BoundHalf:
    """A demo part's half with a noise in mm, its axis put upright, bound anew."""
    part = paper(path)
    shape = half_shape(part, noise / INCH if part.unit == "in" else noise, seed)
    if len(part.mirrors) == 1:
        axis = half(part)[part.mirrors[0].axis]
        lean = degrees(atan2(axis.end[1] - axis.start[1], axis.end[0] - axis.start[0]))
        shape = turned(shape, 90.0 - lean)
    return bound_half(shape, Wishes())


def untrue(found: BoundHalf, exact: BoundHalf) -> list[tuple[str, str, float]]:
    """Values called round that the half without noise does not have."""
    wrong = []
    for value in found.values:
        binding = found.part.bindings.get(value.binding)
        if binding is None or not value.round or not set(binding.of) <= {
                *exact.part.points, *exact.part.curves}:
            continue
        true, now = (KINDS[binding.kind].actual(part, binding, None)
                     for part in (exact.part, found.part))
        if abs(abs(true) - abs(now)) > 1e-7:
            wrong.append((binding.kind, str(binding.value), true))
    return wrong


@pytest.mark.parametrize("path", demo_parts.SOUND, ids=lambda path: path.stem)
def test_an_exact_half_is_bound_with_its_round_values(path: Path) -> None:
    found = taken(path, 0.0)
    report = found.solution.report
    assert (report.converged, report.freedoms, report.doubled) == (True, 0, ())
    assert not inspect_part(found.part, report).findings
    assert sum(value.round for value in found.values) >= 0.88 * len(found.values)
    area, own = (inspect_part(part, solve_sketch(part).report).profile.area
                 for part in (found.part, paper(path)))
    assert area == pytest.approx(own, rel=1e-9)


@pytest.mark.parametrize("noise", [1e-6, 1e-4, 1e-3])
@pytest.mark.parametrize("path", demo_parts.SOUND, ids=lambda path: path.stem)
def test_of_a_half_with_noise_no_round_value_is_wrong(path: Path, noise: float) -> None:
    exact = taken(path, 0.0)
    for seed in (1, 2):
        found = taken(path, noise, seed)
        report = found.solution.report
        assert (report.converged, report.freedoms, report.doubled) == (True, 0, ())
        assert untrue(found, exact) == []
        assert sum(value.round for value in found.values) >= 0.8 * len(found.values)


@pytest.mark.parametrize("path", demo_parts.SOUND, ids=lambda path: path.stem)
def test_too_much_noise_leaves_nothing_round_and_nothing_free(path: Path) -> None:
    found = taken(path, 0.01)
    report = found.solution.report
    assert (report.converged, report.freedoms, report.doubled) == (True, 0, ())
    assert not any(value.round for value in found.values)


def square_with(*holes: Circle, noise: float = 1e-4) -> HalfShape:
    corners = [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)]
    outside = tuple(TakenCurve(Line(corners[at], corners[(at + 1) % 4]), (at,))
                    for at in range(4))
    kept = (outside, *((TakenCurve(hole, (10 + at,)),) for at, hole in enumerate(holes)))
    return HalfShape(Shape(kept, (), "mm", 2.0 * noise, noise), kept)


def test_sizes_that_nearly_agree_stay_apart() -> None:
    found = bound_half(square_with(*(Circle((10.0 + 12.0 * n, 20.0), r) for n, r in enumerate(
        (5.0, 5.05, 5.1, 5.1)))), Wishes())
    radii = sorted(curve.radius for curve in found.part.curves.values()
                   if isinstance(curve, CircleCurve))
    assert radii == pytest.approx([5.0, 5.05, 5.1, 5.1], abs=1e-9)


def test_a_file_in_millimetres_may_hold_thousandths_of_an_inch() -> None:
    shape = square_with(*(Circle((0.437 * n * INCH, 0.563 * INCH), 0.0935 * INCH)
                          for n in (1, 2, 3)))
    inches = [TakenCurve(Line(*(tuple(INCH * round(v * 1.013 / INCH, 3) for v in end)
                                for end in (each.curve.start, each.curve.end))), each.entities)
              for each in shape.kept[0]]
    kept = (tuple(inches), *shape.kept[1:])
    found = bound_half(replace(shape, kept=kept, shape=replace(shape.shape, loops=kept)), Wishes())
    written = [str(binding.value) for binding in found.part.bindings.values() if binding.value]
    assert any(text.endswith("in") for text in written)
    assert sum(value.round for value in found.values) >= 0.8 * len(found.values)


def test_the_grid_that_is_asked_for_comes_first() -> None:
    shape = square_with(Circle((12.25, 17.5), 4.0))
    found = bound_half(shape, Wishes(grid=0.25))
    assert {"12.25", "17.5"} <= {binding.value for binding in found.part.bindings.values()}


def test_what_hangs_together_by_nothing_is_held() -> None:
    """A blob of arcs that are no regular outline keeps its place to the file's noise."""
    from math import cos, sin

    places = [(10.0 * cos(t) + 0.7 * sin(3.1 * t), 7.0 * sin(t) + 0.4 * cos(2.3 * t))
              for t in (0.0, 0.9, 1.7, 2.6, 3.3, 4.4, 5.2)]
    chain = tuple(TakenCurve(Line(places[at], places[(at + 1) % 7]), (at,)) for at in range(7))
    found = bound_half(HalfShape(Shape((chain,), (), "mm", 1e-4, 5e-5), (chain,)), Wishes())
    assert found.solution.report.freedoms == 0
    assert found.solution.report.doubled == ()


def test_a_slot_is_bound_by_tangency_and_one_radius() -> None:
    slot = [Line((10.0, 15.0), (30.0, 15.0)), Arc((30.0, 18.0), (30.0, 15.0), (30.0, 21.0)),
            Line((30.0, 21.0), (10.0, 21.0)), Arc((10.0, 18.0), (10.0, 21.0), (10.0, 15.0))]
    shape = square_with()
    kept = (*shape.kept, tuple(TakenCurve(curve, (20 + at,)) for at, curve in enumerate(slot)))
    found = bound_half(replace(shape, kept=kept), Wishes())
    kinds = [binding.kind for binding in found.part.bindings.values()]
    assert kinds.count("tangent") >= 3
    assert kinds.count("radius") == 1
    assert found.solution.report.freedoms == 0
    assert all(value.round for value in found.values)


def test_what_is_held_says_nothing_twice_where_arcs_share_their_center() -> None:
    """Three arcs about one center that are off by more than their bindings could hold."""
    ring = [Arc((0.0, 0.0), (10.0, 0.0), (0.0, 10.0)), Line((0.0, 10.0), (0.0, 6.0)),
            Arc((0.0, 0.0), (0.0, 6.0), (6.0, 0.0), False), Line((6.0, 0.0), (10.0, 0.0))]
    chain = tuple(TakenCurve(curve, (at,)) for at, curve in enumerate(ring))
    half = HalfShape(Shape((chain,), (), "mm", 1e-4, 5e-5), (chain,))
    found = held(half, half_sketch(half), PlaceInFile())
    report = found.solution.report
    assert (report.converged, report.freedoms, report.doubled) == (True, 0, ())
