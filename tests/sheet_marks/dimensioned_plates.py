"""Random plates as a student would bind them: every value on a round figure, all invented.

Outlines: a rectangle whose corners are sharp, rounded, bevelled or slanted; the half of a stepped
plate on a plumb axis; a disc. In them holes alone, in pairs and in patterns, straight and curved
slots, windows. Everything is bound without a fixed coordinate but the zero.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from math import cos, dist, pi, radians, sin, tan
from random import Random
from typing import Any

XY = tuple[float, float]


@dataclass
class Drafted:
    """A part's file in the making; lengths are given in steps of a sixteenth inch or a mm."""

    random: Random
    unit: str
    written: str
    """How inches are typed: ``fraction`` or ``decimal``."""
    points: dict[str, list[float]] = field(default_factory=dict)
    curves: dict[str, Any] = field(default_factory=dict)
    bindings: dict[str, Any] = field(default_factory=dict)
    patterns: dict[str, Any] = field(default_factory=dict)
    mirror: dict[str, Any] | None = None
    taken: list[tuple[XY, float]] = field(default_factory=list)
    low: XY = (0.0, 0.0)
    high: XY = (0.0, 0.0)
    zero: str = "p1"
    clear: float = 5.0

    @property
    def step(self) -> float:
        """The least step of a length in the part's unit."""
        return 1.0 if self.unit == "mm" else 1.0 / 16.0

    def size(self, low: float, high: float) -> float:
        """A random length between two in mm, on a whole step."""
        unit = 1.0 if self.unit == "mm" else 25.4
        steps = round(self.random.uniform(low, high) / unit / self.step)
        return max(1, steps) * self.step

    def said(self, value: float) -> str:
        """A length as it is typed."""
        if self.unit == "mm" or self.written == "decimal":
            return f"{value:.4f}".rstrip("0").rstrip(".")
        whole, rest = divmod(Fraction(value).limit_denominator(64), 1)
        return " ".join(str(word) for word in (whole, rest) if word) or "0"

    def point(self, name: str, x: float, y: float) -> str:
        self.points[name] = [x, y]
        return name

    def line(self, name: str, a: str, b: str, role: str = "outline") -> str:
        self.curves[name] = {"kind": "line", "ends": [a, b], "role": role}
        return name

    def arc(self, name: str, a: str, b: str, center: str, turn: str = "ccw") -> str:
        self.curves[name] = {"kind": "arc", "ends": [a, b], "center": center, "turn": turn,
                             "role": "outline"}
        return name

    def bind(self, kind: str, *of: str, **more: object) -> None:
        self.bindings[f"b{len(self.bindings) + 1}"] = {"kind": kind, "of": list(of), **more}

    def valued(self, kind: str, *of: str, value: float) -> None:
        self.bind(kind, *of, value=self.said(value))

    def circle(self, name: str, center: str, diameter: float) -> str:
        self.curves[name] = {"kind": "circle", "center": center, "radius": 0.5 * diameter,
                             "role": "outline"}
        return name

    def tree(self, name: str) -> dict[str, Any]:
        """The part's file."""
        thick = 3.0 if self.unit == "mm" else 0.125
        mirror = {"mirror": self.mirror} if self.mirror else {}
        return {"format": "part-profile", "version": 1, "name": name, "unit": self.unit,
                "material": {"name": "mild steel", "thickness": thick}, "points": self.points,
                "curves": self.curves, "bindings": self.bindings, "patterns": self.patterns,
                **mirror}


def dimensioned_plate(random: Random) -> Drafted:
    """A plate that is bound by dimensions as on paper."""
    unit = random.choice(("mm", "mm", "in"))
    plate = Drafted(random, unit, random.choice(("fraction", "decimal")))
    plate.clear *= 1.0 if unit == "mm" else 1.0 / 25.4
    random.choice((rectangle, rectangle, stepped, disc))(plate)
    wanted = [random.choice((hole, hole, pair, slot, curved_slot, window, grid))
              for _ in range(random.randint(0, 5))]
    for number, feature in enumerate(wanted, 1):
        if not (plate.mirror and feature in (grid, pair, curved_slot)):
            feature(plate, f"f{number}")
    return plate


# outlines

def rectangle(plate: Drafted) -> None:
    """A rectangle; three of its corners may be rounded, bevelled or slanted."""
    random = plate.random
    w, h = plate.size(60, 260), plate.size(45, 160)
    plate.point("p1", 0.0, 0.0)
    plate.bind("fixed", "p1")
    kinds = [random.choice(("sharp", "fillet", "fillet", "bevel", "slant")) for _ in range(3)]
    radius = plate.size(4, 14)
    equal = random.random() < 0.5
    ends: list[tuple[str, str]] = []
    fillets: list[str] = []
    ways = (((w, 0.0), (-1, 0), (0, 1)), ((w, h), (0, -1), (-1, 0)), ((0.0, h), (1, 0), (0, -1)))
    for n, (kind, (at, back, on)) in enumerate(zip(kinds, ways, strict=True), 2):
        ends.append(corner(plate, n, kind, at, (back, on), radius, fillets, equal))
    names = ["p1", *[name for pair_ in ends for name in pair_]]
    sides = [(names[0], ends[0][0]), (ends[0][1], ends[1][0]), (ends[1][1], ends[2][0]),
             (ends[2][1], names[0])]
    for k, (a, b) in enumerate(sides, 1):
        plate.line(f"e{k}", a, b)
        plate.bind("level" if k % 2 else "plumb", f"e{k}")
    plate.valued("run", "p1", ends[0][1], value=w)
    plate.valued("rise", "p1", ends[1][1], value=h)
    for n, name in enumerate(fillets):
        number = int(name[1:])
        for edge in (f"e{number - 1}", f"e{number}"):
            plate.bind("tangent", edge, name)
        if n and equal:
            plate.bind("equal", fillets[0], name)
        else:
            plate.valued("radius", name, value=radius)
    plate.low, plate.high = (0.0, 0.0), (w, h)
    plate.taken += [(at, 1.7 * radius) for at in ((w, 0.0), (w, h), (0.0, h))]


def corner(
    plate: Drafted, n: int, kind: str, at: XY, ways: tuple[XY, XY], radius: float,
    fillets: list[str], equal: bool,
) -> tuple[str, str]:
    """Points at one corner, with what joins them; the names on the side before and behind."""
    (bx, by), (ox, oy) = ways
    if kind == "sharp":
        name = plate.point(f"p{n}", *at)
        return name, name
    one = other = radius
    if kind == "slant":
        angle = plate.random.choice((20.0, 30.0, 35.0, 60.0))
        one = plate.size(10, 24)
        other = one * tan(radians(angle if by == 0.0 else 90.0 - angle))
        plate.taken.append((at, max(one, other)))
    a = plate.point(f"p{n}a", at[0] + one * bx, at[1] + one * by)
    b = plate.point(f"p{n}b", at[0] + other * ox, at[1] + other * oy)
    if kind == "fillet":
        center = plate.point(f"m{n}", at[0] + radius * (bx + ox), at[1] + radius * (by + oy))
        fillets.append(plate.arc(f"a{n}", a, b, center))
        return a, b
    plate.line(f"c{n}", a, b)
    plate.valued("run" if by == 0.0 else "rise", a, b, value=one)
    plate.bind("angle", f"c{n}", value="45" if kind == "bevel" else f"{angle:g}")
    return a, b


def stepped(plate: Drafted) -> None:
    """The right half of a plate with shoulders, on a plumb axis."""
    random = plate.random
    w, low = plate.size(40, 110), plate.size(18, 50)
    narrow, h = plate.size(16, 36), low + plate.size(30, 70)
    for name, x, y in (("p1", 0.0, 0.0), ("p2", w, 0.0), ("p3", w, low), ("p5", narrow, h),
                       ("p6", 0.0, h)):
        plate.point(name, x, y)
    plate.bind("fixed", "p1")
    plate.line("ax", "p1", "p6", "axis")
    plate.bind("plumb", "ax")
    plate.line("e1", "p1", "p2")
    plate.line("e2", "p2", "p3")
    if random.random() < 0.5:
        radius = plate.size(4, 10)
        a, b = (plate.point("q1", narrow + radius, low), plate.point("q2", narrow, low + radius))
        center = plate.point("m1", narrow + radius, low + radius)
        plate.line("e3", "p3", a)
        plate.arc("a1", a, b, center, "cw")
        plate.line("e4", b, "p5")
        plate.bind("tangent", "e3", "a1")
        plate.bind("tangent", "e4", "a1")
        plate.valued("radius", "a1", value=radius)
    else:
        plate.point("p4", narrow, low)
        plate.line("e3", "p3", "p4")
        plate.line("e4", "p4", "p5")
    plate.line("e5", "p5", "p6")
    for k, kind in enumerate(("level", "plumb", "level", "plumb", "level"), 1):
        plate.bind(kind, f"e{k}")
    plate.valued("run", "p1", "p2", value=w)
    plate.valued("rise", "p2", "p3", value=low)
    plate.valued("offset", "ax", "p5", value=narrow)
    plate.valued("rise", "p1", "p6", value=h)
    plate.mirror = {"axis": "ax", "curves": "outline"}
    if random.random() < 0.6:
        d = plate.size(8, 20)
        y = h - plate.size(16, 22)
        if d < narrow and y - 0.5 * d > 0.3 * low:
            plate.point("k0", 0.0, y)
            plate.bind("on", "k0", "ax")
            plate.valued("rise", "p1", "k0", value=y)
            plate.valued("diameter", plate.circle("h0", "k0", d), value=d)
            plate.taken.append(((0.0, y), 0.5 * d))
    plate.low, plate.high = (0.0, 0.0), (w, low)


def disc(plate: Drafted) -> None:
    """A round plate with a bore and a ring of holes."""
    random = plate.random
    outer = plate.size(70, 180)
    outer += outer / plate.step % 2 * plate.step  # the radius on a whole step too
    plate.zero = plate.point("c0", 0.0, 0.0)
    plate.bind("fixed", "c0")
    plate.valued("diameter", plate.circle("rim", "c0", outer), value=outer)
    bore = plate.size(12, 30)
    plate.valued("diameter", plate.circle("bore", "c0", bore), value=bore)
    plate.taken.append(((0.0, 0.0), 0.5 * bore))
    ring, d, count = 0.5 * outer - plate.size(10, 15), plate.size(5, 9), random.choice((3, 4, 6, 8))
    if 2.0 * ring * sin(pi / count) > d + plate.clear and ring - 0.5 * d > 0.5 * bore + plate.clear:
        plate.point("k1", 0.0, ring)
        plate.line("mk", "c0", "k1", "layout")
        plate.bind("plumb", "mk")
        plate.valued("distance", "mk", value=ring)
        plate.valued("diameter", plate.circle("g1", "k1", d), value=d)
        plate.patterns["n1"] = {"kind": "polar", "curves": ["g1"], "center": "c0", "count": count,
                                "span": "360"}
        for k in range(count):
            angle = 0.5 * pi + 2.0 * pi * k / count
            plate.taken.append(((ring * cos(angle), ring * sin(angle)), 0.5 * d))
    reach = 0.62 * outer / 2.0
    plate.low, plate.high = (-reach, -reach), (reach, reach)


# what is in them

def free(plate: Drafted, radius: float) -> XY | None:
    """A place on whole steps for a circle of this radius, or none."""
    for _ in range(30):
        x, y = (plate.step * round(plate.random.uniform(
            plate.low[k] + radius + plate.clear, max(plate.low[k] + radius + plate.clear,
                                                     plate.high[k] - radius - plate.clear))
            / plate.step) for k in range(2))
        inside = all(plate.low[k] + radius + plate.clear <= v <= plate.high[k] - radius
                     - plate.clear for k, v in enumerate((x, y)))
        apart = all(dist((x, y), at) > radius + other + plate.clear for at, other in plate.taken)
        if inside and apart:
            plate.taken.append(((x, y), radius))
            return x, y
    return None


def located(plate: Drafted, name: str, at: XY) -> str:
    """A point with its run and rise from the zero; on the zero's level it is bound so."""
    plate.point(name, *at)
    for kind, along, value in (("run", "plumb", at[0]), ("rise", "level", at[1])):
        if abs(value) < 1e-9:
            plate.bind(along, plate.zero, name)
        else:
            plate.valued(kind, plate.zero, name, value=abs(value))
    return name


def hole(plate: Drafted, name: str) -> None:
    d = plate.size(5, 24)
    at = free(plate, 0.5 * d)
    if at:
        plate.valued("diameter", plate.circle(name, located(plate, f"k{name}", at), d), value=d)


def pair(plate: Drafted, name: str) -> None:
    """Two equal holes on one level, bound equal or each by its own diameter."""
    d, apart = plate.size(5, 10), plate.size(18, 40)
    at = free(plate, 0.5 * (d + apart))
    if not at:
        return
    left, right = (at[0] - 0.5 * apart, at[1]), (at[0] + 0.5 * apart, at[1])
    one = plate.circle(f"{name}a", located(plate, f"k{name}a", left), d)
    other = plate.circle(f"{name}b", plate.point(f"k{name}b", *right), d)
    plate.bind("level", f"k{name}a", f"k{name}b")
    plate.valued("run", f"k{name}a", f"k{name}b", value=apart)
    plate.valued("diameter", one, value=d)
    if plate.random.random() < 0.5:
        plate.bind("equal", one, other)
    else:
        plate.valued("diameter", other, value=d)


def slot(plate: Drafted, name: str) -> None:
    """A straight slot: level, plumb or at an angle, bound by center distance and end radius."""
    r, long = 0.5 * plate.size(5, 11), plate.size(14, 32)
    angle = plate.random.choice((0.0, 0.0, 90.0, 30.0, 45.0, 75.0))
    at = free(plate, 0.5 * long + r)
    if not at:
        return
    u = (cos(radians(angle)), sin(radians(angle)))
    n = (-u[1], u[0])
    if angle in (0.0, 90.0):
        start = (at[0] - 0.5 * long * u[0], at[1] - 0.5 * long * u[1])
    else:
        start = tuple(plate.step * round((at[k] - 0.5 * long * u[k]) / plate.step)
                      for k in range(2))
    end = (start[0] + long * u[0], start[1] + long * u[1])
    a, b = located(plate, f"{name}a", start), plate.point(f"{name}b", *end)
    path = plate.line(f"{name}s", a, b, "layout")
    if angle == 0.0:
        plate.bind("level", path)
    elif angle == 90.0:
        plate.bind("plumb", path)
    else:
        plate.bind("angle", path, value=f"{angle:g}")
    plate.valued("distance", path, value=long)
    q, s, t, v = (plate.point(f"{name}{key}", base[0] + by * r * n[0], base[1] + by * r * n[1])
                  for key, base, by in (("q", start, -1), ("r", end, -1), ("t", end, 1),
                                        ("u", start, 1)))
    plate.line(f"{name}l", q, s)
    plate.arc(f"{name}m", s, t, b)
    plate.line(f"{name}n", t, v)
    plate.arc(f"{name}o", v, q, a)
    plate.valued("radius", f"{name}m", value=r)
    plate.bind("equal", f"{name}m", f"{name}o")
    for edge in (f"{name}l", f"{name}n"):
        for end_ in (f"{name}m", f"{name}o"):
            plate.bind("tangent", edge, end_)


def curved_slot(plate: Drafted, name: str) -> None:
    """A slot on an arc about a hole, between two angles from level."""
    r, path, d = 0.5 * plate.size(5, 8), plate.size(22, 36), plate.size(8, 14)
    first, last = plate.random.choice(((20.0, 60.0), (-30.0, 30.0), (100.0, 150.0), (0.0, 45.0)))
    at = free(plate, path + 2.0 * r)
    if not at or path - r < 0.5 * d + plate.clear:
        return
    hub = located(plate, f"{name}h", at)
    plate.valued("diameter", plate.circle(name, hub, d), value=d)

    def on(radius: float, angle: float, key: str) -> str:
        x, y = (radius * f(radians(angle)) for f in (cos, sin))
        return plate.point(f"{name}{key}", at[0] + x, at[1] + y)

    m, k = on(path, first, "m"), on(path, last, "k")
    corners = [on(path - r, first, "q"), on(path - r, last, "r"), on(path + r, last, "t"),
               on(path + r, first, "u")]
    for key, angle, end in (("x", first, m), ("y", last, k)):
        ray = plate.line(f"{name}{key}", hub, end, "layout")
        if angle == 0.0:
            plate.bind("level", ray)
        else:
            plate.bind("angle", ray, value=f"{angle % 180.0:g}")
    plate.valued("distance", f"{name}x", value=path)
    plate.arc(f"{name}v", corners[0], corners[1], hub)
    plate.arc(f"{name}w", corners[1], corners[2], k, "cw")
    plate.arc(f"{name}z", corners[2], corners[3], hub, "cw")
    plate.arc(f"{name}e", corners[3], corners[0], m, "cw")
    plate.valued("radius", f"{name}w", value=r)
    for one, other in (("v", "w"), ("w", "z"), ("z", "e"), ("e", "v")):
        plate.bind("tangent", f"{name}{one}", f"{name}{other}")


def window(plate: Drafted, name: str) -> None:
    """A rectangular opening with sharp corners."""
    w, h = plate.size(12, 36), plate.size(10, 26)
    at = free(plate, 0.5 * dist((0, 0), (w, h)))
    if not at:
        return
    low = tuple(plate.step * round((at[k] - 0.5 * (w, h)[k]) / plate.step) for k in range(2))
    names = [located(plate, f"{name}1", low)]
    names += [plate.point(f"{name}{k}", low[0] + x, low[1] + y)
              for k, x, y in ((2, w, 0.0), (3, w, h), (4, 0.0, h))]
    for k in range(4):
        edge = plate.line(f"{name}e{k}", names[k], names[(k + 1) % 4])
        plate.bind("plumb" if k % 2 else "level", edge)
    plate.valued("run", names[0], names[1], value=w)
    plate.valued("rise", names[0], names[3], value=h)


def grid(plate: Drafted, name: str) -> None:
    """A grid of equal holes."""
    d, columns, rows = plate.size(4, 7), plate.random.randint(2, 4), plate.random.randint(1, 3)
    sx, sy = d + plate.size(7, 14), d + plate.size(7, 14)
    w, h = sx * (columns - 1), sy * (rows - 1)
    at = free(plate, 0.5 * (dist((0, 0), (w, h)) + d))
    if not at:
        return
    low = tuple(plate.step * round((at[k] - 0.5 * (w, h)[k]) / plate.step) for k in range(2))
    plate.valued("diameter", plate.circle(name, located(plate, f"k{name}", low), d), value=d)
    plate.patterns[f"n{name}"] = {
        "kind": "grid", "curves": [name], "step": [plate.said(sx), plate.said(sy)],
        "count": [columns, rows], "angle": "0"}
