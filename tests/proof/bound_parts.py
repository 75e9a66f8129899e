"""Random parts that are bound one thing after the other, each by conditions on what is there.

Points by two loci of any sorts, lines at angles, parallel, square and touching circles, circles by
size, by their distance from others and reaching points, middles and reflections: a construction for
straightedge and compass exists for every one, and none knows of it here. Shapes mean nothing, their
lines may cross. All invented.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import atan2, cos, degrees, dist, hypot, pi, radians, sin
from random import Random
from typing import Any

XY = tuple[float, float]
SPREAD = 120.0
"""Width of a part in mm; in inches a sixteenth of it in figures."""
STEEP = sin(radians(25.0))
"""Sine of the least angle at which two loci of a point cross."""


@dataclass
class BoundPart:
    """A part's file in the making."""

    random: Random
    unit: str
    points: dict[str, XY] = field(default_factory=dict)
    curves: dict[str, Any] = field(default_factory=dict)
    bindings: dict[str, Any] = field(default_factory=dict)
    parameters: dict[str, str] = field(default_factory=dict)
    patterns: dict[str, Any] = field(default_factory=dict)
    mirror: list[dict[str, Any]] = field(default_factory=list)

    @property
    def scale(self) -> float:
        return 1.0 if self.unit == "mm" else 1.0 / 16.0

    def bind(self, kind: str, *of: str, value: str | None = None) -> None:
        said = {"kind": kind, "of": list(of)} | ({} if value is None else {"value": value})
        self.bindings[f"b{len(self.bindings) + 1}"] = said

    def length(self, amount: float) -> str:
        """A length as somebody types it: halves of mm, sixteenths of inches, at times a sum."""
        if self.unit == "in":
            whole, part = divmod(max(1, round(abs(amount) * 16.0)), 16)
            below = 16
            while part and part % 2 == 0:
                part, below = part // 2, below // 2
            return " ".join([str(whole)] * bool(whole) + [f"{part}/{below}"] * bool(part))
        figure, how = max(1, round(abs(amount) * 2.0)) / 2.0, self.random.random()
        if figure > 8.0 and how < 0.1:
            return f"{figure - 3.5:g} + 3.5"
        if how < 0.2:
            name = f"s{len(self.parameters) + 1}"
            self.parameters[name] = f"{figure * (1.0 if how < 0.15 else 2.0):g}"
            return name if how < 0.15 else f"{name}/2"
        return f"{figure:g}"

    def angle(self, amount: float) -> str:
        step = self.random.choice((15.0, 1.0, 0.5))
        return f"{step * round(amount / step):g}"

    def point(self, at: XY) -> str:
        name = f"p{len(self.points) + 1}"
        self.points[name] = at
        return name

    def line(self, one: str, other: str) -> str:
        return self.curve({"kind": "line", "ends": [one, other]}, "e")

    def circle(self, center: str, radius: float) -> str:
        return self.curve({"kind": "circle", "center": center, "radius": radius}, "h")

    def curve(self, curve: dict[str, Any], letter: str) -> str:
        name = f"{letter}{len(self.curves) + 1}"
        self.curves[name] = curve
        return name

    def lines(self) -> list[str]:
        return [name for name, curve in self.curves.items() if curve["kind"] == "line"]

    def circles(self) -> list[str]:
        return [name for name, curve in self.curves.items() if curve["kind"] == "circle"]

    def ends(self, line: str) -> tuple[XY, XY]:
        one, other = self.curves[line]["ends"]
        return self.points[one], self.points[other]

    def along(self, line: str) -> XY:
        (ax, ay), (bx, by) = self.ends(line)
        return unit((bx - ax, by - ay))

    def offset(self, line: str, at: XY) -> float:
        (ax, ay), (ux, uy) = self.ends(line)[0], self.along(line)
        return ux * (at[1] - ay) - uy * (at[0] - ax)

    def far(self, at: XY) -> bool:
        """Whether a place keeps away from all points and lines."""
        clear = 6.0 * self.scale
        return all(dist(at, other) > clear for other in self.points.values()) and all(
            abs(self.offset(line, at)) > clear for line in self.lines())

    def place(self) -> XY:
        while True:
            at = (self.random.uniform(0.0, SPREAD) * self.scale,
                  self.random.uniform(0.0, SPREAD) * self.scale)
            if self.far(at):
                return at

    def tree(self, name: str) -> dict[str, Any]:
        """The part's file."""
        return {"format": "part-profile", "version": 1, "name": name, "unit": self.unit,
                "points": {name: list(at) for name, at in self.points.items()},
                "curves": self.curves, "bindings": self.bindings, "parameters": self.parameters,
                "patterns": self.patterns} | ({"mirror": self.mirror} if self.mirror else {})


def unit(way: XY) -> XY:
    size = hypot(*way)
    return way[0] / size, way[1] / size


def bound_part(random: Random) -> BoundPart:
    """A part of some features, each bound to what was there before it."""
    part = BoundPart(random, random.choice(("mm", "mm", "in")))
    begin(part)
    features = [by_loci, by_loci, ray, hole, touching_line, middle, reflection, reaching_arc,
                bored_beside, reaching_hole, rim, beside_line, as_long]
    for _ in range(random.randint(3, 8)):
        random.choice(features)(part)
    if part.circles() and random.random() < 0.3:
        repeat(part)
    if random.random() < 0.3:
        reflect(part)
    return part


def begin(part: BoundPart) -> None:
    """A fixed point and a line from it, level or at an angle."""
    long = part.random.uniform(40.0, 90.0) * part.scale
    turn = part.random.choice((0.0, 0.0, 30.0, 27.5))
    start = part.point((0.0, 0.0))
    end = part.point((long * cos(radians(turn)), long * sin(radians(turn))))
    line = part.line(start, end)
    part.bind("fixed", start)
    if turn:
        part.bind("angle", line, value=f"{turn:g}")
    else:
        part.bind("level", line)
    part.bind("distance", line, value=part.length(long))


def by_loci(part: BoundPart) -> str:
    """A point where two loci cross that stand well to each other; often the end of a line."""
    at, name = part.place(), f"p{len(part.points) + 1}"
    first = locus(part, name, at)
    while True:
        second = locus(part, name, at)
        (ux, uy), (vx, vy) = first[0], second[0]
        if abs(ux * vy - uy * vx) > STEEP and first[1][:2] != second[1][:2]:
            break
    part.points[name] = at
    for _, said, value in (first, second):
        part.bind(*said, value=value)
    if part.random.random() < 0.6:
        part.line(part.random.choice(list(part.points)[:-1]), name)
    return name


def locus(part: BoundPart, name: str, at: XY) -> tuple[XY, tuple[str, ...], str | None]:
    """The direction square to a locus of a place, the binding that says it, and its value."""
    random = part.random
    other = random.choice(list(part.points))
    dx, dy = at[0] - part.points[other][0], at[1] - part.points[other][1]
    kind = random.choice(("run", "rise", "distance", "offset"))
    if kind == "offset":
        line = random.choice(part.lines())
        ux, uy = part.along(line)
        return (-uy, ux), ("offset", line, name), part.length(part.offset(line, at))
    if kind == "run" and abs(dx) > 2.0 * part.scale:
        return (1.0, 0.0), ("run", other, name), part.length(dx)
    if kind == "rise" and abs(dy) > 2.0 * part.scale:
        return (0.0, 1.0), ("rise", other, name), part.length(dy)
    return unit((dx, dy)), ("distance", other, name), part.length(hypot(dx, dy))


def ray(part: BoundPart) -> None:
    """A line from a point, with a direction and a length."""
    random = part.random
    start, base = random.choice(list(part.points)), random.choice(part.lines())
    kind = random.choice(("angle", "angle", "level angle", "parallel", "square"))
    ux, uy = part.along(base)
    turn = {"parallel": 0.0, "square": 90.0}.get(kind, 0.0)
    text = ""
    if "angle" in kind:
        text = part.angle(random.uniform(15.0, 80.0))
        turn = float(text)
    slant = turn + (0.0 if kind == "level angle" else degrees(atan2(uy, ux)))
    long = random.uniform(20.0, 60.0) * part.scale
    x, y = part.points[start]
    end = (x + long * cos(radians(slant)), y + long * sin(radians(slant)))
    if not part.far(end):
        return
    line = part.line(start, part.point(end))
    match kind:
        case "angle":
            part.bind("angle", base, line, value=text)
        case "level angle":
            part.bind("angle", line, value=text)
        case _:
            part.bind(kind, base, line)
    part.bind("distance", line, value=part.length(long))


def hole(part: BoundPart) -> None:
    """A circle about a point: by its size, as large as another, or around one."""
    center = by_loci(part)
    known = part.circles()
    radius = part.random.uniform(3.0, 14.0) * part.scale
    name = part.circle(center, radius)
    match part.random.choice(("diameter", "radius", "equal", "around")):
        case "equal" if known:
            part.bind("equal", part.random.choice(known), name)
        case "radius":
            part.bind("radius", name, value=part.length(radius))
        case kind:
            part.bind("diameter", name, value=part.length(2.0 * radius))
            if kind == "around":
                more = part.random.uniform(3.0, 8.0) * part.scale
                part.bind("offset", name, part.circle(center, radius + more),
                          value=part.length(more))


def touching_line(part: BoundPart) -> None:
    """A line from a point that touches a circle, as long as is said."""
    if not part.circles():
        return
    circle, start = part.random.choice(part.circles()), part.random.choice(list(part.points))
    center, radius = part.points[part.curves[circle]["center"]], part.curves[circle]["radius"]
    (x, y), away = part.points[start], dist(part.points[start], center)
    if away < 1.3 * radius:
        return
    turn = atan2(center[1] - y, center[0] - x) + part.random.choice((-1.0, 1.0)) * (
        0.5 * pi - atan2((away * away - radius * radius) ** 0.5, radius))
    long = part.random.uniform(30.0, 80.0) * part.scale
    end = (x + long * cos(turn), y + long * sin(turn))
    if not part.far(end):
        return
    line = part.line(start, part.point(end))
    part.bind("tangent", line, circle)
    part.bind("distance", line, value=part.length(long))


def middle(part: BoundPart) -> None:
    """The middle of a line."""
    line = part.random.choice(part.lines())
    (ax, ay), (bx, by) = part.ends(line)
    at = (0.5 * (ax + bx), 0.5 * (ay + by))
    if all(dist(at, other) > part.scale for other in part.points.values()):
        part.bind("middle", part.point(at), line)


def reflection(part: BoundPart) -> None:
    """A point reflected about a line."""
    line, source = part.random.choice(part.lines()), part.random.choice(list(part.points))
    off, (ux, uy) = part.offset(line, part.points[source]), part.along(line)
    x, y = part.points[source]
    at = (x + 2.0 * off * uy, y - 2.0 * off * ux)
    if abs(off) > 3.0 * part.scale and part.far(at):
        part.bind("reflected", source, part.point(at), line)


def reaching_arc(part: BoundPart) -> None:
    """An arc about a point from another, that ends on a line that it crosses."""
    center, start = part.random.sample(list(part.points), 2)
    line = part.random.choice(part.lines())
    at, radius = part.points[center], dist(part.points[center], part.points[start])
    off, (ux, uy) = part.offset(line, at), part.along(line)
    if abs(off) > 0.9 * radius or radius < 8.0 * part.scale:
        return
    half = (radius * radius - off * off) ** 0.5 * part.random.choice((-1.0, 1.0))
    end = (at[0] + off * uy + half * ux, at[1] - off * ux + half * uy)
    if any(dist(end, other) < 4.0 * part.scale for other in part.points.values()):
        return
    name = part.point(end)
    part.curve({"kind": "arc", "ends": [start, name], "center": center, "turn": "ccw"}, "a")
    part.bind("on", name, line)


def bored_beside(part: BoundPart) -> None:
    """A circle that leaves a web to another one."""
    if not part.circles():
        return
    other = part.random.choice(part.circles())
    center = by_loci(part)
    away = dist(part.points[center], part.points[part.curves[other]["center"]])
    room = away - part.curves[other]["radius"]
    web = part.random.uniform(0.3, 0.6) * room
    if room - web > 3.0 * part.scale:
        part.bind("web", other, part.circle(center, room - web), value=part.length(web))


def reaching_hole(part: BoundPart) -> None:
    """A circle about a point that goes through another, or just touches a line."""
    center = part.random.choice(list(part.points))
    at = part.points[center]
    if part.random.random() < 0.5:
        line = part.random.choice(part.lines())
        radius = abs(part.offset(line, at))
        if radius > 4.0 * part.scale:
            part.bind("tangent", line, part.circle(center, radius))
        return
    point = part.random.choice(list(part.points))
    radius = dist(at, part.points[point])
    if radius > 4.0 * part.scale:
        part.bind("on", point, part.circle(center, radius))


def rim(part: BoundPart) -> None:
    """A circle around another one, or as large as it elsewhere."""
    if not part.circles():
        return
    other = part.random.choice(part.circles())
    curve = part.curves[other]
    if part.random.random() < 0.5:
        part.bind("equal", other, part.circle(by_loci(part), curve["radius"]))
        return
    more = part.random.uniform(3.0, 8.0) * part.scale
    part.bind("offset", other, part.circle(curve["center"], curve["radius"] + more),
              value=part.length(more))


def beside_line(part: BoundPart) -> None:
    """A line parallel to another at a distance, that ends level with its ends or plumb."""
    line = part.random.choice(part.lines())
    (ux, uy), away = part.along(line), part.random.choice((-1.0, 1.0)) * part.scale * (
        part.random.uniform(8.0, 30.0))
    which = 0 if abs(ux) > abs(uy) else 1
    ends = []
    for end in part.ends(line):
        by = away / (ux if which == 0 else -uy)
        ends.append((end[0], end[1] + by) if which == 0 else (end[0] + by, end[1]))
    if not all(map(part.far, ends)):
        return
    names = [part.point(end) for end in ends]
    for name, source in zip(names, part.curves[line]["ends"], strict=True):
        part.bind(("plumb", "level")[which], source, name)
    part.bind("offset", line, part.line(*names), value=part.length(away))


def as_long(part: BoundPart) -> None:
    """A line from a point as long as another one, in a direction that is said."""
    line, start = part.random.choice(part.lines()), part.random.choice(list(part.points))
    long, (x, y) = dist(*part.ends(line)), part.points[start]
    turn = part.random.choice((0.0, 90.0, 180.0, 270.0))
    end = (x + long * cos(radians(turn)), y + long * sin(radians(turn)))
    if not part.far(end):
        return
    made = part.line(start, part.point(end))
    part.bind("plumb" if turn % 180.0 else "level", made)
    part.bind("equal", line, made)


def repeat(part: BoundPart) -> None:
    """A circle in rows and columns, or about a point."""
    circle = part.random.choice(part.circles())
    if part.random.random() < 0.5:
        steps = [part.length(part.random.uniform(8.0, 20.0) * part.scale) for _ in "xy"]
        part.patterns["n1"] = {
            "kind": "grid", "curves": [circle], "step": steps,
            "count": [part.random.randint(1, 4), part.random.randint(2, 3)],
            "angle": part.random.choice(("0", "0", "30", "12.5"))}
        return
    center = part.random.choice([name for name in part.points
                                 if name != part.curves[circle]["center"]])
    part.patterns["n1"] = {
        "kind": "polar", "curves": [circle], "center": center,
        "count": part.random.randint(2, 7), "span": part.random.choice(("360", "90", "-120"))}


def reflect(part: BoundPart) -> None:
    """Everything about a line of its own, and about another one square to it."""
    axis = part.random.choice(part.lines())
    part.curves[axis]["role"] = "axis"
    part.mirror.append({"axis": axis, "curves": "outline"})
    if part.random.random() < 0.5:
        end = part.curves[axis]["ends"][1]
        (x, y), (ux, uy) = part.points[end], part.along(axis)
        long = 30.0 * part.scale
        line = part.line(end, part.point((x - long * uy, y + long * ux)))
        part.curves[line]["role"] = "axis"
        part.bind("square", axis, line)
        part.bind("distance", line, value=part.length(long))
        part.mirror.append({"axis": line, "curves": "outline"})
