"""Steps 10 and 11: the half as a part with bindings, so many as take every freedom away.

First everything that has no value (on the axis, level, tangent, equal), kept where it raises the
rank; the half is solved under these alone, which puts it onto clean geometry. There the rows are
built anew and the dimensions are read off by preference (`read_values`). Literature: Langbein 2003
and Li, Langbein & Martin 2010 on regularities of approximate models (from memory).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from sketcher.geometry.curves import XY
from sketcher.intake.half_sketch import HalfSketch, half_sketch
from sketcher.intake.linework import HalfShape, PlaceInFile
from sketcher.intake.outline_moves import OutlineMoves
from sketcher.intake.read_values import ReadValues, moved
from sketcher.intake.repeats_of_half import with_mirrors_and_patterns
from sketcher.intake.sketch_conditions import Condition, Seen, shown
from sketcher.intake.sketch_datum import Datum, find_datum
from sketcher.intake.slope_corners import with_datum, with_lost_corners
from sketcher.intake.slot_spokes import with_spokes
from sketcher.intake.taken import BoundHalf, TakenValue
from sketcher.intake.value_candidates import ValueCandidates
from sketcher.intake.wishes import Wishes
from sketcher.part.kinds import bind
from sketcher.part.operand_forms import radius_of
from sketcher.part.value import ArcCurve, Binding, CircleCurve, LineCurve, Part, new_id
from sketcher.progress import stage, tell
from sketcher.solve import solve
from sketcher.solve.free_motions import FreeMotions, gradients
from sketcher.solve.least_moves import least_moved, without_redundant
from sketcher.solve.solve_report import Solution
from sketcher.solve.unknowns import Slots

AT_NOISE = 1e-3
"""Share of a row that must be free where the drawing stands: rows that follow from others show up
to 1e-4 of themselves there, independent ones begin at 8e-3 (tried on five parts)."""
SOLVED = 1e-7
"""The same where the half is solved."""
FAR = 8.0
"""Noises by which the conditions may move the outline. True ones move it by up to 5 (tried on five
parts with noises of 1e-6 to 1e-2 mm); where it is more one of them was none."""
MANY = 400
"""Conditions up to which it is tried one by one which of them are independent."""
HALF, SURE = 0.5, 1.5
"""Where less than half of the values are round, figures of the other unit are tried; they are taken
when they make half as many again round."""
CLASSES = 7
"""Of conditions, surest first; the last ones are given up first where no solution is reached."""


@dataclass(frozen=True, slots=True)
class _Stand:
    """A half that is solved under its conditions."""

    drawn: Part
    seen: Seen


def bound_half(half: HalfShape, wishes: Wishes) -> BoundHalf:
    """Return a half with bindings: nothing free, nothing said twice.

    Parameters
    ----------
    half : HalfShape
    wishes : Wishes
        Its `grid` is a step of round figures.

    Returns
    -------
    BoundHalf
        Its part lies with the datum at (0, 0). Where no bindings can be found under which it is
        solved, its points are held where they are.
    """
    sketch = half_sketch(half)
    if not sketch.part.curves:
        return BoundHalf(sketch.part, solve(sketch.part), frame=half.frame)
    datum = find_datum(sketch)
    sketch, datum, said = with_datum(sketch, datum)
    sketch, more = with_lost_corners(with_spokes(sketch))
    sketch, frame = _at_origin(sketch, half.frame, datum)
    seen = Seen(sketch, replace(datum, at=(0.0, 0.0)))
    with stage(0.0, 0.4):
        stand = _stand(seen, [*said, *more])
    if stand is None:
        return held(half, sketch, frame)
    with stage(0.4, 1.0):
        return _dimensioned(half, stand, frame, wishes)


def _at_origin(
    sketch: HalfSketch, frame: PlaceInFile, datum: Datum
) -> tuple[HalfSketch, PlaceInFile]:
    """Return the half with its datum at (0, 0), and where the file has that."""
    x, y = datum.at

    def at(place: XY) -> XY:
        return (place[0] - x, place[1] - y)

    points = {name: at(place) for name, place in sketch.part.points.items()}
    return replace(sketch, part=sketch.part.having(points=points)), _shifted(frame, x, y)


def _shifted(frame: PlaceInFile, x: float, y: float) -> PlaceInFile:
    """Return the place in the file when (x, y) of the part becomes its (0, 0)."""
    return replace(frame, origin=frame.in_file((x, y)))


def _stand(seen: Seen, said: list[Condition]) -> _Stand | None:
    """Solve a half under all that it shows; under less of that where it cannot all hold."""
    classes = shown(seen)
    for last in range(CLASSES, 1, -1):
        tell((CLASSES - last) / CLASSES)
        conditions = [*said, *(one for each in classes[:last] for one in each)]
        for kept in (_all, _independent):
            bindings = kept(seen, conditions)
            part = least_moved(seen.part.having(bindings=bindings), seen.sketch.doubts)
            if part is not None and _near(seen, part):
                part = part.having(bindings=without_redundant(part))
                return _Stand(seen.part, Seen(replace(seen.sketch, part=part), seen.datum))
            if len(bindings) > MANY:
                break
    return None


def _near(seen: Seen, part: Part) -> bool:
    """Whether the outline has stayed where the noise allows it to be."""
    slots = Slots.of(part)
    moves = OutlineMoves(seen.part)
    return moves.largest(slots.values(part) - slots.values(seen.part)) <= FAR * seen.sketch.noise


def _all(seen: Seen, conditions: Iterable[Condition]) -> dict[str, Binding]:
    return {f"b{number}": bind(seen.part, kind, of)
            for number, (kind, of) in enumerate(conditions, 2)}


def _independent(seen: Seen, conditions: Iterable[Condition]) -> dict[str, Binding]:
    """Return the conditions of a half, each where it takes a freedom away, as bindings."""
    part = seen.part
    offered: dict[str, Binding] = {}
    for kind, of in conditions:
        offered[f"b{len(offered) + 1}"] = bind(part, kind, of)
    rows = gradients(part.having(bindings=offered))
    motions = FreeMotions.of_all(part, AT_NOISE)
    kept: dict[str, Binding] = {}
    for name, each in rows.items():
        free = [motions.add(row) for row in each]
        if name in offered and any(free):
            kept[f"b{len(kept) + 2}"] = offered[name]
    return kept


def _dimensioned(
    half: HalfShape, stand: _Stand, frame: PlaceInFile, wishes: Wishes
) -> BoundHalf:
    sketch, part = stand.seen.sketch, stand.seen.part
    candidates = ValueCandidates(stand.seen)
    motions = FreeMotions.under(part, SOLVED, sketch.doubts / sketch.noise)
    reading = ReadValues(candidates, motions.copy(), wishes.grid, stand.drawn)
    reading.read_round()
    reading.read_rest()
    if reading.round_ones < HALF * len(reading.values) and reading.trusted:
        foreign = ReadValues(candidates, motions, wishes.grid, stand.drawn, foreign=True)
        foreign.read_round()
        if foreign.round_ones > SURE * reading.round_ones:
            foreign.read_rest()
            reading = foreign
    start, frame = _held_at_datum(
        moved(part, reading.motions, reading.motions.shift), stand.seen.datum, frame)
    solution, values = _solved(reading, start)
    if solution is None:
        return held(half, sketch, frame)
    made = _without_idle_points(solution.part, sketch.turned_about.values())
    made, values = _numbered(made, values)
    made, steps = with_mirrors_and_patterns(made, half, sketch, wishes.grid)
    solution = solve(made)
    return BoundHalf(solution.part, solution, (*values, *steps), sketch.sources, frame)


def _numbered(
    part: Part, values: tuple[TakenValue, ...]
) -> tuple[Part, tuple[TakenValue, ...]]:
    """Number the bindings in their order."""
    names = {old: f"b{number}" for number, old in enumerate(part.bindings, 1)}
    part = part.having(bindings={names[old]: each for old, each in part.bindings.items()})
    return part, tuple(replace(value, binding=names[value.binding]) for value in values)


def _held_at_datum(
    part: Part, datum: Datum, frame: PlaceInFile
) -> tuple[Part, PlaceInFile]:
    """Return the half with its datum held at (0, 0), and where the file has that."""
    assert datum.point is not None
    x, y = part.points[datum.point]
    points = {name: (px - x, py - y) for name, (px, py) in part.points.items()}
    part = part.having(points=points)
    bindings = {"b1": bind(part, "fixed", (datum.point,)), **part.bindings}
    return part.having(bindings=bindings), _shifted(frame, x, y)


def _solved(
    reading: ReadValues, start: Part
) -> tuple[Solution | None, tuple[TakenValue, ...]]:
    """Solve with what was read; values that turn out to be redundant go."""
    bindings = {**start.bindings, **reading.bindings}
    for _ in range(3):
        solution = solve(start.having(bindings=bindings))
        if not solution.report.converged or solution.report.clashes:
            return None, ()
        if not solution.report.doubled:
            break
        bindings = {name: binding for name, binding in bindings.items()
                    if name not in solution.report.doubled}
    values = tuple(value for name, value in reading.values.items() if name in bindings)
    return solution, values


def _without_idle_points(part: Part, kept: Iterable[str]) -> Part:
    """Take away the lost corners that no dimension uses."""
    used = {name for curve in part.curves.values() for name in curve.points}
    used |= set(kept)
    used |= {name for binding in part.bindings.values() if binding.kind != "on"
             for name in binding.of}
    idle = {name for name in part.points if name not in used}
    bindings = {name: binding for name, binding in part.bindings.items()
                if not idle & set(binding.of)}
    return part.having(
        points={name: at for name, at in part.points.items() if name not in idle},
        bindings=bindings)


def _with_own_centers(sketch: HalfSketch) -> Part:
    """Return a part whose arcs share no center: two held ends and a radius say all of an arc."""
    part = sketch.part
    points, curves = dict(part.points), dict(part.curves)
    for name, curve in part.curves.items():
        if isinstance(curve, ArcCurve):
            own = new_id(points, "c")
            points[own] = part.points[curve.center]
            curves[name] = replace(curve, center=own)
    return part.having(curves=curves, points=points)


def held(half: HalfShape, sketch: HalfSketch, frame: PlaceInFile) -> BoundHalf:
    """Hold every point where it is: what is no regular outline is said as it was drawn."""
    part = _with_own_centers(sketch)
    ends = {name for curve in part.curves.values()
            for name in ((curve.center,) if isinstance(curve, CircleCurve) else curve.ends)}
    bindings = {f"b{number}": bind(part, "fixed", (name,))
                for number, name in enumerate(sorted(ends), 1)}
    values: list[TakenValue] = []
    for name, curve in part.curves.items():
        if not isinstance(curve, LineCurve):
            key = f"b{len(bindings) + 1}"
            bindings[key] = bind(part, "radius", (name,))
            text = str(bindings[key].value)
            values.append(TakenValue(key, radius_of(part, name), False, text))
    used = {name for curve in part.curves.values() for name in curve.points}
    used |= set(sketch.turned_about.values())
    part = part.having(bindings=bindings, points={
        name: at for name, at in part.points.items() if name in used})
    part, steps = with_mirrors_and_patterns(part, half, sketch, None)
    solution = solve(part)
    return BoundHalf(solution.part, solution, (*values, *steps), sketch.sources, frame)
