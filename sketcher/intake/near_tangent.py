"""Step 7: joints that are nearly tangent become so, all of a part together, by the least moves."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from math import degrees, radians

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import midpoint
from sketcher.geometry.project import distance
from sketcher.intake.half_sketch import HalfSketch, half_sketch
from sketcher.intake.linework import HalfShape, Repair, RepairNames, Shape, TakenCurve, gathered
from sketcher.intake.sketch_conditions import (
    KINKED,
    Condition,
    RoundJoint,
    level_and_plumb,
    round_joints,
    told_kink,
)
from sketcher.intake.weed import GAPS
from sketcher.intake.wishes import Wishes
from sketcher.interrupt import check
from sketcher.part.kinds import bind
from sketcher.part.value import Part
from sketcher.part.whole import curve_value, half
from sketcher.solve.least_moves import least_moved

MOST_BREAK = radians(2.0)
"""A joint that breaks by more is a corner (as for the finding of near-tangent joints)."""
EXACT = 1e-9
"""Radians: no joint of a double's last digits breaks by more."""
SHARE = 0.1
"""No curve moves by more than so much of its length for the sake of a joint."""


def made_tangent(shape: Shape, wishes: Wishes) -> Shape:
    """Return the shape with its near-tangent joints tangent.

    What the drawing's noise explains is no repair: such joints are bound tangent later. Joints that
    would move their curves by more than the gap stay as they are, and are told. In a file written
    in full, joints that break by its rounding alone become tangent to the last digit, untold: their
    curves move by less than two places of one point may differ.
    """
    if not shape.loops:
        return shape
    sketch = half_sketch(HalfShape(shape, shape.loops))
    names = list(_names(shape))
    entities = {name: each.entities for name, each in zip(
        names, (each for loop in shape.loops for each in loop), strict=True)}
    meant: list[RoundJoint] = []
    held: list[RoundJoint] = []
    told: list[Repair] = []
    given, nth = RepairNames("tangent"), dict[str, int]()
    for joint in round_joints(sketch.part):
        if joint.kink <= max(KINKED, min(told_kink(sketch, joint), MOST_BREAK)):
            held.append(joint)
        elif joint.kink < MOST_BREAK:
            name, nth[joint.point] = given.of((*entities[joint.one], *entities[joint.other]))
            if wishes.makes("tangent", name):
                meant.append(joint)
            else:
                told.append(_told(sketch, None, joint, entities, nth[joint.point]))
    if not meant:
        rounded = [joint for joint in held if joint.kink <= KINKED]
        return replace(shape, loops=_as_meant(shape, sketch, rounded, names),
                       repairs=tuple(gathered([*shape.repairs, *told])))
    gap = GAPS[shape.unit] if wishes.gap is None else wishes.gap
    made, kept = _solved(sketch, meant, held, gap)
    curves = half(made or sketch.part)
    told += [_told(sketch, curves if joint in kept else None, joint, entities, nth[joint.point])
             for joint in meant]
    return replace(shape, loops=_drawn_by(shape, names, curves) if kept else shape.loops,
                   repairs=tuple(gathered([*shape.repairs, *told])))


def _drawn_by(
    shape: Shape, names: Iterable[str], curves: Mapping[str, Curve]
) -> tuple[tuple[TakenCurve, ...], ...]:
    """Return a shape's contours with curves of a sketch in place of their own."""
    following = iter(names)
    return tuple(tuple(TakenCurve(curves[next(following)], each.entities) for each in loop)
                 for loop in shape.loops)


def _as_meant(
    shape: Shape, sketch: HalfSketch, joints: list[RoundJoint], names: Iterable[str]
) -> tuple[tuple[TakenCurve, ...], ...]:
    """Return the contours with joints tangent that only rounding breaks."""
    if all(joint.kink <= EXACT for joint in joints):
        return shape.loops
    made = _least(sketch, [*level_and_plumb(sketch),
                           *(("tangent", (joint.one, joint.other)) for joint in joints)])
    was = half(sketch.part)
    if made is None or any(_moved(was[name], now) > sketch.near
                           for name, now in half(made).items()):
        return shape.loops
    return _drawn_by(shape, names, half(made))


def _names(shape: Shape) -> Iterator[str]:
    """Yield the names that a sketch gives to the curves of a shape, in their order."""
    count = {"e": 0, "a": 0, "h": 0}
    for loop in shape.loops:
        for each in loop:
            prefix = {Line: "e", Arc: "a", Circle: "h"}[type(each.curve)]
            count[prefix] += 1
            yield f"{prefix}{count[prefix]}"


def _solved(
    sketch: HalfSketch, meant: list[RoundJoint], held: list[RoundJoint], gap: float
) -> tuple[Part | None, list[RoundJoint]]:
    """Solve all joints together; one that moves its curves too far is left, then all anew."""
    kept, was = list(meant), half(sketch.part)
    straight = tuple(level_and_plumb(sketch))
    while kept:
        check()
        smooth = [("tangent", (joint.one, joint.other)) for joint in (*kept, *held)]
        made = _least(sketch, (*straight, *smooth)) or _least(sketch, smooth)
        if made is None:
            kept.remove(max(kept, key=lambda joint: joint.kink))
            continue
        now = half(made)
        far = [joint for joint in kept if any(
            _moved(was[name], now[name]) > min(gap, SHARE * was[name].length)
            for name in (joint.one, joint.other))]
        if not far:
            return made.having(bindings={}), kept
        kept.remove(max(far, key=lambda joint: joint.kink))
    return None, []


def _least(sketch: HalfSketch, said: Iterable[Condition]) -> Part | None:
    bindings = {f"b{number}": bind(sketch.part, *each) for number, each in enumerate(said, 1)}
    return least_moved(sketch.part.having(bindings=bindings), sketch.doubts)


def _moved(was: Curve, now: Curve) -> float:
    """Return how far a curve leaves its old place, at its ends and its middle."""
    return max(distance(now, place) for place in _places(was))


def _places(curve: Curve) -> tuple[XY, ...]:
    if isinstance(curve, Circle):
        return (midpoint(curve),)
    return (curve.start, midpoint(curve), curve.end)


def _told(
    sketch: HalfSketch, now: Mapping[str, Curve] | None, joint: RoundJoint,
    entities: Mapping[str, tuple[int, ...]], nth: int,
) -> Repair:
    both, part = (joint.one, joint.other), sketch.part
    before = tuple(curve_value(part, part.curves[name]) for name in both)
    after = () if now is None else tuple(now[name] for name in both)
    size = max((_moved(*pair) for pair in zip(before, after, strict=True)), default=0.0) \
        if after else 0.0
    done = "left as it is drawn" if now is None else "made tangent"
    touched = tuple(sorted({e for name in both for e in entities[name]}))
    return Repair("tangent", part.points[joint.point], size, touched,
                  f"a joint that breaks by {degrees(joint.kink):.2g}° {done}", now is not None,
                  before, after, nth)
