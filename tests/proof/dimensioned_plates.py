"""Random plates dimensioned as a drafter would, for proofs of the sheet; all invented.

A rectangle, an L, a plate with a sloping edge or half of a symmetric one; corners sharp, rounded
or bevelled; holes, slots in any direction, holes on a circle and in rows. Every value is a round
figure of its unit, so that the sheet need not round it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import cos, dist, radians, sin, tan
from random import Random

from sketcher.part.edits.chamfer import chamfer
from sketcher.part.edits.fillet import fillet
from sketcher.part.value import (
    ArcCurve,
    Binding,
    CircleCurve,
    Drawing,
    GridPattern,
    LineCurve,
    Material,
    Mirror,
    Part,
    PartCurve,
    Pattern,
    PolarPattern,
    frozen,
)

XY = tuple[float, float]
GRAIN = {"mm": 0.5, "in": 0.0625}
INCH = 16.0
"""Sizes below are in mm; an inch plate is a sixteenth of them in figures."""


@dataclass
class Drafted:
    """A plate in the making; lengths are given in mm and rounded to the unit's grain."""

    random: Random
    unit: str
    points: dict[str, XY] = field(default_factory=dict)
    curves: dict[str, PartCurve] = field(default_factory=dict)
    bindings: dict[str, Binding] = field(default_factory=dict)
    patterns: dict[str, Pattern] = field(default_factory=dict)
    taken: list[tuple[XY, float]] = field(default_factory=list)

    def size(self, low: float, high: float) -> float:
        """A round figure between two sizes in mm."""
        scale = 1.0 if self.unit == "mm" else 1.0 / INCH
        grain = GRAIN[self.unit]
        return max(1, round(self.random.uniform(low, high) * scale / grain)) * grain

    def bind(self, kind: str, *of: str, value: float | None = None) -> None:
        text = None if value is None else f"{value:g}"
        self.bindings[f"b{len(self.bindings) + 1}"] = Binding(kind, of, text)

    def point(self, name: str, at: XY) -> str:
        self.points[name] = at
        return name

    def located(self, name: str, at: XY, base: str = "p1") -> str:
        """A point by run and rise from the first corner."""
        x, y = self.points[base]
        self.point(name, at)
        for kind, away in (("run", at[0] - x), ("rise", at[1] - y)):
            if away:
                self.bind(kind, base, name, value=abs(away))
            else:
                self.bind("plumb" if kind == "run" else "level", base, name)
        return name

    def free(self, reach: float, box: tuple[float, float, float, float]) -> XY | None:
        """A place on the grain with room around it."""
        grain = GRAIN[self.unit]
        for _ in range(40):
            x, y = (grain * round(self.random.uniform(low, high) / grain)
                    for low, high in ((box[0], box[2]), (box[1], box[3])))
            inside = (box[0] + 1.5 * reach < x < box[2] - 1.5 * reach
                      and box[1] + 1.5 * reach < y < box[3] - 1.5 * reach)
            if inside and all(dist((x, y), at) > 1.3 * (reach + r) for at, r in self.taken):
                self.taken.append(((x, y), reach))
                return (x, y)
        return None


def dimensioned_plate(random: Random) -> Part:
    """A plate whose sheet says everything, by ISO or ASME."""
    plate = Drafted(random, random.choice(("mm", "mm", "in")))
    shape = random.choice((rectangle, rectangle, angled, ell, symmetric))
    box = shape(plate)
    for k in range(random.randint(0, 4)):
        hole(plate, k, box)
    for feature in (slot, ring, rows):
        if random.random() < 0.35:
            feature(plate, box)
    mirrors = (Mirror("ax"),) if "ax" in plate.curves else ()
    part = Part(
        name="Plate", unit=plate.unit, points=frozen(plate.points),  # type: ignore[arg-type]
        curves=frozen(plate.curves), bindings=frozen(plate.bindings),
        patterns=frozen(plate.patterns), mirrors=mirrors,
        material=Material("mild steel", 3.0, 7850.0),
        drawing=Drawing(practice=random.choice(("ISO", "ASME"))))
    return corners(plate, part)


def outline(plate: Drafted, *places: XY) -> None:
    """A closed polygon; level and plumb edges are bound so."""
    for k, at in enumerate(places, 1):
        plate.point(f"p{k}", at)
    for k, at in enumerate(places, 1):
        after = k % len(places) + 1
        plate.curves[f"e{k}"] = LineCurve((f"p{k}", f"p{after}"))
        x, y = plate.points[f"p{after}"]
        if y == at[1]:
            plate.bind("level", f"e{k}")
        elif x == at[0]:
            plate.bind("plumb", f"e{k}")
    plate.bind("fixed", "p1")


def rectangle(plate: Drafted) -> tuple[float, float, float, float]:
    w, h = plate.size(50, 200), plate.size(40, 120)
    outline(plate, (0.0, 0.0), (w, 0.0), (w, h), (0.0, h))
    plate.bind("run", "p1", "p2", value=w)
    plate.bind("rise", "p1", "p4", value=h)
    return (0.0, 0.0, w, h)


def angled(plate: Drafted) -> tuple[float, float, float, float]:
    """The right edge leans by a dimensioned angle."""
    w, h = plate.size(80, 200), plate.size(30, 80)
    lean = plate.random.choice((60.0, 70.0, 75.0, 80.0, 55.5))
    outline(plate, (0.0, 0.0), (w, 0.0), (w - h / tan(radians(lean)), h), (0.0, h))
    plate.bind("run", "p1", "p2", value=w)
    plate.bind("rise", "p1", "p4", value=h)
    plate.bind("angle", "e1", "e2", value=lean)
    return (0.0, 0.0, w - h / tan(radians(lean)), h)


def ell(plate: Drafted) -> tuple[float, float, float, float]:
    w, h = plate.size(90, 200), plate.size(80, 120)
    a, b = plate.size(40, 70), plate.size(35, 60)
    outline(plate, (0.0, 0.0), (w, 0.0), (w, b), (a, b), (a, h), (0.0, h))
    plate.bind("run", "p1", "p2", value=w)
    plate.bind("rise", "p1", "p6", value=h)
    plate.bind("run", "p1", "p4", value=a)
    plate.bind("rise", "p1", "p4", value=b)
    return (0.0, 0.0, w, b)


def symmetric(plate: Drafted) -> tuple[float, float, float, float]:
    """The right half of a plate; its ends lie on the axis."""
    w, h, up, top = (plate.size(*sizes) for sizes in ((60, 90), (50, 120), (20, 45), (35, 55)))
    places = ((0.0, 0.0), (w, 0.0), (w, up), (top, h), (0.0, h))
    for k, at in enumerate(places, 1):
        plate.point(f"p{k}", at)
    for k in range(1, 5):
        plate.curves[f"e{k}"] = LineCurve((f"p{k}", f"p{k + 1}"))
    plate.curves["ax"] = LineCurve(("p1", "p5"), "axis")
    plate.bind("fixed", "p1")
    plate.bind("plumb", "ax")
    plate.bind("level", "e1")
    plate.bind("plumb", "e2")
    plate.bind("level", "e4")
    plate.bind("run", "p1", "p2", value=w)
    plate.bind("rise", "p2", "p3", value=up)
    plate.bind("rise", "p1", "p5", value=h)
    plate.bind("run", "p5", "p4", value=top)
    plate.taken.append(((0.0, 0.5 * h), 0.0))
    return (0.08 * w, 0.0, top, h)


def hole(plate: Drafted, number: int, box: tuple[float, float, float, float]) -> None:
    r = plate.size(2, 8)
    at = plate.free(r, box)
    if at is not None:
        plate.located(f"k{number}", at)
        plate.curves[f"h{number}"] = CircleCurve(f"k{number}", r)
        plate.bind("diameter", f"h{number}", value=2.0 * r)


def slot(plate: Drafted, box: tuple[float, float, float, float]) -> None:
    """A slot, level, plumb or at an angle to level."""
    r, length = plate.size(2.5, 5), plate.size(10, 25)
    turn = plate.random.choice((0.0, 90.0, 30.0, 45.0, 60.0, 20.5))
    middle = plate.free(0.5 * length + r, box)
    if middle is None:
        return
    c, s = cos(radians(turn)), sin(radians(turn))
    grain = GRAIN[plate.unit]
    x, y = (grain * round((m - 0.5 * length * u) / grain) for m, u in zip(middle, (c, s),
                                                                         strict=True))
    plate.located("s1", (x, y))
    far = plate.point("s2", (x + length * c, y + length * s))
    for name, (px, py), side in (("t1", (x, y), 1.0), ("t2", (x, y), -1.0),
                                 ("t3", plate.points[far], 1.0), ("t4", plate.points[far], -1.0)):
        plate.point(name, (px - side * r * s, py + side * r * c))
    plate.curves |= {"sa": ArcCurve(("t1", "t2"), "s1"), "sb": ArcCurve(("t4", "t3"), "s2"),
                     "sc": LineCurve(("t2", "t4")), "sd": LineCurve(("t3", "t1")),
                     "sm": LineCurve(("s1", "s2"), "layout")}
    for line in ("sc", "sd"):
        for arc in ("sa", "sb"):
            plate.bind("tangent", line, arc)
    plate.bind("equal", "sa", "sb")
    plate.bind("radius", "sa", value=r)
    plate.bind("distance", "sm", value=length)
    if turn in (0.0, 90.0):
        plate.bind("plumb" if turn else "level", "sm")
    else:
        plate.bind("angle", "sm", value=turn)


def ring(plate: Drafted, box: tuple[float, float, float, float]) -> None:
    """A hole with others spaced equally on a circle around it."""
    reach, r = plate.size(10, 20), plate.size(1.5, 2.5)
    hub = plate.free(reach + 2.0 * r, box)
    if hub is None:
        return
    plate.located("hub", hub)
    plate.curves["hc"] = CircleCurve("hub", GRAIN[plate.unit] * round(
        0.4 * reach / GRAIN[plate.unit]))
    plate.bind("diameter", "hc", value=2.0 * plate.curves["hc"].radius)
    plate.point("rim", (hub[0], hub[1] + reach))
    plate.bind("plumb", "hub", "rim")
    plate.bind("distance", "hub", "rim", value=reach)
    plate.curves["hr"] = CircleCurve("rim", r)
    plate.bind("diameter", "hr", value=2.0 * r)
    plate.patterns["n1"] = PolarPattern(("hr",), "hub", plate.random.randint(3, 8))


def rows(plate: Drafted, box: tuple[float, float, float, float]) -> None:
    """Equal holes in rows and columns."""
    r, dx, dy = plate.size(1.5, 2.5), plate.size(8, 14), plate.size(8, 14)
    across, up = plate.random.randint(2, 4), plate.random.randint(1, 3)
    reach = 0.5 * max(dx * across, dy * up) + r
    middle = plate.free(reach, box)
    if middle is None:
        return
    grain = GRAIN[plate.unit]
    at = (grain * round((middle[0] - 0.5 * dx * (across - 1)) / grain),
          grain * round((middle[1] - 0.5 * dy * (up - 1)) / grain))
    plate.located("g1", at)
    plate.curves["gh"] = CircleCurve("g1", r)
    plate.bind("diameter", "gh", value=2.0 * r)
    plate.patterns["n2"] = GridPattern(("gh",), (f"{dx:g}", f"{dy:g}"), (across, up))


def corners(plate: Drafted, part: Part) -> Part:
    """Round or bevel some of the outline's corners."""
    lines = [name for name in plate.curves if name[0] == "e" and name[1:].isdigit()]
    closed = "ax" not in plate.curves
    for one, other in zip(lines, [*lines[1:], lines[0]], strict=True):
        if not closed and other == lines[0]:
            break
        how = plate.random.random()
        size = plate.size(3, 7)
        if how < 0.35:
            part = fillet(part, one, other, f"{size:g}").part
        elif how < 0.5:
            part = chamfer(part, one, other, f"{size:g}").part
    return part
