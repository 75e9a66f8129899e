"""Values held by typing: the places that they leave to a new point."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import cos, hypot, radians, sin

from sketcher.board.places.pending_bindings import Tie, Typed, typed_tie
from sketcher.board.places.point_place import Spot
from sketcher.board.places.snap_choice import crossing_near
from sketcher.board.preview import Guide
from sketcher.board.readout.typed_direction import signed, ways
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

    @property
    def turns(self) -> bool:
        """True where a typed angle turns about a center; else it is that of a line to level."""
        return not self.straight and self.along == ("@from", "@")


def held_spot(stage: Stage, held: dict[str, Typed], at: XY) -> Spot | None:
    """Return the place nearest to the pointer that the held values allow; None without any.

    Two values fix the place, one leaves a locus. Of more than two the last two count.

    Returns
    -------
    Spot or None
        With an empty tuple of ties and the word ``no place`` where two values exclude each other.
    """
    used = dict([(n, t) for n, t in held.items() if n in stage.rows and n in _MAKERS][-2:])
    where = at
    for aim in _aims(stage, used, at):
        loci = [spot for name, typed in used.items()
                for spot in _loci(stage, name, typed, at if len(used) < 2 else aim)]
        if len(loci) < 2:
            return loci[0] if loci else None
        one, other = loci
        place = crossing_near(one.locus, other.locus, _chooser(stage, used, aim))
        if place is not None and ("angle" not in used or _is_ahead(stage, place, aim)):
            return Spot(place, f"{one.word}, {other.word}", (*one.ties, *other.ties), None, "on")
        where = one.at
    return Spot(where, "no place: the held values exclude each other", (), None, "free")


def _aims(stage: Stage, held: dict[str, Typed], at: XY) -> list[XY]:
    """Return where the pointer may be taken to be: on each way of a held angle, nearest first."""
    if stage.origin is None or "angle" not in held:
        return [at]
    (x, y), length = stage.origin, held.get("length", held.get("distance"))
    size = length.amount if length is not None else hypot(at[0] - x, at[1] - y) or 1.0
    return [(x + size * ux, y + size * uy)
            for ux, uy in ways(held["angle"], (at[0] - x, at[1] - y), turns=stage.turns)]


def _is_ahead(stage: Stage, place: XY, aim: XY) -> bool:
    """Tell whether a place lies on the way to `aim`, not behind the origin."""
    assert stage.origin is not None
    (x, y) = stage.origin
    return (place[0] - x) * (aim[0] - x) + (place[1] - y) * (aim[1] - y) > 0.0


def _chooser(stage: Stage, held: dict[str, Typed], at: XY) -> XY:
    """Return the place to which the result should be near: a typed sign outweighs the pointer."""
    if stage.origin is None:
        return at
    (x0, y0), (x, y) = stage.origin, at
    if "run" in held:
        x = x0 + signed(held["run"], x - x0)
    if "rise" in held:
        y = y0 + signed(held["rise"], y - y0)
    return x, y


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
    amount = signed(typed, at[0] - stage.origin[0])
    curve, place = _upright(stage.origin[0] + amount, at)
    return curve, typed_tie("run", ("@from", "@"), typed), place


def _rise(stage: Stage, typed: Typed, at: XY) -> Found | None:
    if stage.origin is None:
        return None
    amount = signed(typed, at[1] - stage.origin[1])
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
    x, y = stage.origin
    ux, uy = ways(typed, (at[0] - x, at[1] - y), turns=stage.turns)[0]
    forward = (at[0] - x) * ux + (at[1] - y) * uy
    if forward <= 0.0:
        forward = hypot(at[0] - x, at[1] - y) or 1.0
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
