"""Axes of symmetry and the half that is kept; shapely tells how far a reflection is off."""

from __future__ import annotations

import random
from collections.abc import Sequence
from itertools import pairwise
from math import atan2, cos, degrees, dist, hypot, pi, radians, sin
from time import perf_counter

import numpy as np
import pytest
from shapely.geometry import Polygon

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.moments import signed_area
from sketcher.intake.axes import axes_of, halved
from sketcher.intake.axis_candidates import axis_angles
from sketcher.intake.joint_table import joint_table
from sketcher.intake.linework import HalfShape, PlaceInFile, SymmetryAxis, TakenCurve
from sketcher.intake.wishes import Wishes
from tests.demo_parts import FOLDER
from tests.drawn import lines_through
from tests.turned_drawings import blurred, one_shape, outline_of, turned

# Directions of the axes as the parts' own files say them.
AXES = {"gate-strap": [90.0], "pump-flange": [0.0, 90.0], "roof-gusset": [27.5],
        "shelf-bracket": [], "shift-arm": []}
TURNS = [(0.0, 0.0), (13.0, 1000.0), (27.5, 0.0), (90.0, -1000.0)]


def direction(axis: SymmetryAxis) -> float:
    return degrees(atan2(axis.end[1] - axis.start[1], axis.end[0] - axis.start[0])) % 180.0


def in_file(at: XY, frame: PlaceInFile) -> XY:
    c, s = cos(frame.turn), sin(frame.turn)
    return (frame.origin[0] + c * at[0] - s * at[1], frame.origin[1] + s * at[0] + c * at[1])


def plate(loops: Sequence[Sequence[TakenCurve]]) -> Polygon:
    rings = [[at for each in loop for at in fine(each.curve)] for loop in loops]
    return Polygon(rings[0], rings[1:])


def fine(curve: Curve) -> list[XY]:
    if isinstance(curve, Line):
        return [curve.start]
    first, sweep = ((0.0, 2.0 * pi) if isinstance(curve, Circle)
                    else (curve.start_angle, curve.sweep))
    return [(curve.center[0] + curve.radius * cos(first + sweep * k / 720),
             curve.center[1] + curve.radius * sin(first + sweep * k / 720)) for k in range(720)]


def reflection_differs(half: HalfShape, axis: SymmetryAxis) -> float:
    """Share of the area by which the shape differs from its reflection, by shapely."""
    whole = plate(half.shape.loops)
    (x0, y0), (x1, y1) = axis.start, axis.end
    long = hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / long, (y1 - y0) / long

    def image(ring: np.ndarray) -> np.ndarray:
        off = (ring[:, 1] - y0) * ux - (ring[:, 0] - x0) * uy
        return np.stack([ring[:, 0] + 2 * off * uy, ring[:, 1] - 2 * off * ux], axis=1)

    other = Polygon(image(np.array(whole.exterior.coords)),
                    [image(np.array(ring.coords)) for ring in whole.interiors])
    return float(whole.symmetric_difference(other).area / whole.area)


def half_area(half: HalfShape) -> float:
    """Area of what is kept, its open chains closed along the axes."""
    total = 0.0
    for chain in half.kept:
        curves = [each.curve for each in chain]
        first, last = curves[0], curves[-1]
        if isinstance(first, Circle) or isinstance(last, Circle):
            continue
        corner = [last.end]
        if len(half.axes) == 2:
            corner.append((half.axes[0 if vertical(half.axes[0]) else 1].start[0],
                           half.axes[1 if vertical(half.axes[0]) else 0].start[1]))
        ring = [*corner, first.start]
        back = [Line(a, b) for a, b in pairwise(ring) if a != b]
        total += abs(signed_area([*curves, *back])) * (1 if total == 0.0 else -1)
    return total


def vertical(axis: SymmetryAxis) -> bool:
    return axis.start[0] == axis.end[0]


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("noise", [0.0, 1e-4, 1e-2])
@pytest.mark.parametrize("name", AXES)
def test_axes_of_demo_parts_are_found_however_they_lie(
    name: str, noise: float, turn: tuple[float, float]
) -> None:
    angle, move = turn
    path = FOLDER / f"{name}.profile.json"
    shape = one_shape(blurred(turned(outline_of(path), angle, move, -move), noise, 5), noise)
    half = halved(shape, Wishes())
    assert len(half.axes) == len(half.offered) == len(AXES[name])
    for axis in half.axes:
        assert axis.start[0] == axis.end[0] or axis.start[1] == axis.end[1]
        # Chords of half a degree on both sides, and twice the noise along the whole outline.
        table = joint_table(shape)
        allowed = 3e-6 + 2.0 * noise * table.perimeter / table.area
        assert reflection_differs(half, axis) <= allowed
        assert axis.differs <= allowed
    found = sorted((direction(axis) + degrees(half.frame.turn)) % 180.0 for axis in half.axes)
    wanted = sorted((each + angle) % 180.0 for each in AXES[name])
    for one, other in zip(found, wanted, strict=True):
        off = abs((one - other + 90.0) % 180.0 - 90.0)
        assert off <= 1e-6 + degrees(4.0 * noise / 60.0)  # the smallest is 60 mm across


@pytest.mark.parametrize("name", [name for name, axes in AXES.items() if axes])
def test_the_half_is_half_of_the_plate_and_ends_on_its_axes(name: str) -> None:
    shape = one_shape(outline_of(FOLDER / f"{name}.profile.json"))
    half = halved(shape, Wishes())
    assert half_area(half) * 2 ** len(half.axes) == pytest.approx(
        abs(signed_area(each.curve for each in shape.loops[0]))
        - sum(abs(signed_area(each.curve for each in loop)) for loop in shape.loops[1:]
              if len(loop) > 1), rel=1e-9)
    for chain in half.kept:
        for one, other in pairwise(chain):
            assert one.curve.end == other.curve.start  # type: ignore[union-attr]
        if not isinstance(chain[0].curve, Circle):
            start, end = chain[0].curve.start, chain[-1].curve.end  # type: ignore[union-attr]
            assert start == end or all(
                any(abs(at[0] - axis.start[0]) < 1e-9 if vertical(axis)
                    else abs(at[1] - axis.start[1]) < 1e-9 for axis in half.axes)
                for at in (start, end))
        for each in chain:
            for axis in half.axes:
                curve = each.curve
                at = curve.center if isinstance(curve, Circle) else curve.start
                assert (at[0] >= axis.start[0] - 1e-9 if vertical(axis)
                        else at[1] >= axis.start[1] - 1e-9)


def test_evened_halves_lie_nearer_to_the_plain_part_than_the_blurred_file() -> None:
    plain = outline_of(FOLDER / "gate-strap.profile.json")
    noise, errors, evened = 1e-3, [], []
    true = [at for curve in plain if not isinstance(curve, Circle)
            for at in (curve.start, curve.end)]
    for seed in range(12):
        half = halved(one_shape(blurred(plain, noise, seed), noise), Wishes())
        x = half.axes[0].start[0]
        for chain in half.kept:
            for each in chain:
                if isinstance(each.curve, Circle) or each.curve.start[0] < x + 1.0:
                    continue
                at = each.curve.start
                evened.append(min(dist(at, p) for p in true) ** 2)
        errors += [min(dist(each.curve.start, p) for p in true) ** 2
                   for loop in half.shape.loops for each in loop
                   if not isinstance(each.curve, Circle)]
    # Two of a kind have half the variance; the axis itself is off by a little.
    assert np.mean(evened) < 0.7 * np.mean(errors)


def bored(radius: float = 3.0, corner: float = 5.0) -> list[Curve]:
    """A plate of 100 by 60 with rounded corners and four holes, of which one may differ."""
    curves: list[Curve] = []
    rounds = [5.0, 5.0, corner, 5.0]
    corners = [(-50.0, -30.0), (50.0, -30.0), (50.0, 30.0), (-50.0, 30.0)]
    ways = [(1, 0), (0, 1), (-1, 0), (0, -1)]
    for k in range(4):
        (x, y), r = corners[k], rounds[k]
        (ax, ay), (bx, by) = ways[k - 1], ways[k]
        start, end = (x - r * ax, y - r * ay), (x + r * bx, y + r * by)
        curves.append(Arc((x - r * ax + r * bx, y - r * ay + r * by), start, end))
        (nx, ny), q = corners[(k + 1) % 4], rounds[(k + 1) % 4]
        curves.append(Line(end, (nx - q * bx, ny - q * by)))
    return [*curves, *(Circle((x, y), radius if (x, y) == (40.0, 20.0) else 3.0)
                       for x in (-40.0, 40.0) for y in (-20.0, 20.0))]


@pytest.mark.parametrize("noise", [0.0, 1e-3, 1e-2])
@pytest.mark.parametrize("angle", [0.0, 13.0])
def test_one_hole_or_fillet_that_differs_leaves_no_axis(noise: float, angle: float) -> None:
    # A diameter that is 0.2 mm larger is the next tap drill or a fit, not an accident.
    for curves, axes in ((bored(), 2), (bored(radius=3.1), 0), (bored(corner=6.0), 0)):
        shape = one_shape(blurred(turned(curves, angle), noise, 3), noise)
        assert len(halved(shape, Wishes()).axes) == axes


def test_blur_that_the_file_does_not_tell_is_told_by_the_twins() -> None:
    half = halved(one_shape(blurred(bored(), 1e-2, 8)), Wishes())
    assert len(half.axes) == 2
    assert 0.3e-2 < half.shape.noise < 2e-2


def regular(corners: int, radius: float = 40.0) -> list[Curve]:
    return lines_through(*((radius * cos(2 * pi * k / corners), radius * sin(2 * pi * k / corners))
                           for k in range(corners)))


@pytest.mark.parametrize(("curves", "axes"), [
    (regular(3), 3), (regular(4), 4), (regular(5), 5), (regular(6), 6), (regular(7), 7),
    ([*regular(6), Circle((0, 0), 10)], 6), ([*regular(6), Circle((20, 0), 4)], 1),
    ([Circle((0, 0), 10), Circle((0, 0), 4)], 2), ([Circle((0, 0), 10), Circle((3, 3), 2)], 1),
], ids=["3", "4", "5", "6", "7", "bored 6", "6 with one hole", "ring", "eccentric ring"])
def test_every_axis_is_offered_and_one_or_a_square_pair_taken(
    curves: list[Curve], axes: int
) -> None:
    half = halved(one_shape(turned(curves, 10.0, 3.0, 4.0)), Wishes())
    assert [axis.id for axis in half.offered] == [f"x{n}" for n in range(1, axes + 1)]
    assert len(half.axes) == (2 if axes % 2 == 0 else 1)
    assert half.axes[0].id == "x1"


def test_a_square_plate_takes_the_axes_that_stand_level_and_plumb() -> None:
    half = halved(one_shape(lines_through((0, 0), (10, 0), (10, 10), (0, 10))), Wishes())
    assert sorted(map(direction, half.axes)) == [0.0, 90.0]
    assert half.frame == PlaceInFile()
    assert half.repairs == ()


def test_an_axis_is_chosen_by_its_id_or_not_at_all() -> None:
    shape = one_shape(bored())
    assert halved(shape, Wishes(axis="none")).axes == ()
    assert [axis.id for axis in halved(shape, Wishes(axis="x2")).axes] == ["x2"]
    # one that it has not is for another part of the file
    assert halved(shape, Wishes(axis="x3")).axes == halved(shape, Wishes()).axes


def test_a_part_without_an_axis_is_straightened_by_its_edges_unless_it_is_to_stay() -> None:
    bracket = outline_of(FOLDER / "shelf-bracket.profile.json")
    half = halved(one_shape(turned(bracket, 13.0, 5.0, 6.0)), Wishes())
    assert degrees(half.frame.turn) == pytest.approx(13.0, abs=1e-9)
    (repair,) = half.repairs
    assert (repair.kind, repair.taken) == ("turned", True)
    levels = [each.curve for each in half.shape.loops[0] if isinstance(each.curve, Line)
              and abs(each.curve.direction[1]) < 1e-9]
    assert len(levels) >= 2
    stays = halved(one_shape(turned(bracket, 13.0)), Wishes(keep=frozenset({"turned"})))
    assert stays.frame == PlaceInFile()
    assert [each.taken for each in stays.repairs] == [False]


def test_what_stands_level_or_has_no_main_edges_stays_bit_by_bit() -> None:
    for name in ("shelf-bracket", "shift-arm"):
        shape = one_shape(outline_of(FOLDER / f"{name}.profile.json"))
        half = halved(shape, Wishes())
        assert (half.frame, half.shape, half.kept) == (PlaceInFile(), shape, shape.loops)


def test_the_frame_gives_the_place_in_the_file() -> None:
    curves = turned(bored(), 30.0, 100.0, -40.0)
    half = halved(one_shape(curves), Wishes())
    back = {tuple(round(v, 6) for v in in_file(each.curve.center, half.frame))
            for loop in half.shape.loops for each in loop if isinstance(each.curve, Circle)}
    assert back == {tuple(round(v, 6) for v in curve.center) for curve in curves
                    if isinstance(curve, Circle)}


def grid_plate(columns: int, rows: int) -> list[Curve]:
    width, height = 10.0 * columns, 10.0 * rows
    holes = [Circle((5.0 + 10.0 * i, 5.0 + 10.0 * j), 2.5)
             for i in range(columns) for j in range(rows)]
    return [*lines_through((0, 0), (width, 0), (width, height), (0, height)), *holes]


@pytest.mark.parametrize("angle", [0.0, 13.0, 27.5, 90.0])
def test_a_plate_of_225_holes_turned_and_moved(angle: float) -> None:
    half = halved(one_shape(turned(grid_plate(15, 15), angle, 1000.0, 1000.0)), Wishes())
    assert len(half.offered) == 4
    assert len(half.axes) == 2
    assert sum(isinstance(chain[0].curve, Circle) for chain in half.kept) == 64


def test_wrong_axes_are_far_off() -> None:
    table = joint_table(one_shape(bored()))
    right = {round(degrees(fit.angle)) % 180 for fit in axes_of(table, 0.0, 0.0)}
    assert right == {0, 90}
    half = halved(one_shape(bored()), Wishes())
    for angle in range(10, 90, 10):
        way = (cos(radians(angle)), sin(radians(angle)))
        wrong = SymmetryAxis("x9", (0.0, 0.0), way)
        assert reflection_differs(half, wrong) > 0.04


def test_a_wheel_of_many_teeth_stands_level_and_plumb() -> None:
    places = [((50 + k % 2) * cos(pi * k / 200), (50 + k % 2) * sin(pi * k / 200))
              for k in range(400)]
    half = halved(one_shape(lines_through(*places)), Wishes())
    assert len(half.offered) == 24
    assert sorted(map(direction, half.axes)) == pytest.approx([0.0, 90.0])
    assert half.frame == PlaceInFile()


def test_many_curves_are_quick() -> None:
    rng = random.Random(4)
    places = [(5.0 + 10.0 * i + rng.uniform(-2, 2), 5.0 + 10.0 * j + rng.uniform(-2, 2))
              for i in range(20) for j in range(50)]
    holes = [Circle((side * x, y), 2.0) for x, y in places for side in (-1, 1)]
    shape = one_shape([*lines_through((-210, 0), (210, 0), (210, 510), (-210, 510)), *holes])
    began = perf_counter()
    half = halved(shape, Wishes())
    assert perf_counter() - began < 5.0  # seconds, ten times what it takes
    assert len(half.axes) == 1
    assert len(half.kept) == 1001


def test_most_directions_are_no_axes_at_a_few_places(monkeypatch: pytest.MonkeyPatch) -> None:
    import shapely

    built: list[int] = []

    class Counted(shapely.STRtree):
        def __init__(self, *given: object) -> None:
            built.append(1)
            super().__init__(*given)

    monkeypatch.setattr(shapely, "STRtree", Counted)
    chance = np.random.default_rng(4)
    angles = np.linspace(0.0, 2.0 * pi, 201)[:-1]
    radii = 100.0 + chance.uniform(-8.0, 8.0, 200)
    places = [(x, y) for x, y in zip(
        (radii * np.cos(angles)).tolist(), (radii * np.sin(angles)).tolist(), strict=True)]
    table = joint_table(one_shape(lines_through(*places)))
    assert axes_of(table, 1e-6, 1e-6) == []
    assert len(axis_angles(table, 1e-6)) > 10
    assert len(built) <= 2
