"""The readout: what is being drawn, what is selected, or where the pointer is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from math import atan2, degrees, dist, hypot

from sketcher.board.places.pending_bindings import Typed, factor
from sketcher.board.preview import Pointer
from sketcher.board.readout.held_values import QUANTITIES, Stage
from sketcher.board.readout.row import Row, unit_sign
from sketcher.board.readout.selected_dimension import (
    driven_angle,
    lone_dimension,
    name_to_binding,
)
from sketcher.board.steps.bench import Bench
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import turn
from sketcher.geometry.project import distance
from sketcher.part.kinds import KINDS, measure
from sketcher.part.value import Part
from sketcher.part.whole import curve_value
from sketcher.quantity.format import angle as angle_text
from sketcher.quantity.format import length as length_text

MISSES = ("gap", "tangency")
"""What is no zero before it is one: shown as a power of ten where the decimals end."""
NOISE = 1e-9
"""Lengths below this, in the part's unit, are rounding."""


def shown(bench: Bench, quantity: str, value: float) -> str:
    """Return a value of the part as text in the unit on display."""
    if quantity == "angle":
        return angle_text(value, dms=bench.settings["angle_dms"]).rstrip("\N{DEGREE SIGN}") \
            if not bench.settings["angle_dms"] else angle_text(value, dms=True)
    if quantity == "number":
        return f"{value:g}"
    scale = 1.0 / factor(bench.shown_unit, bench.part.unit)
    places = bench.settings["in_places" if bench.shown_unit == "in" else "mm_places"]
    amount = value * (scale * scale if quantity == "area" else scale)
    return length_text(amount, bench.shown_unit, places)


def row(
    bench: Bench, name: str, value: float | None, held: Typed | None = None, takes: bool = False,
    quantity: str | None = None,
) -> Row:
    """Return one row as the readout shows it."""
    quantity = quantity or QUANTITIES.get(name, "length")
    if held is not None:
        text = held.text
    else:
        text = "" if value is None else shown(bench, quantity, value)
        if name in MISSES and value is not None and value >= NOISE and not text.strip("-0.,"):
            text = f"{value / factor(bench.shown_unit, bench.part.unit):.1e}"
    sign = unit_sign(quantity, bench.shown_unit)
    if quantity == "angle" and bench.settings["angle_dms"]:
        sign = ""
    return Row(name, value, text, held is not None, quantity, sign, takes)


def can_type(rows: Iterable[Row]) -> list[str]:
    """Return the names of the rows that take a value."""
    return [each.name for each in rows if each.takes]


# While drawing.


def stage_rows(
    bench: Bench, stage: Stage, at: XY | None, held: Mapping[str, Typed],
    drawn: Mapping[str, float],
) -> tuple[Row, ...]:
    """Return the rows of a tool's stage at a place; what is `drawn` counts before the place."""
    values = {**(stage_values(stage, at) if at is not None else {}), **drawn}
    return tuple(row(bench, name, values.get(name), held.get(name), True) for name in stage.rows)


def stage_values(stage: Stage, at: XY) -> dict[str, float]:
    """Return what can be measured of a place from the stage's origin and zero."""
    values = {"x": at[0] - stage.zero[0], "y": at[1] - stage.zero[1]}
    if stage.origin is None:
        return values
    x, y = at[0] - stage.origin[0], at[1] - stage.origin[1]
    size = hypot(x, y)
    values |= {"run": x, "rise": y, "length": size, "distance": size,
               "angle": degrees(atan2(y, x)) % 360.0, "radius": size, "diameter": 2.0 * size}
    if stage.heading is not None and size > 0.0:
        half = turn(stage.heading, (x / size, y / size))
        values["sweep"] = abs(degrees(2.0 * half))
        aside = stage.heading[0] * y - stage.heading[1] * x
        if aside:
            values["radius"] = abs(size * size / (2.0 * aside))
    return values


# Of a selection or the pointer.


def rows_at(bench: Bench, pointer: Pointer | None) -> tuple[Row, ...]:
    """Return rows for the selection; without one, for what the pointer is on or the pointer.

    Where the pointer was not on the sheet yet its rows are empty.
    """
    zero = bench.zero.place(bench.part)
    ids = bench.selection.geometry(bench.part)
    dimension = lone_dimension(bench)
    if dimension is not None:
        return (of_dimension(bench, dimension),)
    if not ids:
        hover = tuple(n for n in bench.hover if n in bench.part.points or n in bench.part.curves)
        x, y = (None, None) if pointer is None else (pointer.x - zero[0], pointer.y - zero[1])
        place = (row(bench, "x", x), row(bench, "y", y))
        return place + tuple(r for r in of_items(bench, hover[:1], False) if r.name not in "xy")
    return of_items(bench, ids, True)


def of_dimension(bench: Bench, name: str) -> Row:
    """Return the row of a selected dimension; into one that drives another value can be typed."""
    from sketcher.drafting.measured import shown_factor

    binding = bench.part.bindings[name]
    try:
        value = measure(bench.part, binding) * shown_factor(bench.part, name)
    except SketcherError:  # what it measures has shrunk to nothing
        value = None
    quantity = KINDS[binding.kind].quantity
    return row(bench, binding.kind, value, None, binding.drives, quantity)


def of_items(bench: Bench, ids: tuple[str, ...], takes: bool) -> tuple[Row, ...]:
    """Return rows for points and curves: one, two, or many."""
    part, zero = bench.part, bench.zero.place(bench.part)
    if len(ids) == 1:
        values = one_item(part, ids[0], zero)
        said = driven_angle(bench, part, ids)
        if said is not None:  # as the drawing says it, not the direction that the line has
            values["angle"] = said
    elif len(ids) == 2:
        values = two_items(part, ids[0], ids[1])
    elif ids:
        values = many_items(part, ids)
    else:
        values = {}
    return tuple(
        row(bench, name, value, None, takes and name_to_binding(part, ids, name) is not None,
            "area" if name == "area" else None)
        for name, value in values.items()
    )


def one_item(part: Part, name: str, zero: XY) -> dict[str, float]:
    """Return what can be read of one point or curve."""
    if name in part.points:
        x, y = part.points[name]
        return {"x": x - zero[0], "y": y - zero[1]}
    curve = curve_value(part, part.curves[name])
    if isinstance(curve, Line):
        x, y = curve.end[0] - curve.start[0], curve.end[1] - curve.start[1]
        return {"length": curve.length, "angle": degrees(atan2(y, x)) % 360.0, "run": abs(x),
                "rise": abs(y)}
    (x, y), radius = curve.center, curve.radius
    values = {"radius": radius, "diameter": 2.0 * radius, "x": x - zero[0], "y": y - zero[1]}
    if isinstance(curve, Arc):
        values["sweep"] = abs(degrees(curve.sweep))
        values["length"] = curve.length
    return values


def two_items(part: Part, one: str, other: str) -> dict[str, float]:
    """Return distance, angle, gap and tangency residual of two points or curves.

    The gap is the clear way between them; the tangency residual is how far they are from touching:
    for a line and a round |distance of center - radius|, for two rounds the nearer of
    |distance of centers - (r1 + r2)| and |distance of centers - |r1 - r2||.
    """
    a, b = (_value(part, name) for name in (one, other))
    if not isinstance(a, tuple) and isinstance(b, tuple):
        a, b = b, a
    if isinstance(a, tuple):
        if isinstance(b, tuple):
            x, y = b[0] - a[0], b[1] - a[1]
            return {"distance": hypot(x, y), "run": abs(x), "rise": abs(y),
                    "angle": degrees(atan2(y, x)) % 360.0}
        if isinstance(b, Line):
            return {"distance": distance(b, a, bounded=False)}
        away = dist(a, b.center)
        return {"distance": away, "gap": abs(away - b.radius)}
    assert not isinstance(b, tuple)
    return _two_curves(a, b)


def _two_curves(a: Curve, b: Curve) -> dict[str, float]:
    if isinstance(a, Line) and isinstance(b, Line):
        between = abs(degrees(turn(a.direction, b.direction)))
        values = {"angle": between}
        if min(between, 180.0 - between) < 1e-6:
            values["distance"] = distance(a, b.start, bounded=False)
        return values
    if isinstance(b, Line):
        a, b = b, a
    if isinstance(a, Line):
        assert isinstance(b, Arc | Circle)
        away = distance(a, b.center, bounded=False)
        return {"distance": away, "gap": max(0.0, away - b.radius),
                "tangency": abs(away - b.radius)}
    assert isinstance(a, Arc | Circle)
    assert isinstance(b, Arc | Circle)
    away = dist(a.center, b.center)
    outside, inside = a.radius + b.radius, abs(a.radius - b.radius)
    clear = max(away - outside, inside - away, 0.0)
    return {"distance": away, "gap": clear,
            "tangency": min(abs(away - outside), abs(away - inside))}


def many_items(part: Part, ids: tuple[str, ...]) -> dict[str, float]:
    """Return the number of items, the sum of their lengths and the area that they close in."""
    curves = [(n, curve_value(part, part.curves[n])) for n in ids if n in part.curves]
    values: dict[str, float] = {"count": float(len(ids))}
    if curves:
        values["sum"] = sum(curve.length for _, curve in curves)
        area = closed_area(tuple(curves))
        if area is not None:
            values["area"] = area
    return values


@lru_cache(maxsize=2)
def closed_area(curves: tuple[tuple[str, Curve], ...]) -> float | None:
    """Return the area inside closed loops, holes taken off; None where an end is open.

    The rows are asked for several times in an event; loops of 150 curves take some 7 ms.
    """
    from sketcher.geometry.loops import find_loops

    found = find_loops(list(curves))
    if found.strays or not found.loops:
        return None
    return found.moments.area


def _value(part: Part, name: str) -> XY | Curve:
    return part.points[name] if name in part.points else curve_value(part, part.curves[name])
