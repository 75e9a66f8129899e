"""Center lines of demo parts drawn by the book, stroke by stroke, from their papers' own figures.

Nothing of `drafting/` is used: the plus of a center is a short dash each way with a gap on all four
sides, lines begin and end with a long dash and run past the outline (US Navy Draftsman training,
from memory of its rules); gaps of 0.75 mm are ISO 128's for a line of 0.25 mm, of 1.5 mm ASME's.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from math import cos, pi, radians, sin, tan

from sketcher.exchange.dxf_content import FileEntity
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import carried
from sketcher.marking.comparison import Comparison
from sketcher.marking.hand_in import HandCurve, HandIn, LayerRole
from sketcher.marking.marking_rule import Mistake, Undecided
from sketcher.marking.rules import marking_rules
from tests.ready_keys import key_ready
from tests.unit.marking.by_hand import Outline, below, gate_strap, pump_flange, shelf_bracket

PITCH = radians(27.5)
"""Of the gusset's axis."""
CENTER_RULES = tuple(name for name, rule in marking_rules().items()
                     if rule.group == "center lines")


@dataclass(frozen=True)
class Habit:
    """How somebody draws center lines; in the file's unit."""

    gap: float = 0.75
    over: float = 3.0
    plus: float = 1.5
    long: float = 14.0


ISO, ASME = Habit(), Habit(gap=1.5, over=5.0, long=22.0)
INCH = Habit(gap=1 / 32, over=1 / 8, plus=1 / 16, long=0.8)


def dashes(length: float, centers: Sequence[float], habit: Habit) -> list[tuple[float, float]]:
    """Dashes of a line: a short one on each center, long ones and short ones between them."""
    found = [(s - habit.plus, s + habit.plus) for s in centers]
    marks = sorted(centers)
    edges = [0.0, *(x for s in marks for x in (s - habit.plus - habit.gap,
                                               s + habit.plus + habit.gap)), length]
    for low, high in zip(edges[::2], edges[1::2], strict=True):
        step = 3.0 * habit.plus + 2.0 * habit.gap
        count = int((high - low) // (habit.long + step))
        long = (high - low - count * (2.0 * habit.plus + 2.0 * habit.gap)) / (count + 1)
        at = low
        for k in range(count + 1):
            found.append((at, at + long))
            at += long + habit.gap
            if k < count:
                found.append((at, at + 2.0 * habit.plus))
                at += 2.0 * habit.plus + habit.gap
    return found


def straight(start: XY, end: XY, centers: Iterable[XY], habit: Habit) -> list[Curve]:
    """A straight center line, stroke by stroke."""
    line = Line(start, end)
    (ux, uy), (x, y) = line.direction, start
    on = [(p - x) * ux + (q - y) * uy for p, q in centers]
    return [Line((x + a * ux, y + a * uy), (x + b * ux, y + b * uy))
            for a, b in dashes(line.length, on, habit)]


def cross(at: XY, radius: float, habit: Habit, turn: float = 0.0) -> list[Curve]:
    """The two lines of a hole."""
    return [stroke for way in (turn, turn + 0.5 * pi)
            for stroke in tick(at, radius, habit, way)]


def tick(at: XY, radius: float, habit: Habit, way: float) -> list[Curve]:
    """One line of a hole."""
    far = radius + habit.over
    (x, y), u, v = at, far * cos(way), far * sin(way)
    return straight((x - u, y - v), (x + u, y + v), [at], habit)


def pitch_circle(radius: float, holes: Sequence[float], habit: Habit) -> list[Curve]:
    """A pitch circle about the origin: a short dash on each hole, a long one between two."""
    found: list[Curve] = []
    half, gap = habit.plus / radius, habit.gap / radius
    turns = sorted(holes)
    for k, a in enumerate(turns):
        b = turns[(k + 1) % len(turns)] + (0.0 if k + 1 < len(turns) else 2.0 * pi)
        found += [arc(radius, a - half, a + half), arc(radius, a + half + gap, b - half - gap)]
    return found


def arc(radius: float, start: float, end: float) -> Arc:
    """An arc about the origin, counter-clockwise."""
    return Arc((0.0, 0.0), (radius * cos(start), radius * sin(start)),
               (radius * cos(end), radius * sin(end)))


Lines = dict[str, list[Curve]]


def strap_lines(habit: Habit = ISO, row: bool = True) -> Lines:
    """The gate strap's: the bolt holes in one row, or each by itself."""
    over = habit.over
    left, right = (-46.0, 12.0), (46.0, 12.0)
    found = {
        "axis": straight((0.0, -over), (0.0, 122.0 + over), [(0.0, 100.0)], habit),
        "bore": tick((0.0, 100.0), 10.0, habit, 0.0),
        "plumb": tick(right, 4.5, habit, 0.5 * pi), "l_plumb": tick(left, 4.5, habit, 0.5 * pi),
    }
    if row:
        found["row"] = straight((-60.0 - over, 12.0), (60.0 + over, 12.0), [left, right], habit)
    else:
        found |= {"level": tick(right, 4.5, habit, 0.0), "l_level": tick(left, 4.5, habit, 0.0)}
    return found


def flange_lines(habit: Habit = ISO, row: bool = True) -> Lines:
    """The pump flange's: screws on a pitch circle with radial ticks, or with level crosses."""
    over = habit.over
    turns = [pi / 2.0 + k * pi / 3.0 for k in range(6)]
    screws = [(30.0 * cos(a), 30.0 * sin(a)) for a in turns]
    found = {
        "level": straight((-78.0 - over, 0.0), (78.0 + over, 0.0),
                          [(-62.0, 0.0), (0.0, 0.0), (62.0, 0.0)], habit),
        "plumb": straight((0.0, -44.0 - over), (0.0, 44.0 + over),
                          [screws[0], (0.0, 0.0), screws[3]], habit),
        "bolt": tick((62.0, 0.0), 6.5, habit, 0.5 * pi),
        "l_bolt": tick((-62.0, 0.0), 6.5, habit, 0.5 * pi),
        "pitch": pitch_circle(30.0, turns, habit),
    }
    for k in (1, 2, 4, 5):
        found[f"screw{k}"] = (tick(screws[k], 3.3, habit, turns[k]) if row
                              else cross(screws[k], 3.3, habit))
    return found


def turned(at: XY) -> XY:
    """A place of the gusset from along its axis to where it lies."""
    c, s = cos(PITCH), sin(PITCH)
    return c * at[0] - s * at[1], s * at[0] + c * at[1]


def gusset() -> Outline:
    """The roof gusset, drawn along its axis and turned."""
    c, s = cos(radians(30.0)), sin(radians(30.0))
    edge = 25.0 * s + 40.0 * c  # of the sloping edge from the origin, square to it
    eye, corner = (2.0 * (edge - 14.0), 0.0), (2.0 * (edge - 20.0 - 4.0), 0.0)
    bend = (25.0 - 20.0 * tan(radians(15.0)), 20.0)
    inner = (19.0, (edge - 25.0 - 19.0 * s) / c)

    def off(at: XY, far: float) -> XY:
        return at[0] + far * s, at[1] + far * c

    def under(at: XY) -> XY:
        return at[0], -at[1]

    upper: Outline = {
        "top": Line((0.0, 40.0), (bend[0], 40.0)),
        "bend": Arc(bend, (bend[0], 40.0), off(bend, 20.0), False),
        "slope": Line(off(bend, 20.0), off(eye, 14.0)),
        "hole": Circle((7.0, 30.0), 3.0),
        "inner": Arc(inner, (14.0, inner[1]), off(inner, 5.0), False),
        "inside": Line(off(inner, 5.0), off(corner, 4.0)),
    }
    whole: Outline = {
        **upper, **{f"l_{name}": below(curve) for name, curve in upper.items()},
        "foot": Line((0.0, -40.0), (0.0, 40.0)),
        "jamb": Line((14.0, -inner[1]), (14.0, inner[1])), "eye": Circle(eye, 6.0),
        "end": Arc(eye, off(eye, 14.0), under(off(eye, 14.0)), False),
        "corner": Arc(corner, off(corner, 4.0), under(off(corner, 4.0)), False),
    }
    return {name: carried(curve, turned) for name, curve in whole.items()}


def gusset_lines(habit: Habit = ISO, row: bool = True) -> Lines:
    """The roof gusset's, turned with it; or level and plumb where no line is an axis."""
    eye, over = 2.0 * (25.0 * 0.5 + 40.0 * cos(radians(30.0)) - 14.0), habit.over
    holes = [turned((7.0, 30.0)), turned((7.0, -30.0))]
    found = {
        "axis": straight(turned((-over, 0.0)), turned((eye + 14.0 + over, 0.0)),
                         [turned((eye, 0.0))], habit),
        "eye": tick(turned((eye, 0.0)), 6.0, habit, PITCH + 0.5 * pi),
    }
    if row:
        found["row"] = straight(turned((7.0, -40.0 - over)), turned((7.0, 40.0 + over)), holes,
                                habit)
        found |= {f"hole{k}": tick(at, 3.0, habit, PITCH) for k, at in enumerate(holes)}
    else:
        found |= {f"hole{k}": cross(at, 3.0, habit) for k, at in enumerate(holes)}
    return found


PAPERS = {"gate-strap": (gate_strap, strap_lines), "pump-flange": (pump_flange, flange_lines),
          "roof-gusset": (gusset, gusset_lines)}
"""Parts drawn by hand, outline and center lines in either way."""
OUTLINES = {name: outline for name, (outline, _) in PAPERS.items()} | {
    "shelf-bracket": shelf_bracket}


def arm_pieces() -> list[Curve]:
    """The shift arm as the program has it: only its center lines are judged."""
    return [piece.curve for piece in key_ready("shift-arm").explainer.key.pieces]


def arm_lines(past: float = 7.0) -> Lines:
    """The shift arm's: a straight slot with R5 at 75 degrees, a curved one of R52 with R4.

    `past` is how far the middle of the curved slot runs past the centers of its ends, along it.
    """
    ends = [(-10.0, -75.0), (-10.0 + 31.0 * cos(radians(75.0)), -75.0 + 31.0 * sin(radians(75.0)))]
    turns = [radians(6.0), radians(26.0)]
    return {
        "eye": cross((0.0, 0.0), 12.0, ISO), "hole": cross((110.0, 30.0), 6.0, ISO),
        **{f"end{k}": cross(at, 5.0, ISO, radians(75.0)) for k, at in enumerate(ends)},
        **{f"cap{k}": tick((52.0 * cos(a), 52.0 * sin(a)), 4.0, ISO, a)
           for k, a in enumerate(turns)},
        "middle": [arc(52.0, turns[0] - past / 52.0, turns[1] + past / 52.0)],
    }


def inch_cross(at: XY, radius: float) -> list[Curve]:
    """The two lines of a hole in inches."""
    return cross(at, radius, INCH)


def handed_in(
    name: str, outline: Mapping[str, Curve] | Iterable[Curve],
    lines: Mapping[str, Sequence[Curve]] | None = None, role: LayerRole = "center",
    entry: FileEntity | None = None,
) -> Comparison:
    """Lay an outline and its center lines on a demo part; `entry` is how a center line is drawn."""
    drawn = drawn_in(name, outline, lines, role, entry)
    return key_ready(name).compare(drawn)


def drawn_in(
    name: str, outline: Mapping[str, Curve] | Iterable[Curve],
    lines: Mapping[str, Sequence[Curve]] | None = None, role: LayerRole = "center",
    entry: FileEntity | None = None,
) -> HandIn:
    """A hand-in of an outline and its center lines."""
    plain = list(outline.values() if isinstance(outline, Mapping) else outline)
    strokes = [curve for each in (lines or {}).values() for curve in each]
    entities = {n: FileEntity(n, "LINE", "PLATE", width=0.5) for n in range(1, len(plain) + 1)}
    if entry is None:
        entry = FileEntity(0, "LINE", "AXES", width=0.25)
    for n in range(len(plain) + 1, len(plain) + len(strokes) + 1):
        entities[n] = replace(entry, number=n)
    curves = (*(HandCurve(curve, n) for n, curve in enumerate(plain, 1)),
              *(HandCurve(curve, n, role) for n, curve in enumerate(strokes, len(plain) + 1)))
    return HandIn("drawn.dxf", curves, key_ready(name).part.unit, entities=entities)


def told(comparison: Comparison) -> dict[str, tuple[Mistake, ...]]:
    """The mistakes of all rules of center lines that find some."""
    found = {}
    for name in CENTER_RULES:
        mistakes = marking_rules()[name].decide(comparison)
        if not isinstance(mistakes, Undecided) and mistakes:
            found[name] = mistakes
    return found


def counts(found: Mapping[str, Sequence[Mistake]]) -> dict[str, int]:
    """How many mistakes of each rule."""
    return {name: len(mistakes) for name, mistakes in found.items()}


@cache
def bare(name: str) -> Comparison:
    """The right outline of a demo part laid on it, without center lines."""
    return handed_in(name, OUTLINES[name]())


def beside(name: str, lines: Lines, entry: FileEntity | None = None) -> Comparison:
    """The right outline of a demo part with these center lines: laid once for all of them."""
    return replace(bare(name), hand_in=drawn_in(name, OUTLINES[name](), lines, entry=entry))


def judged(
    name: str, lines: Lines, entry: FileEntity | None = None
) -> dict[str, tuple[Mistake, ...]]:
    """The mistakes of center lines beside the right outline of a demo part."""
    return told(beside(name, lines, entry))


def bracket_lines() -> Lines:
    """The shelf bracket's in inches: the grid in rows and columns, the peg by itself."""
    found = {"peg": inch_cross((1.0, 3.75), 3 / 16)}
    past, xs, ys = 9 / 64 + 1 / 8, (2.75, 4.25), (0.5625, 1.6875)
    for k in range(2):
        found[f"row{k}"] = straight((xs[0] - past, ys[k]), (xs[1] + past, ys[k]),
                                    [(x, ys[k]) for x in xs], INCH)
        found[f"column{k}"] = straight((xs[k], ys[0] - past), (xs[k], ys[1] + past),
                                       [(xs[k], y) for y in ys], INCH)
    return found
