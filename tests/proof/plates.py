"""Random sound plates as part files, with their area by elementary formulas; all invented.

A plate is a polygon or a star with some arcs, a rounded rectangle, or the half of a symmetric
plate, with holes, slots and patterns of holes that keep clear of each other and of the edge.
Nothing of the program is used: area by the shoelace formula, segments of circles and circles.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from math import asin, atan2, cos, dist, hypot, pi, sin, sqrt
from random import Random
from typing import Any

XY = tuple[float, float]
CLEAR = 2.0
"""Material that is left at least between two contours."""


@dataclass
class Plate:
    """A part's file in the making, what it encloses, and what its contours are."""

    random: Random
    turn: float
    unit: str
    area: float = 0.0
    inside: int = 0
    outside: int = 1
    points: dict[str, list[float]] = field(default_factory=dict)
    curves: dict[str, Any] = field(default_factory=dict)
    bindings: dict[str, Any] = field(default_factory=dict)
    patterns: dict[str, Any] = field(default_factory=dict)
    mirror: dict[str, Any] | None = None
    taken: list[tuple[XY, float]] = field(default_factory=list)
    """Circles around the contours inside, not yet turned."""

    def point(self, name: str, at: XY, fixed: bool = True) -> str:
        """A point, turned with the whole plate."""
        c, s = cos(self.turn), sin(self.turn)
        self.points[name] = [c * at[0] - s * at[1], s * at[0] + c * at[1]]
        if fixed:
            self.bind("fixed", name)
        return name

    def line(self, name: str, a: str, b: str, role: str = "outline") -> None:
        self.curves[name] = {"kind": "line", "ends": [a, b], "role": role}

    def arc(self, name: str, a: str, b: str, center: str, turn: str = "ccw") -> None:
        self.curves[name] = {"kind": "arc", "ends": [a, b], "center": center, "turn": turn}

    def circle(self, name: str, at: XY, radius: float) -> str:
        self.curves[name] = {"kind": "circle", "center": self.point(f"c{name}", at),
                             "radius": radius}
        self.bind("diameter", name, value=repr(2.0 * radius))
        return name

    def bind(self, kind: str, *of: str, **more: object) -> None:
        self.bindings[f"b{len(self.bindings) + 1}"] = {"kind": kind, "of": list(of), **more}

    def tree(self) -> dict[str, Any]:
        """The part's file."""
        return {"format": "part-profile", "version": 1, "name": "Plate",
                "unit": self.unit, "material": {"thickness": 3.0},
                "points": self.points, "curves": self.curves, "bindings": self.bindings,
                "patterns": self.patterns, **({"mirror": self.mirror} if self.mirror else {})}


def sound_plate(random: Random) -> Plate:
    """A plate with nothing wrong with it."""
    turn = random.choice((0.0, random.uniform(0.0, 2.0 * pi)))
    plate = Plate(random, turn, random.choice(("mm", "in")))
    match random.randrange(4):
        case 0:
            room = star(plate)
        case 1:
            room = rounded(plate)
        case 2:
            room = half(plate)
        case _:
            room = star(plate, arcs=True)
    for k in range(random.randint(0, 6)):
        hole(plate, k, room)
    if not plate.mirror and random.random() < 0.5:
        pattern(plate, room)
    return plate


def star(plate: Plate, arcs: bool = False) -> tuple[XY, float]:
    """A convex or notched polygon around the zero; its room is the circle inside."""
    random, count = plate.random, plate.random.randint(3, 10)
    places: list[XY] = []
    while not places or flattest([places[-1], *places, places[0]]) < (0.45 if arcs else 0.06):
        places = around(random, count, 0.0, 2.0 * pi / count)
    for k, at in enumerate(places):
        plate.point(f"p{k}", at)
    plate.area = shoelace(places)
    for k, (a, b) in enumerate(pairwise([*places, places[0]])):
        ends = f"p{k}", f"p{(k + 1) % count}"
        if arcs and random.random() < 0.5:
            plate.area += bulged(plate, f"e{k}", ends, a, b)
        else:
            plate.line(f"e{k}", *ends)
    least = min(abs(a[0] * b[1] - a[1] * b[0]) / dist(a, b)
                for a, b in pairwise([*places, places[0]]))
    # An arc bulges inward by at most a twentieth of its chord, so the room is smaller by that.
    return (0.0, 0.0), least - (7.0 if arcs else 0.0) - CLEAR


def bulged(plate: Plate, name: str, ends: tuple[str, str], a: XY, b: XY) -> float:
    """A shallow arc in place of an edge; return the area that it adds."""
    outward = plate.random.random() < 0.5
    chord = dist(a, b)
    # At most a twentieth: an end turns by 11.4 degrees, and a corner breaks by 26 or more.
    rise = chord * plate.random.uniform(0.02, 0.05)
    radius = (chord**2 / 4.0 + rise**2) / (2.0 * rise)
    left = (-(b[1] - a[1]) / chord, (b[0] - a[0]) / chord)
    to = (radius - rise) if outward else -(radius - rise)
    center = (0.5 * (a[0] + b[0]) + to * left[0], 0.5 * (a[1] + b[1]) + to * left[1])
    plate.point(f"m{name}", center, fixed=False)
    plate.arc(name, *ends, f"m{name}", "ccw" if outward else "cw")
    plate.bind("radius", name, value=repr(radius))
    sweep = 2.0 * asin(chord / (2.0 * radius))
    segment = 0.5 * radius**2 * (sweep - sin(sweep))
    return segment if outward else -segment


def rounded(plate: Plate) -> tuple[XY, float]:
    """A rectangle with four equal rounds, bound as on paper; it stands level."""
    random = plate.random
    plate.turn = 0.0
    r, w, h = random.uniform(3.0, 25.0), random.uniform(60.0, 200.0), random.uniform(60.0, 200.0)
    x, y = w / 2.0, h / 2.0
    corners = [(x - r, y - r), (r - x, y - r), (r - x, r - y), (x - r, r - y)]
    for k, (cx, cy) in enumerate(corners):
        plate.point(f"f{k}", (cx, cy))
        angle = 0.5 * pi * k
        for name, at in ((f"s{k}", angle), (f"t{k}", angle + 0.5 * pi)):
            plate.point(name, (cx + r * cos(at), cy + r * sin(at)), fixed=False)
        plate.arc(f"a{k}", f"s{k}", f"t{k}", f"f{k}")
    for k in range(4):
        plate.line(f"e{k}", f"t{k}", f"s{(k + 1) % 4}")
        plate.bind("tangent", f"e{k}", f"a{k}")
        plate.bind("tangent", f"e{k}", f"a{(k + 1) % 4}")
        if k:
            plate.bind("equal", "a0", f"a{k}")
    plate.bind("radius", "a0", value=repr(r))
    plate.area = w * h - (4.0 - pi) * r**2
    return (0.0, 0.0), min(x, y) - CLEAR


def half(plate: Plate) -> tuple[XY, float]:
    """The right half of a symmetric plate; its room is a circle beside the axis."""
    random, count = plate.random, plate.random.randint(3, 7)
    places: list[XY] = []
    while not places or flattest([_over(places[1]), *places, _over(places[-2])]) < 0.06:
        places = around(random, count, -0.5 * pi, pi / (count - 1))
        places[0], places[-1] = (0.0, places[0][1]), (0.0, places[-1][1])
    for k, at in enumerate(places):
        plate.point(f"p{k}", at)
    for k in range(count - 1):
        plate.line(f"e{k}", f"p{k}", f"p{k + 1}")
    plate.line("ax", "p0", f"p{count - 1}", "axis")
    plate.mirror = {"axis": "ax", "curves": "outline"}
    plate.area = 2.0 * shoelace(places)
    if random.random() < 0.5:
        radius = random.uniform(3.0, 12.0)
        plate.circle("onaxis", (0.0, 0.0), radius)
        plate.area -= pi * radius**2
        plate.inside += 1
        plate.taken.append(((0.0, 0.0), radius))
    center, room = inscribed(places)
    return center, room - CLEAR


def inscribed(places: list[XY]) -> tuple[XY, float]:
    """A circle inside a half, clear of the axis."""
    best = ((0.0, 0.0), 0.0)
    edges = list(pairwise([*places, places[0]]))
    for x in range(5, 90, 5):
        for y in range(-80, 81, 5):
            far = min(((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / dist(a, b)
                      for a, b in edges)
            best = max(best, ((float(x), float(y)), far), key=lambda held: held[1])
    return best


def hole(plate: Plate, number: int, room: tuple[XY, float]) -> None:
    """A round hole, a slot or a square one where there is room; counted with its images."""
    random, images = plate.random, 2 if plate.mirror else 1
    size = random.uniform(1.5, 9.0)
    at = free(plate, size, room)
    if at is None:
        return
    plate.taken.append((at, size))
    plate.inside += images
    kind = random.randrange(3)
    if kind == 0:
        plate.circle(f"h{number}", at, size)
        plate.area -= images * pi * size**2
    elif kind == 1:
        plate.area -= images * slot(plate, f"h{number}", at, size)
    else:
        plate.area -= images * square_hole(plate, f"h{number}", at, size)


def free(plate: Plate, size: float, room: tuple[XY, float]) -> XY | None:
    """A place for a circle of this radius, or none found."""
    (x, y), most = room
    for _ in range(40):
        angle, out = plate.random.uniform(0.0, 2.0 * pi), plate.random.uniform(0.0, 1.0)
        if most <= size:
            return None
        far = (most - size) * sqrt(out)
        at = (x + far * cos(angle), y + far * sin(angle))
        if all(dist(at, other) > size + radius + CLEAR for other, radius in plate.taken):
            return at
    return None


def slot(plate: Plate, name: str, at: XY, size: float) -> float:
    """A slot inside a circle, bound by centers, radius and tangents; return its area."""
    angle, r = plate.random.uniform(0.0, 2.0 * pi), 0.4 * size
    u, v = (cos(angle), sin(angle)), (-sin(angle), cos(angle))
    reach = size - r
    a, b = (plate.point(f"{name}{end}", (at[0] + by * u[0], at[1] + by * u[1]))
            for end, by in (("a", -reach), ("b", reach)))
    ends = {}
    for end, along, across in (("q", -1, -1), ("r", 1, -1), ("s", 1, 1), ("t", -1, 1)):
        place = (at[0] + along * reach * u[0] + across * r * v[0],
                 at[1] + along * reach * u[1] + across * r * v[1])
        ends[end] = plate.point(f"{name}{end}", place, fixed=False)
    plate.line(f"{name}l", ends["q"], ends["r"])
    plate.arc(f"{name}m", ends["r"], ends["s"], b)
    plate.line(f"{name}n", ends["s"], ends["t"])
    plate.arc(f"{name}o", ends["t"], ends["q"], a)
    plate.bind("radius", f"{name}m", value=repr(r))
    plate.bind("equal", f"{name}m", f"{name}o")
    for line in (f"{name}l", f"{name}n"):
        for arc in (f"{name}m", f"{name}o"):
            plate.bind("tangent", line, arc)
    return pi * r**2 + 4.0 * reach * r


def square_hole(plate: Plate, name: str, at: XY, size: float) -> float:
    """A rectangle inside a circle, every corner fixed; return its area."""
    turn, wide = plate.random.uniform(0.0, pi), plate.random.uniform(0.3, 1.2)
    angles = (turn + wide, turn + pi - wide, turn + pi + wide, turn - wide)
    for k, angle in enumerate(angles):
        plate.point(f"{name}k{k}", (at[0] + size * cos(angle), at[1] + size * sin(angle)))
    for k in range(4):
        plate.line(f"{name}e{k}", f"{name}k{k}", f"{name}k{(k + 1) % 4}")
    return 4.0 * size**2 * sin(wide) * cos(wide)


def pattern(plate: Plate, room: tuple[XY, float]) -> None:
    """A ring or a grid of holes where all of them have room, or nothing."""
    random, (_, most) = plate.random, room
    size = random.uniform(0.8, 2.5)
    if random.random() < 0.5:
        count, ring = random.randint(2, 12), most - size - 0.5
        places = [(ring * cos(2.0 * pi * k / count), ring * sin(2.0 * pi * k / count))
                  for k in range(count)]
        said = {"kind": "polar", "curves": ["g"], "center": "hub", "count": count, "span": "360"}
    else:
        columns, rows = random.randint(1, 5), random.randint(1, 4)
        step = 2.0 * size + random.uniform(1.0, 8.0)
        x, y = (random.uniform(-0.7, 0.3) * most for _ in range(2))
        places = [(x + i * step, y + j * step) for i in range(columns) for j in range(rows)]
        said = {"kind": "grid", "curves": ["g"], "step": [repr(step), repr(step)],
                "count": [columns, rows], "angle": repr(plate.turn * 180.0 / pi)}
    apart = min((dist(a, b) for a in places for b in places if a != b), default=99.0)
    fits = apart > 2.0 * size + 0.5 and all(
        hypot(*at) + size < most
        and all(dist(at, other) > size + radius + 0.5 for other, radius in plate.taken)
        for at in places)
    if not fits:
        return
    if said["kind"] == "polar":
        plate.point("hub", (0.0, 0.0))
        plate.line("mark", "hub", "p0" if "p0" in plate.points else "f0", "layout")
    plate.circle("g", places[0], size)
    plate.patterns["n1"] = said
    plate.inside += len(places)
    plate.area -= len(places) * pi * size**2
    plate.taken += [(at, size) for at in places]


def around(random: Random, count: int, first: float, step: float) -> list[XY]:
    """Places around the zero at equal angles and random distances."""
    radii = [random.uniform(70.0, 100.0) for _ in range(count)]
    return [(r * cos(first + k * step), r * sin(first + k * step)) for k, r in enumerate(radii)]


def flattest(places: list[XY]) -> float:
    """Least break of direction along a chain of places, in radians."""
    headings = [atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(places)]
    return min(abs((b - a + pi) % (2.0 * pi) - pi) for a, b in pairwise(headings))


def _over(at: XY) -> XY:
    """The reflection in the plumb axis."""
    return (-at[0], at[1])


def shoelace(places: list[XY]) -> float:
    """Area of a polygon whose corners run counter-clockwise."""
    return 0.5 * sum(a[0] * b[1] - a[1] * b[0] for a, b in pairwise([*places, places[0]]))
