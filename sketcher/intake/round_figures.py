"""The round figures that a drafter would have written for a measured value.

A figure counts only where it could hardly be met by chance: between two steps of a grid, a window
of the value's uncertainty t on either side covers 2 t / step of all values. A coarse step must be
20 times t (one in ten by chance; at t = 1e-3 mm and half millimetres one in 250), a fine one 100
times. The passes run from coarse to fine, so that a plainer figure is tried first; which one holds
is for the whole part to say.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from sketcher.intake.named_holes import nearest_hole
from sketcher.part.value import Unit
from sketcher.quantity.format import fraction

ValueSort = Literal["length", "radius", "hole", "angle"]
COARSE_ROOM, FINE_ROOM = 20.0, 100.0
"""Least steps in uncertainties. Of lengths drawn evenly, 2.5 % are called round at t = 1e-3 and at
1e-4 mm, 6 % at 1e-2, where only whole and half ones are left; a room of 40 and 200 would halve that
and lose the tenths at 1e-3."""
SURE_ROOM = 2e4
"""A step of the other unit that chance meets once in 10,000 needs no others beside it: a hole of
1.5 mm in a part in inches. Thousandths of an inch do, which decimals of millimetres meet."""
ASKED_ROOM = 4.0
"""For the grid that a person asks for: half of all chance values stay out."""
PASSES = ("asked", "coarse", "table", "fine", "finest", "other unit")
THOUSANDTH = Fraction(1, 1000)
RULES = (2, 4, 8, 16, 32, 64)
"""Inch steps that are written as fractions (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class RoundFigure:
    """A figure that a value may stand for.

    Parameters
    ----------
    value : float
        In the part's unit; an angle in degrees.
    text : str
        The same as it is written into a value of the part.
    rank : int
        Pass that found it: an index of `PASSES`; plainer figures come first.
    why : str
        The step or the row of a table.
    """

    value: float
    text: str
    rank: int
    why: str


@dataclass(frozen=True, slots=True)
class _Grid:
    step: Fraction
    unit: Literal["mm", "in", "deg"]
    rank: int
    room: float


def _grids(unit: Literal["mm", "in", "deg"], rank: int, room: float, *steps: str) -> list[_Grid]:
    return [_Grid(Fraction(step), unit, rank, room) for step in steps]


_ANGLES = (*_grids("deg", 1, COARSE_ROOM, "15", "5", "1"),
           *_grids("deg", 3, FINE_ROOM, "1/2", "1/4", "1/10"),
           *_grids("deg", 4, FINE_ROOM, "1/12", "1/20", "1/60", "1/100"))
_OWN = {
    "mm": (*_grids("mm", 1, COARSE_ROOM, "10", "5", "1", "1/2"),
           *_grids("mm", 3, FINE_ROOM, "1/10", "1/20"),
           *_grids("mm", 4, FINE_ROOM, "1/100", "1/1000")),
    "in": (*_grids("in", 1, COARSE_ROOM, "1/2", "1/4", "1/8", "1/16", "1/10"),
           *_grids("in", 3, FINE_ROOM, "1/32", "1/64", "1/20", "1/100"),
           *_grids("in", 4, FINE_ROOM, "1/200", "1/1000")),
}
_FACTORS = {("mm", "mm"): 1.0, ("in", "in"): 1.0, ("deg", "mm"): 1.0, ("deg", "in"): 1.0,
            ("in", "mm"): 25.4, ("mm", "in"): 1.0 / 25.4}
_OTHER = {
    "mm": (*_grids("in", 5, COARSE_ROOM, "1/2", "1/4", "1/8", "1/16"),
           *_grids("in", 5, FINE_ROOM, "1/64", "1/1000")),
    "in": _grids("mm", 5, COARSE_ROOM, "5", "1", "1/2"),
}


def round_figures(
    value: float, uncertainty: float, sort: ValueSort, unit: Unit, grid: float | None = None
) -> tuple[RoundFigure, ...]:
    """Return the figures within a value's uncertainty, plainer ones first; none if it is not round.

    Parameters
    ----------
    value : float
        As measured, in the part's unit or in degrees; negative where the sign is a side.
    uncertainty : float
        How far the true value may lie from it, in the same unit; at least what a double leaves.
    sort : ValueSort
        ``length``, ``radius``, ``hole`` (a diameter) or ``angle``.
    unit : Unit
        That of the part.
    grid : float, optional
        Step that a person asks for, tried before all others.

    Examples
    --------
    >>> [figure.text for figure in round_figures(12.50003, 1e-4, "length", "mm")]
    ['12.5']
    >>> round_figures(0.20101, 2e-5, "hole", "in")[0].why
    'number drill 7'
    """
    size = abs(value)
    t = max(uncertainty, 1e-12 * max(size, 1.0))
    found: dict[float, RoundFigure] = {}
    for figure in _figures(size, t, sort, unit, grid):
        if abs(figure.value - size) <= t and figure.value > 0.0:
            found.setdefault(figure.value, figure)
    ordered = sorted(found.values(), key=lambda each: each.rank)
    if value >= 0.0:
        return tuple(ordered)
    return tuple(RoundFigure(-each.value, f"-{each.text}", each.rank, each.why)
                 for each in ordered)


def _figures(
    size: float, t: float, sort: ValueSort, unit: Unit, grid: float | None
) -> Iterator[RoundFigure]:
    if grid is not None and sort != "angle" and grid >= ASKED_ROOM * t:
        yield from _on(_Grid(Fraction(repr(grid)), unit, 0, ASKED_ROOM), size, t, unit)
    if sort == "angle":
        for each in _ANGLES:
            yield from _on(each, size, t, unit)
        return
    if sort == "hole":
        yield from _in_table(size, t, unit)
    for each in _OWN[unit]:
        yield from _on(each, size, t, unit)
        if sort == "radius" and each.rank == 1:  # a paper may have given the diameter
            half = _Grid(each.step / 2, each.unit, 2, each.room)
            yield from _on(half, size, t, unit)
    for each in _OTHER[unit]:
        sure = each.step != THOUSANDTH and (
            float(each.step) * _FACTORS[each.unit, unit] >= SURE_ROOM * t)
        yield from _on(replace(each, rank=PASSES.index("finest")) if sure else each, size, t, unit)


def _on(grid: _Grid, size: float, t: float, unit: Unit) -> Iterator[RoundFigure]:
    step = float(grid.step) * _FACTORS[grid.unit, unit]
    count = round(size / step)
    # In plain floats first: nearly all grids end here, and exact fractions take ten times as long.
    if step < grid.room * t or abs(count * step - size) > 1.001 * t:
        return
    amount, scale = grid.step * count, _scale(grid.unit, unit)
    yield RoundFigure(float(amount * scale), _text(amount, grid, unit), grid.rank,
                      f"steps of {_step_text(grid)}")


def _in_table(size: float, t: float, unit: Unit) -> Iterator[RoundFigure]:
    """Yield the row of either unit's tables; the part's own has the first say."""
    for theirs in (unit, "in" if unit == "mm" else "mm"):
        factor, scale = _FACTORS[theirs, unit], _scale(theirs, unit)
        hole, gap = nearest_hole(size / factor, theirs)
        own = theirs == unit
        if gap * factor < (COARSE_ROOM if own else FINE_ROOM) * t:
            continue
        grid = _Grid(hole.diameter, theirs, _table_rank(hole.diameter, theirs) if own else 5, 1.0)
        yield RoundFigure(float(hole.diameter * scale), _text(hole.diameter, grid, unit),
                          grid.rank, hole.row)


def _table_rank(diameter: Fraction, unit: Unit) -> int:
    """The pass of a row: what stands on a coarse grid as well is found there."""
    on_grid = any(diameter % each.step == 0 for each in _OWN[unit] if each.rank == 1)
    return 1 if on_grid else 2


def _scale(theirs: str, unit: Unit) -> Fraction:
    if theirs in ("deg", unit):
        return Fraction(1)
    return Fraction(254, 10) if theirs == "in" else Fraction(10, 254)


def _text(amount: Fraction, grid: _Grid, unit: Unit) -> str:
    """Write an amount the way its grid is read: inch rules in fractions, all else in decimals."""
    if grid.unit == "deg":
        minutes = amount * 60
        if minutes.denominator == 1 and (amount * 100).denominator != 1:
            return f"{minutes // 60}°{minutes % 60}'"
        return _decimal(amount)
    if grid.unit == "in" and grid.step.denominator in RULES:
        text = fraction(float(amount))
    else:
        text = _decimal(amount)
        if grid.unit == "in":
            text = text.removeprefix("0") or "0"
    return text if grid.unit == unit else f"{text} {grid.unit}"


def _decimal(amount: Fraction) -> str:
    """Write an amount with a power of ten below it, or near enough to it for any length."""
    text = f"{float(amount):.9f}"
    return text.rstrip("0").rstrip(".")


def _step_text(grid: _Grid) -> str:
    if grid.unit == "deg":
        return f"{grid.step}°" if grid.step >= 1 else f"{grid.step * 60}'"
    shown = str(grid.step) if grid.unit == "in" else _decimal(grid.step)
    return f"{shown} {grid.unit}"
