"""Center lines by the book, stroke by stroke: what each paper's drawing has.

A plus at each center, a gap on its four sides, a long dash past the outline by 3 mm on paper; long
lines broken by a short dash (ISO 128-2 and ASME Y14.2 in outline, from memory; sizes are common
practice, no source). Holes of a grid and of a bolt circle are joined.
"""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from math import tau

from tests.hand_ins.strokes import Bow, Loop, Plate, Ring, Straight, Stroke, named
from tests.hand_ins.trigonometry import heading

PAST = 3.0
"""mm on paper past the outline."""
PLUS, GAP, SHORT, LONG = 1.6, 1.0, 1.2, 24.0
"""mm on paper: half of a plus, gaps, short dashes, the longest dash."""


@dataclass(frozen=True)
class CenterLine:
    """A center line; the strokes that it is drawn with."""

    name: str
    strokes: tuple[Straight | Bow, ...]

    @property
    def start(self) -> complex:
        return self.strokes[0].start

    @property
    def end(self) -> complex:
        return self.strokes[-1].end


Span = tuple[float, float]


def spans(length: float, pluses: Iterable[tuple[float, float]], mm: float) -> list[Span]:
    """Where the dashes of a line lie; `pluses` are places along it with the radius of the hole."""
    marks = [(0.0, 0.0, 0.0)]
    for at, radius in sorted(pluses):
        half, gap = min(PLUS * mm, 0.35 * radius), min(GAP * mm, 0.3 * radius)
        marks.append((at, half, gap))
    marks.append((length, 0.0, 0.0))
    out = [(at - half, at + half) for at, half, _ in marks if half]
    for (a, before, left), (b, after, right) in pairwise(marks):
        out += _dashes(a + before + left, b - after - right, mm)
    return sorted(out)


def _dashes(low: float, high: float, mm: float) -> list[Span]:
    """Long dashes with a short one between each two."""
    if high <= low:
        return []
    many, between = 1, (2.0 * GAP + SHORT) * mm
    while (high - low - (many - 1) * between) / many > LONG * mm:
        many += 1
    long = (high - low - (many - 1) * between) / many
    out = [(low, low + long)]
    for _ in range(many - 1):
        at = out[-1][1]
        out += [(at + GAP * mm, at + (GAP + SHORT) * mm), (at + between, at + between + long)]
    return out


def straight(name: str, start: complex, end: complex, holes: Iterable[Ring | Bow],
             mm: float) -> CenterLine:
    """A line with a plus at each hole on it."""
    way = (end - start) / abs(end - start)
    pluses = [(((hole.center - start) / way).real, hole.radius) for hole in holes]
    return CenterLine(name, tuple(Straight(name, start + a * way, start + b * way)
                                  for a, b in spans(abs(end - start), pluses, mm)))


def across(name: str, hole: Ring | Bow, angle: float, mm: float, reach: float = 0.0) -> CenterLine:
    """A line through a hole at an angle in degrees, past `reach` or its own edge."""
    arm = (max(reach, hole.radius) + PAST * mm) * heading(angle)
    return straight(name, hole.center - arm, hole.center + arm, [hole], mm)


def ring(name: str, center: complex, holes: list[Ring], mm: float) -> CenterLine:
    """A pitch circle through holes all round."""
    radius = abs(holes[0].center - center)
    angles = sorted(phase(hole.center - center) % tau for hole in holes)
    strokes = []
    for begin, end in pairwise([*angles, angles[0] + tau]):
        length = (end - begin) * radius
        strokes += [_bow(name, center, radius, begin + a / radius, begin + b / radius)
                    for a, b in spans(length, [(0.0, holes[0].radius), (length, holes[0].radius)],
                                      mm) if a > 0.0]  # the plus at the start ends the one before
    return CenterLine(name, tuple(strokes))


def _bow(name: str, center: complex, radius: float, begin: float, end: float) -> Bow:
    return Bow(name, center, center + rect(radius, begin), center + rect(radius, end))


class Places:
    """The strokes of a plate as it was drawn, by name; what was left out is None."""

    def __init__(self, loops: Iterable[Loop]) -> None:
        self.named: dict[str, Stroke] = {s.name: s for loop in loops for s in loop}

    def hole(self, name: str) -> Ring | None:
        found = self.named.get(name)
        return found if isinstance(found, Ring) else None

    def bow(self, name: str) -> Bow:
        return named(self.named.values(), name, Bow)


def crosses(places: Places, names: Iterable[str], mm: float) -> list[CenterLine]:
    """A mark of two lines for each hole that is there."""
    return [across(f"{name} {way}", hole, angle, mm) for name in names
            if (hole := places.hole(name)) for way, angle in (("across", 0.0), ("up", 90.0))]


def gate_strap(plate: Plate, places: Places, mm: float) -> list[CenterLine]:
    rim = named(plate.strokes, "eye rim", Bow)
    eye = places.hole("eye")
    out = [straight("axis", complex(0.0, -PAST * mm),
                    complex(0.0, rim.center.imag + rim.radius + PAST * mm), [eye] if eye else [],
                    mm)]
    if eye:
        out.append(across("eye across", eye, 0.0, mm))
    return out + crosses(places, ("foot hole", "foot hole'"), mm)


def pump_flange(plate: Plate, places: Places, mm: float) -> list[CenterLine]:
    ear, body = named(plate.strokes, "ear", Bow), named(plate.strokes, "body", Bow)
    bolts = [hole for n in range(99) if (hole := places.hole(f"bolt {n}"))]
    x, y = ear.center.real + ear.radius + PAST * mm, body.radius + PAST * mm
    bore = places.hole("bore")
    on_x = [hole for name in ("ear hole", "ear hole'", "bore") if (hole := places.hole(name))]
    on_y = [b for b in bolts if abs(b.center.real) < 1e-9 * x] + ([bore] if bore else [])
    out = [straight("long axis", complex(-x, 0.0), complex(x, 0.0), on_x, mm),
           straight("cross axis", complex(0.0, -y), complex(0.0, y), on_y, mm),
           ring("pitch circle", 0j, bolts, mm)]
    out += [across(f"{bolt.name} radial", bolt, phase(bolt.center) * 360.0 / tau, mm)
            for bolt in bolts if bolt not in on_y]
    return out + [across(f"{name} up", hole, 90.0, mm, ear.radius)
                  for name in ("ear hole", "ear hole'") if (hole := places.hole(name))]


def shelf_bracket(plate: Plate, places: Places, mm: float) -> list[CenterLine]:
    out = []
    for way, key in (("row", lambda i, j: f"row hole {i}{j}"),
                     ("column", lambda i, j: f"row hole {j}{i}")):
        for n in range(2):
            holes = [hole for i in range(2) if (hole := places.hole(key(i, n)))]
            arm = (holes[0].radius + PAST * mm) * (1.0 if way == "row" else 1j)
            out.append(straight(f"{way} {n}", holes[0].center - arm, holes[-1].center + arm,
                                holes, mm))
    return out + crosses(places, ("wall hole",), mm)


def shift_arm(plate: Plate, places: Places, mm: float) -> list[CenterLine]:
    out = crosses(places, ("bore", "end hole"), mm)
    low, high = places.bow("slot bottom"), places.bow("slot top")
    way = (high.center - low.center) / abs(high.center - low.center)
    lean = phase(way) * 360.0 / tau
    arm = (low.radius + PAST * mm) * way
    out.append(straight("slot along", low.center - arm, high.center + arm, [low, high], mm))
    out += [across(f"{bow.name} across", bow, lean + 90.0, mm) for bow in (low, high)]
    first, last = places.bow("curved start"), places.bow("curved end")
    out += [across(f"{bow.name} radial", bow, phase(bow.center) * 360.0 / tau, mm)
            for bow in (first, last)]
    return [*out, _path("path", first, last, mm)]


def _path(name: str, first: Bow, last: Bow, mm: float) -> CenterLine:
    """The middle of a curved slot about the origin, past both ends."""
    radius, more = abs(first.center), first.radius + PAST * mm
    begin, end = phase(first.center), phase(last.center)
    length = (end - begin) * radius + 2.0 * more
    pluses = [(more, first.radius), (length - more, last.radius)]
    return CenterLine(name, tuple(
        _bow(name, 0j, radius, begin + (a - more) / radius, begin + (b - more) / radius)
        for a, b in spans(length, pluses, mm)))


BOOK = {"gate-strap": gate_strap, "pump-flange": pump_flange, "shelf-bracket": shelf_bracket,
        "shift-arm": shift_arm}


def center_lines(key: str, plate: Plate, loops: Iterable[Loop], mm: float) -> list[CenterLine]:
    """The center lines of a drawing.

    Parameters
    ----------
    key : str
    plate : Plate
        As its values have it.
    loops : iterable of Loop
        As it was drawn, holes left out or moved.
    mm : float
        A millimetre on paper, in the plate's unit.
    """
    return BOOK[key](plate, Places(loops), mm)
