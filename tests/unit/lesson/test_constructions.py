"""Each classical construction on random inputs, made by a straightedge and a compass that know
nothing of the program: what comes out is judged by its definition (Euclid's, from memory).

Places are random, or on a grid, where things that have nothing to do with each other often meet, or
one lies very near another, where arcs may cross so flatly that no hand sees where.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from math import cos, dist, radians, sin
from random import Random

import pytest
from mpmath import mp, mpf

from sketcher.lesson.constructions.angle_at import angle_at
from sketcher.lesson.constructions.bisect import halved, midpoint, square_bisector
from sketcher.lesson.constructions.circumcenter import circumcenter, incenter
from sketcher.lesson.constructions.common_tangent import common_tangent
from sketcher.lesson.constructions.image_about import beyond, image
from sketcher.lesson.constructions.parallel_through import parallel_at, parallel_through
from sketcher.lesson.constructions.set_off import set_off
from sketcher.lesson.constructions.square_at import square_through
from sketcher.lesson.constructions.tangent_from import tangent_from
from sketcher.lesson.order_step import OrderStep
from sketcher.lesson.slate import Slate
from sketcher.lesson.stroke_form import step_form
from sketcher.lesson.strokes import Compass
from tests.constructed import pictures_off
from tests.straightedge import DrawingPaper, DrawnLine, DrawnRing, apart
from tests.told_steps import untold_strokes

TRIES = 24
FLAT = 0.1
"""Sine of the least angle at which things may cross; a hand sees 6 degrees (common practice, no
source)."""
NEAR = mpf(10) ** -12  # of the size; what is given has the 16 digits of a float
IDS = {"points": {f"p{k}": [0, 0] for k in range(9)},
       "curves": {name: {} for name in ("e1", "e2", "e3", "e4", "a1", "a2")}}
PART = {"unit": "mm", "parameters": {}, **IDS}


class Bench:
    """A slate with given points, and the paper on which its moves are made afterwards."""

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)
        self.grid, self.near = seed % 3 == 1, seed % 3 == 2
        self.slate = Slate(100.0)
        self.slate.begin(1)
        self.given = 0

    def place(self) -> tuple[float, float]:
        """A place apart from those that are there."""
        known = list(self.slate.points.values())
        while True:
            at = tuple(4.0 * self.random.randint(-10, 10) if self.grid
                       else self.random.uniform(-40.0, 40.0) for _ in "xy")
            if self.near and known and self.random.random() < 0.5:
                away = 10.0 ** self.random.uniform(-2.0, 1.0)
                turn = self.random.uniform(0.0, 6.3)
                x, y = self.random.choice(known)
                at = (x + away * cos(turn), y + away * sin(turn))
            if all(dist(at, other) > (0.005 if self.near else 3.0) for other in known):
                return at[0], at[1]

    def point(self, at: tuple[float, float] | None = None) -> str:
        self.given += 1
        return self.slate.mark(f"p{self.given}", at or self.place())

    def line(self, name: str) -> str:
        """A line through two new points."""
        return self.slate.rule(self.point(), self.point(), name)

    def ring(self, name: str, radius: float, center: str = "") -> str:
        return self.slate.swing(center or self.point(), typed(radius), name=name)

    def on(self, line: str) -> str:
        """One of the points that the line was drawn through."""
        return self.random.choice(self.slate.on[line])

    def made(self, stretch: str) -> DrawingPaper:
        """The paper when all moves are made."""
        assert self.slate.idle, "strokes without a sentence"
        steps = [step_form(OrderStep(1, "", moves=tuple(self.slate.moves)), True)]
        steps = json.loads(json.dumps(steps))
        paper = DrawingPaper(PART, mpf(100), stretch=mpf(stretch))
        paper.make(steps)
        steps[0]["moves"] = steps[0]["moves"][1:]  # what is given is not told
        assert list(untold_strokes({"steps": steps})) == []
        assert paper.flattest > FLAT
        if stretch == "1":
            assert list(pictures_off({"steps": steps}, paper, 1e-7)) == []
        return paper


def typed(amount: float) -> Compass:
    return Compass(amount, repr(amount))


Judge = Callable[[DrawingPaper], None]


def line_of(paper: DrawingPaper, name: str) -> DrawnLine:
    line = paper.things[name]
    assert isinstance(line, DrawnLine)
    return line


def ring_of(paper: DrawingPaper, name: str) -> DrawnRing:
    ring = paper.things[name]
    assert isinstance(ring, DrawnRing)
    return ring


def passes(paper: DrawingPaper, line: str, point: str) -> None:
    assert abs(line_of(paper, line).offset(paper.points[point])) < 100 * NEAR


def sine(paper: DrawingPaper, one: str, other: str) -> mpf:
    (ux, uy), (vx, vy) = line_of(paper, one).along, line_of(paper, other).along
    return ux * vy - uy * vx


def near(found: mpf, wanted: mpf) -> None:
    assert abs(found - wanted) < 100 * NEAR, (found, wanted)


# Each gives its own judge.


def square_up(bench: Bench) -> Judge:
    line = bench.line("e1")
    point = bench.on(line) if bench.random.random() < 0.5 else bench.point()
    bench.slate.say("Given.")
    made = square_through(bench.slate, line, point, bench.random.choice(("", "e2")))

    def judge(paper: DrawingPaper) -> None:
        passes(paper, made, point)
        near(abs(sine(paper, line, made)), mpf(1))

    return judge


def draw_parallel(bench: Bench) -> Judge:
    line = bench.line("e1")
    point = bench.on(line) if bench.random.random() < 0.1 else bench.point()
    bench.slate.say("Given.")
    made = parallel_through(bench.slate, line, point, bench.random.choice(("", "e2")))

    def judge(paper: DrawingPaper) -> None:
        passes(paper, made, point)
        near(sine(paper, line, made), mpf(0))

    return judge


def draw_parallel_at(bench: Bench) -> Judge:
    line = bench.line("e1")
    away = bench.random.choice((16.0, 4.0, 1.0, 40.0))
    towards = bench.place()
    while abs(bench.slate.lines[line].offset(towards)) < 1.0:
        towards = bench.place()
    start = bench.random.choice(("", bench.on(line)))
    if bench.random.random() < 0.3:
        square_through(bench.slate, line, bench.on(line))
    bench.slate.say("Given.")
    made = parallel_at(bench.slate, line, typed(away), towards,
                       bench.random.choice(("", "e2")), start)

    def judge(paper: DrawingPaper) -> None:
        near(sine(paper, line, made), mpf(0))
        base = line_of(paper, line)
        here = base.offset(line_of(paper, made).at)
        near(abs(here), mpf(away))
        assert here * base.offset((mpf(towards[0]), mpf(towards[1]))) > 0

    return judge


def set_length_off(bench: Bench) -> Judge:
    line = bench.line("e1")
    start = bench.on(line)
    length, ahead = bench.random.choice((16.0, 7.0, 40.0)), bench.random.choice((-1.0, 1.0))
    known = bench.slate.lines[line]
    towards = known.beyond(bench.slate.points[start], ahead)
    bench.slate.say("Given.")
    made = set_off(bench.slate, line, start, typed(length), towards,
                   bench.random.choice(("", "p8")))

    def judge(paper: DrawingPaper) -> None:
        passes(paper, line, made)
        near(apart(paper.points[made], paper.points[start]), mpf(length))
        assert apart(paper.points[made], (mpf(towards[0]), mpf(towards[1]))) < length

    return judge


def halve(bench: Bench) -> Judge:
    one, other = bench.point(), bench.point()
    bench.slate.say("Given.")
    over = square_bisector(bench.slate, one, other, bench.random.choice(("", "e1")))
    middle = midpoint(bench.slate, one, other, bench.random.choice(("", "p8")))

    def judge(paper: DrawingPaper) -> None:
        (ax, ay), (bx, by) = paper.points[one], paper.points[other]
        assert apart(paper.points[middle], ((ax + bx) / 2, (ay + by) / 2)) < 100 * NEAR
        passes(paper, over, middle)
        x, y = line_of(paper, over).along
        near((x * (bx - ax) + y * (by - ay)) / mp.hypot(bx - ax, by - ay), mpf(0))

    return judge


def halve_angle(bench: Bench) -> Judge:
    corner = bench.point((0.0, 0.0))
    start, turn = (bench.random.choice((15.0 * bench.random.randint(1, 23),
                                        bench.random.uniform(8.0, 345.0))) for _ in "ab")
    turn = 8.0 + turn % 164.0
    ways = tuple((30.0 * cos(radians(a)), 30.0 * sin(radians(a))) for a in (start, start + turn))
    ends = [bench.point(way) for way in ways]
    lines = tuple(bench.slate.rule(corner, end, name)
                  for end, name in zip(ends, ("e1", "e2"), strict=True))
    bench.slate.say("Given.")
    made = halved(bench.slate, (lines[0], lines[1]), corner, (ways[0], ways[1]),
                  bench.random.choice(("", "e3")))

    def judge(paper: DrawingPaper) -> None:
        passes(paper, made, corner)
        x, y = line_of(paper, made).along
        middle = mp.radians(mpf(start) + mpf(turn) / 2)
        near(abs(x * mp.sin(middle) - y * mp.cos(middle)), mpf(0))

    return judge


def lay_angle(bench: Bench) -> Judge:
    degrees = bench.random.choice([15.0 * k for k in range(12)] + [20.0, 152.5, 7.25])
    line = bench.line("e1") if bench.random.random() < 0.5 else level(bench, "e1")
    point = bench.on(line) if bench.random.random() < 0.6 else bench.point()
    bench.slate.say("Given.")
    made = angle_at(bench.slate, line, point, degrees, f"{degrees:g}°",
                    bench.random.choice(("", "e2")))

    def judge(paper: DrawingPaper) -> None:
        passes(paper, made, point)
        (ux, uy), (vx, vy) = line_of(paper, line).along, line_of(paper, made).along
        turn = mp.degrees(mp.atan2(ux * vy - uy * vx, ux * vx + uy * vy)) % 180
        near(min(abs(turn - mpf(degrees) + k) for k in (-180, 0, 180)), mpf(0))
        assert paper.measured == (degrees % 15.0 != 0.0)

    return judge


def level(bench: Bench, name: str) -> str:
    """The level line along the edge of the board."""
    return bench.slate.base(name, bench.point())


def around_three(bench: Bench) -> Judge:
    while True:
        places = [bench.place() for _ in range(3)]
        (ax, ay), (bx, by), (cx, cy) = places
        twice = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
        long = max(dist(p, q) for p in places for q in places)
        if abs(twice) > 0.2 * long * long and min(dist(p, q) for p in places for q in places
                                                  if p is not q) > 3.0:
            break
    one, two, three = map(bench.point, places)
    b2, c2 = (bx - ax) ** 2 + (by - ay) ** 2, (cx - ax) ** 2 + (cy - ay) ** 2
    at = (ax + ((cy - ay) * b2 - (by - ay) * c2) / (2.0 * twice),
          ay + ((bx - ax) * c2 - (cx - ax) * b2) / (2.0 * twice))
    bench.slate.say("Given.")
    made = circumcenter(bench.slate, (one, two, three), at, bench.random.choice(("", "p8")))

    def judge(paper: DrawingPaper) -> None:
        away = [apart(paper.points[made], paper.points[p]) for p in (one, two, three)]
        near(max(away) - min(away), mpf(0))

    return judge


def inside_three(bench: Bench) -> Judge:
    start = bench.random.choice((0.0, 90.0, bench.random.uniform(0.0, 360.0)))
    places = [(30.0 * cos(radians(a)), 30.0 * sin(radians(a)))
              for a in (start, start + bench.random.uniform(70.0, 120.0),
                        start + bench.random.uniform(170.0, 240.0))]
    corners = [bench.point(at) for at in places]
    lines = [bench.slate.rule(corners[k], corners[k - 1], f"e{k + 1}") for k in range(3)]
    sides = [dist(places[k - 1], places[k - 2]) for k in range(3)]
    at = tuple(sum(side * place[axis] for side, place in zip(sides, places, strict=True))
               / sum(sides) for axis in (0, 1))
    bench.slate.say("Given.")
    made = incenter(bench.slate, (lines[0], lines[1], lines[2]), (at[0], at[1]),
                    bench.random.choice(("", "p8")))

    def judge(paper: DrawingPaper) -> None:
        away = [abs(line_of(paper, line).offset(paper.points[made])) for line in lines]
        near(max(away) - min(away), mpf(0))
        assert apart(paper.points[made], (mpf(at[0]), mpf(at[1]))) < mpf("1e-9")

    return judge


def touches(paper: DrawingPaper, line: str, ring: str, at: str) -> None:
    """A line meets a circle at a point and nowhere else."""
    round_ = ring_of(paper, ring)
    near(abs(line_of(paper, line).offset(round_.at)), round_.radius)
    near(apart(paper.points[at], round_.at), round_.radius)
    passes(paper, line, at)


def tangent_from_point(bench: Bench) -> Judge:
    ring = bench.ring("a1", bench.random.choice((5.0, 16.0, 30.0)))
    radius, center = bench.slate.rings[ring].radius, bench.slate.rings[ring].at
    at = bench.place()
    while dist(at, center) < 1.05 * radius:
        at = bench.place()
    point, sense = bench.point(at), bench.random.choice((-1.0, 1.0))
    (cx, cy), away = center, dist(at, center)
    ux, uy = (at[0] - cx) / away, (at[1] - cy) / away
    c = radius / away
    s = sense * (1.0 - c * c) ** 0.5
    towards = (cx + radius * (c * ux - s * uy), cy + radius * (c * uy + s * ux))
    bench.slate.say("Given.")
    made, foot = tangent_from(bench.slate, ring, point, towards, bench.random.choice(("", "e1")),
                              bench.random.choice(("", "p8")))

    def judge(paper: DrawingPaper) -> None:
        passes(paper, made, point)
        touches(paper, made, ring, foot)
        assert apart(paper.points[foot], (mpf(towards[0]), mpf(towards[1]))) < mpf("1e-9")

    return judge


def tangent_of_two(bench: Bench) -> Judge:
    first = bench.random.choice((5.0, 12.0))
    second = bench.random.choice((first, 8.0, 16.0, 3.0))
    inner = bench.random.random() < 0.5
    one, at = bench.point(), bench.place()
    while dist(at, bench.slate.points[one]) < 1.1 * (first + second):
        at = bench.place()
    other = bench.point(at)
    rings = bench.ring("a1", first, one), bench.ring("a2", second, other)
    (ax, ay), (bx, by) = bench.slate.points[one], bench.slate.points[other]
    away, sense = dist((ax, ay), (bx, by)), bench.random.choice((-1.0, 1.0))
    # square to the tangent: the distance of both centers from it is their radius
    cosine = (first + second if inner else first - second) / away
    ux, uy = (bx - ax) / away, (by - ay) / away
    s = sense * (1.0 - cosine * cosine) ** 0.5
    nx, ny = cosine * ux - s * uy, cosine * uy + s * ux
    back = -1.0 if inner else 1.0
    feet = ((ax + first * nx, ay + first * ny),
            (bx + back * second * nx, by + back * second * ny))
    bench.slate.say("Given.")
    names = bench.random.choice((("", ""), ("p7", "p8")))
    made, *found = common_tangent(bench.slate, rings, feet, (repr(first), repr(second)),
                                  bench.random.choice(("", "e1")), names)

    def judge(paper: DrawingPaper) -> None:
        for ring, foot, wanted in zip(rings, found, feet, strict=True):
            touches(paper, made, ring, foot)
            assert apart(paper.points[foot], (mpf(wanted[0]), mpf(wanted[1]))) < mpf("1e-9")

    return judge


def reflect(bench: Bench) -> Judge:
    axis = bench.line("e1")
    point = bench.point()
    bench.slate.say("Given.")
    made = image(bench.slate, point, axis, bench.random.choice(("", "p8")))

    def judge(paper: DrawingPaper) -> None:
        line, (ax, ay), (bx, by) = line_of(paper, axis), paper.points[point], paper.points[made]
        near(line.offset((ax, ay)) + line.offset((bx, by)), mpf(0))
        near(line.along[0] * (bx - ax) + line.along[1] * (by - ay), mpf(0))

    return judge


def go_beyond(bench: Bench) -> Judge:
    middle, start = bench.point(), bench.point()
    bench.slate.say("Given.")
    made = beyond(bench.slate, middle, start, bench.random.choice(("", "p8")))

    def judge(paper: DrawingPaper) -> None:
        (mx, my), (sx, sy) = paper.points[middle], paper.points[start]
        assert apart(paper.points[made], (2 * mx - sx, 2 * my - sy)) < 100 * NEAR

    return judge


@pytest.mark.parametrize("make", [
    square_up, draw_parallel, draw_parallel_at, set_length_off, halve, halve_angle, lay_angle,
    around_three, inside_three, tangent_from_point, tangent_of_two, reflect, go_beyond],
    ids=lambda make: make.__name__)
def test_a_construction_makes_what_it_says(make: Callable[[Bench], Judge]) -> None:
    for seed in range(TRIES):
        bench = Bench(seed)
        judge = make(bench)
        for stretch in ("1", "1.0618"):
            judge(bench.made(stretch))
