"""Values held by typing: the places that they leave to a new point."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import cos, hypot, radians, sin

from sketcher.board.places.pending_bindings import Tie, Typed, typed_tie
from sketcher.board.places.point_place import Spot
from sketcher.board.places.snap_choice import crossing_near
from sketcher.board.preview import Guide
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.project import nearest

QUANTITIES = {"angle": "angle", "sweep": "angle", "count": "number"}
"""What a row takes when it is not a length."""


@dataclass(frozen=True, slots=True)
class Stage:
    """What a tool asks for at this moment.

    Parameters
    ----------
    rows : tuple of str
        Rows that can be held.
    origin : tuple of float or None
        Where run, rise, length and angle are measured from.
    zero : tuple of float
        Where X and Y are measured from.
    straight : bool
        True while a line is drawn from the origin.
    heading : tuple of float or None
        Unit direction of a tangent arc that is drawn from the origin.
    freedoms : int
        How many held values fix what is asked for: two for a place, one for a size.
    along : tuple of str
        What a typed angle is the direction of: the line that is drawn, another one, or two points.
    """

    rows: tuple[str, ...]
    origin: XY | None
    zero: XY = (0.0, 0.0)
    straight: bool = False
    heading: XY | None = None
    freedoms: int = 2
    along: tuple[str, ...] = ("@from", "@")


def held_spot(stage: Stage, held: dict[str, Typed], at: XY) -> Spot | None:
    """Return the place nearest to the pointer that the held values allow; None without any.

    Two values fix the place, one leaves a locus. Of more than two the last two count.

    Returns
    -------
    Spot or None
        With an empty tuple of ties and the word ``no place`` where two values exclude each other.
    """
    loci = [spot for name, typed in held.items() for spot in _loci(stage, name, typed, at)]
    if not loci:
        return None
    if len(loci) == 1:
        return loci[0]
    one, other = loci[-2:]
    # The pointer chooses among several places; where it gives no choice, the first value's side.
    place = crossing_near(one.locus, other.locus, _chooser(stage, held, at))
    if place is None:
        return Spot(one.at, "no place: the held values exclude each other", (), None, "free")
    return Spot(place, f"{one.word}, {other.word}", (*one.ties, *other.ties), None, "on")


def _chooser(stage: Stage, held: dict[str, Typed], at: XY) -> XY:
    """Return the place to which the result should be near: a typed angle or sign outweighs."""
    if stage.origin is None:
        return at
    x, y = at[0] - stage.origin[0], at[1] - stage.origin[1]
    size = hypot(x, y) or 1.0
    if "angle" in held:
        turn = radians(held["angle"].amount)
        length = held["length"].amount if "length" in held else size
        x, y = length * cos(turn), length * sin(turn)
    for name in ("run", "rise"):
        if name in held:
            amount = _signed(held[name], x if name == "run" else y)
            x, y = (amount, y) if name == "run" else (x, amount)
    return (stage.origin[0] + x, stage.origin[1] + y)


def _signed(typed: Typed, pointer: float) -> float:
    """Return a run or rise with its sign: as typed when negative, else the pointer's side."""
    return typed.amount if typed.amount < 0.0 or pointer >= 0.0 else -typed.amount


def _loci(stage: Stage, name: str, typed: Typed, at: XY) -> Iterable[Spot]:
    maker = _MAKERS.get(name)
    if maker is None or name not in stage.rows:
        return
    found = maker(stage, typed, at)
    if found is None:
        return
    curve, tie, place = found
    ties = (tie,) if tie is not None else ()
    word = f"{name} {typed.text}"
    yield Spot(place, word, ties, None, "on", (Guide(curve),) if isinstance(curve, Circle) else (),
               curve, 0)


Found = tuple[Curve, Tie | None, XY]


def _upright(x: float, at: XY) -> tuple[Line, XY]:
    return Line((x, at[1]), (x, at[1] + 1.0)), (x, at[1])


def _flat(y: float, at: XY) -> tuple[Line, XY]:
    return Line((at[0], y), (at[0] + 1.0, y)), (at[0], y)


def _x(stage: Stage, typed: Typed, at: XY) -> Found:
    curve, place = _upright(stage.zero[0] + typed.amount, at)
    return curve, typed_tie("run", ("@zero", "@"), typed), place


def _y(stage: Stage, typed: Typed, at: XY) -> Found:
    curve, place = _flat(stage.zero[1] + typed.amount, at)
    return curve, typed_tie("rise", ("@zero", "@"), typed), place


def _run(stage: Stage, typed: Typed, at: XY) -> Found | None:
    if stage.origin is None:
        return None
    amount = _signed(typed, at[0] - stage.origin[0])
    curve, place = _upright(stage.origin[0] + amount, at)
    return curve, typed_tie("run", ("@from", "@"), typed), place


def _rise(stage: Stage, typed: Typed, at: XY) -> Found | None:
    if stage.origin is None:
        return None
    amount = _signed(typed, at[1] - stage.origin[1])
    curve, place = _flat(stage.origin[1] + amount, at)
    return curve, typed_tie("rise", ("@from", "@"), typed), place


def _length(stage: Stage, typed: Typed, at: XY) -> Found | None:
    if stage.origin is None or typed.amount <= 0.0:
        return None
    curve = Circle(stage.origin, typed.amount)
    of = ("@curve",) if stage.straight else ("@from", "@")
    place = nearest(curve, at).point
    if at == stage.origin:
        place = (stage.origin[0] + typed.amount, stage.origin[1])
    return curve, typed_tie("distance", of, typed), place


def _angle(stage: Stage, typed: Typed, at: XY) -> Found | None:
    if stage.origin is None:
        return None
    (x, y), turn = stage.origin, radians(typed.amount)
    ux, uy = cos(turn), sin(turn)
    if typed.amount % 90.0 == 0.0:  # exact where a person would see it
        ux, uy = float(round(ux)), float(round(uy))
    forward = (at[0] - x) * ux + (at[1] - y) * uy
    if forward <= 0.0:
        forward = hypot(at[0] - x, at[1] - y)
    tie = typed_tie("angle", ("@curve",) if stage.straight else stage.along, typed)
    return Line(stage.origin, (x + ux, y + uy)), tie, (x + forward * ux, y + forward * uy)


def _radius(stage: Stage, typed: Typed, at: XY) -> Found | None:
    if stage.origin is None or typed.amount <= 0.0:
        return None
    tie, (x, y) = typed_tie("radius", ("@curve",), typed), stage.origin
    if stage.heading is None:
        curve = Circle(stage.origin, typed.amount)
        place = (x + typed.amount, y) if at == stage.origin else nearest(curve, at).point
        return curve, tie, place
    reach = typed.amount * _side(stage, at)
    center = (x - stage.heading[1] * reach, y + stage.heading[0] * reach)
    curve = Circle(center, typed.amount)
    return curve, tie, nearest(curve, at).point


def _diameter(stage: Stage, typed: Typed, at: XY) -> Found | None:
    found = _radius(stage, Typed(typed.text, 0.5 * typed.amount), at)
    return None if found is None else (
        found[0], typed_tie("diameter", ("@curve",), typed), found[2])


def _width(stage: Stage, typed: Typed, at: XY) -> Found | None:
    """Return the rim of an end that is as wide as a slot between its two edges."""
    found = _radius(stage, Typed(typed.text, 0.5 * typed.amount), at)
    return None if found is None else (
        found[0], typed_tie("offset", ("@edge", "@facing"), typed), found[2])


def _sweep(stage: Stage, typed: Typed, at: XY) -> Found | None:
    """Return the line from the start to the end of a tangent arc with a sweep; half of it off."""
    if stage.origin is None or stage.heading is None or not 0.0 < typed.amount < 360.0:
        return None
    half = radians(0.5 * typed.amount) * _side(stage, at)
    (hx, hy), (x, y) = stage.heading, stage.origin
    ux, uy = hx * cos(half) - hy * sin(half), hx * sin(half) + hy * cos(half)
    forward = abs((at[0] - x) * ux + (at[1] - y) * uy)
    tie = typed_tie("sweep", ("@curve",), typed)
    return Line(stage.origin, (x + ux, y + uy)), tie, (x + forward * ux, y + forward * uy)


def _side(stage: Stage, at: XY) -> float:
    """Return 1 where the pointer is to the left of the heading, -1 to the right."""
    assert stage.heading is not None
    assert stage.origin is not None
    x, y = at[0] - stage.origin[0], at[1] - stage.origin[1]
    return 1.0 if stage.heading[0] * y - stage.heading[1] * x >= 0.0 else -1.0


_MAKERS: dict[str, Callable[[Stage, Typed, XY], Found | None]] = {
    "x": _x, "y": _y, "run": _run, "rise": _rise, "length": _length, "distance": _length,
    "angle": _angle, "radius": _radius, "diameter": _diameter, "width": _width,
    "sweep": _sweep,
}
