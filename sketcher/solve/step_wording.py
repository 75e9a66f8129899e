"""How a condition reads at the drawing board: the locus of a point, the course of a line, a radius.

A condition that no table here knows is named by its kind and binding, so that a new kind works at
once and reads better once it has a phrase.
"""

from __future__ import annotations

from collections.abc import Callable, Set
from math import hypot

from sketcher.geometry.curves import XY
from sketcher.part.kinds import KINDS, wanted
from sketcher.part.operand_forms import center_of, radius_of
from sketcher.part.value import LineCurve, Part
from sketcher.quantity.format import angle as angle_text
from sketcher.quantity.format import length as length_text
from sketcher.solve.relations import Relation

PLACES = 3  # decimals of a computed place: more than a scriber resolves
SLANT = 0.38  # sine of 22.5 degrees: below it a direction is called by one word


def bearing(dx: float, dy: float, what: str) -> str:
    """Return ``above e1``, ``to the left of e1`` or both for a direction, seen from `what`."""
    size = hypot(dx, dy)
    words = []
    if abs(dy) > SLANT * size:
        words.append("above" if dy > 0 else "below")
    if abs(dx) > SLANT * size:
        words.append(f"to the {'right' if dx > 0 else 'left'} of")
    return f"{' and '.join(words) or 'on'} {what}"


class Wording:
    """Phrases about one solved part.

    Parameters
    ----------
    part : Part
    drawn : set of str
        Curves that the reader has drawn already; kept up to date by the owner of the set.
    """

    def __init__(self, part: Part, drawn: Set[str]) -> None:
        self.part, self.drawn = part, drawn

    # Values.

    def number(self, amount: float) -> str:
        """Length as the unit's practice prints it."""
        return length_text(abs(amount), self.part.unit, PLACES, zeros=False)

    def place(self, point: str) -> str:
        """Coordinates of a point."""
        unit = self.part.unit
        x, y = (length_text(v, unit, PLACES, zeros=False) for v in self.part.points[point])
        return f"({x}, {y})"

    def value(self, owner: str) -> str:
        """Value of a dimension, with its expression where that says more."""
        binding = self.part.bindings[owner]
        amount = wanted(self.part, binding) or 0.0
        if KINDS[binding.kind].quantity == "angle":
            text = angle_text(amount)
        else:
            text = self.number(amount)
        typed = (binding.value or "").strip()
        plain = all(c in "0123456789.-/ °'\"" for c in typed)
        return text if plain else f"{text} ({typed})"

    # Where things lie.

    def line(self, name: str) -> tuple[XY, XY]:
        """Ends of a line."""
        curve = self.part.curves[name]
        assert isinstance(curve, LineCurve)
        return self.part.points[curve.ends[0]], self.part.points[curve.ends[1]]

    def beside(self, line: str, at: XY) -> str:
        """On which side of a line a place lies."""
        (ax, ay), (bx, by) = self.line(line)
        cross = (bx - ax) * (at[1] - ay) - (by - ay) * (at[0] - ax)
        sense = 1.0 if cross > 0 else -1.0
        return bearing(-sense * (by - ay), sense * (bx - ax), "it")

    def middle(self, line: str) -> XY:
        """Middle of a line."""
        (ax, ay), (bx, by) = self.line(line)
        return (0.5 * (ax + bx), 0.5 * (ay + by))

    def is_line(self, name: str) -> bool:
        """Whether an id is that of a line."""
        return isinstance(self.part.curves.get(name), LineCurve)

    def of(self, relation: Relation) -> tuple[str, ...]:
        """Operands of the binding behind a relation; the curve itself for an end."""
        binding = self.part.bindings.get(relation.owner)
        return binding.of if binding is not None else (relation.owner,)

    def round(self, name: str) -> str:
        """A round by its id, with center and radius while it is not drawn."""
        if name in self.drawn:
            return name
        radius = self.number(radius_of(self.part, name))
        return f"{name} (R{radius} about {center_of(self.part, name)})"

    def other(self, relation: Relation, name: str) -> str:
        """First point of a condition that is not the given one."""
        rest = [p for p in relation.points if p != name]
        return rest[0] if rest else name

    # A point.

    def locus(self, relation: Relation, point: str) -> str:
        """The line or circle on which a condition puts a point."""
        known = LOCI.get(relation.kind)
        return (known and known(self, relation, point)) or self.unnamed(relation)

    def whole(self, relation: Relation, point: str) -> str | None:
        """The place that a condition alone gives to a point, if it does."""
        of, kind = self.of(relation), relation.kind
        if kind == "middle":
            ends = " and ".join(p for p in relation.points if p != point)
            return f"lies halfway between {ends}" if point == of[0] else (
                f"lies as far beyond {of[0]} as {self._far_end(relation, point)} lies before it")
        if kind == "reflected":
            return f"is the reflection of {relation.points[0]} about {of[-1]}" if (
                point == relation.points[1]) else (
                f"is the reflection of {relation.points[1]} about {of[-1]}")
        if kind in {"concentric", "offset"} and len(relation.points) == 2:
            return f"is at {self.other(relation, point)}: one center"
        return None

    def _far_end(self, relation: Relation, point: str) -> str:
        return next(p for p in relation.points[1:] if p != point)

    def unnamed(self, relation: Relation) -> str:
        """Phrase for a condition without one of its own."""
        return f"what {relation.owner} ({relation.kind} of {', '.join(self.of(relation))}) allows"

    # A line.

    def course(self, relation: Relation, line: str) -> str:
        """What a condition says about an edge of the straightedge."""
        known = COURSES.get(relation.kind)
        return (known and known(self, relation, line)) or f"by {self.unnamed(relation)}"

    # A radius.

    def opening(self, relation: Relation, name: str) -> str:
        """What a condition says about the opening of the compass."""
        kind, of = relation.kind, self.of(relation)
        size = self.number(radius_of(self.part, name))
        if kind == "radius":
            return f"R{self.value(relation.owner)}"
        if kind == "diameter":
            return f"Ø{self.value(relation.owner)}"
        others = [n for n in of if n != name and n in self.part.curves]
        if kind in {"equal", "reflected"}:
            return f"R{size}, the radius of {others[0]}"
        if kind == "offset":
            more = radius_of(self.part, name) > radius_of(self.part, others[0])
            return (f"R{size}, {self.value(relation.owner)} {'more' if more else 'less'} than "
                    f"{others[0]}")
        if kind == "touch":
            return f"R{size}, so that it touches {others[0]}"
        if kind in {"end", "on"}:
            return f"R{size}, so that it passes through {relation.points[0]}"
        if kind == "choice":
            return f"any radius (here R{size})"
        return f"R{size} by {self.unnamed(relation)}"

    # Any condition, for what must be found together.

    def condition(self, relation: Relation) -> str:
        """Return the condition as a clause of its own."""
        of = self.of(relation)
        if relation.kind == "end":
            return f"{relation.points[0]} on {relation.owner}"
        if relation.kind == "touch":
            return f"{of[0]} touches {of[1]}"
        binding = self.part.bindings[relation.owner]
        value = f" {self.value(relation.owner)}" if KINDS[binding.kind].quantity else ""
        return f"{binding.kind}{value} of {' and '.join(of)}"


Phrase = Callable[[Wording, Relation, str], str | None]


def _on(w: Wording, r: Relation, point: str) -> str | None:
    curve = r.owner if r.kind == "end" else w.of(r)[1]
    if w.is_line(curve):
        return f"the line {curve}" if point == r.points[-1] else None
    if point == center_of(w.part, curve):
        radius = w.number(radius_of(w.part, curve))
        return f"the circle of {radius} about {r.points[0]} (radius of {curve})"
    return f"the circle of {w.round(curve)}"


def _along(word: str, axis: int) -> Phrase:
    def phrase(w: Wording, r: Relation, point: str) -> str | None:
        other = w.other(r, point)
        step = w.part.points[point][axis] - w.part.points[other][axis]
        where = bearing(0.0, step, other) if axis else bearing(step, 0.0, other)
        return f"the {word} line {w.value(r.owner)} {where}"

    return phrase


def _through(word: str) -> Phrase:
    return lambda w, r, point: f"the {word} line through {w.other(r, point)}"


def _distance(w: Wording, r: Relation, point: str) -> str | None:
    of = w.of(r)
    note = f" (length of {of[0]})" if len(of) == 1 else ""
    return f"the circle of {w.value(r.owner)} about {w.other(r, point)}{note}"


def _offset_point(w: Wording, r: Relation, point: str) -> str | None:
    of = w.of(r)
    if not w.is_line(of[0]):
        return None
    side = w.beside(of[0], w.part.points[point])
    return f"the parallel to {of[0]} {w.value(r.owner)} {side}"


def _touch_center(w: Wording, r: Relation, point: str) -> str | None:
    one, other = w.of(r)
    if w.is_line(one):
        radius = w.number(radius_of(w.part, other))
        side = w.beside(one, w.part.points[point])
        return f"the parallel to {one} {radius} {side} (radius of {other})"
    mine, given = (one, other) if center_of(w.part, one) == point else (other, one)
    a, b = (radius_of(w.part, n) for n in (given, mine))
    (x, y), (p, q) = (w.part.points[center_of(w.part, n)] for n in (given, mine))
    apart = hypot(x - p, y - q)
    if abs(apart - a - b) <= abs(apart - abs(a - b)):
        how = f"{w.number(a)} + {w.number(b)}"
    else:
        how = f"{w.number(max(a, b))} - {w.number(min(a, b))}"
    return (f"the circle of {w.number(apart)} ({how}: radii of {given} and {mine}) "
            f"about {center_of(w.part, given)}")


def _foot(w: Wording, r: Relation, point: str) -> str | None:
    one, other = w.of(r)
    if w.is_line(one):
        center = center_of(w.part, other)
        joint = r.points[2]
        return f"the line square to {one} through {joint if point == center else center}"
    ends = [p for p in r.points if p != point]
    return f"the line through {ends[0]} and {ends[1]}"


def _square_over(w: Wording, r: Relation, point: str) -> str | None:
    line, *points = w.of(r)
    if len(points) != 2 or point not in points:
        return None
    other = points[0] if points[1] == point else points[1]
    return f"the line square to {line} through {other}"


def _line_of_three(w: Wording, r: Relation, point: str) -> str | None:
    rest = [p for p in r.points if p != point]
    return f"the line through {' and '.join(rest[:2])}" if len(r.points) == 3 else None


def _as_long(w: Wording, r: Relation, point: str) -> str | None:
    mine = [n for n in w.of(r) if point in w.part.curves[n].points]
    other = [n for n in w.of(r) if n not in mine]
    if len(mine) != 1:
        return None
    center = next(p for p in w.part.curves[mine[0]].points if p != point)
    (ax, ay), (bx, by) = w.line(other[0])
    return (f"the circle of {w.number(hypot(bx - ax, by - ay))} (as long as {other[0]}) "
            f"about {center}")


LOCI: dict[str, Phrase] = {
    "end": _on,
    "on": _on,
    "run": _along("plumb", 0),
    "rise": _along("level", 1),
    "level": _through("level"),
    "plumb": _through("plumb"),
    "distance": _distance,
    "offset": _offset_point,
    "touch": _touch_center,
    "tangent": _foot,
    "in line": _line_of_three,
    "equal": _as_long,
    "square": _square_over,
}


def _related(word: str) -> Phrase:
    def phrase(w: Wording, r: Relation, line: str) -> str | None:
        return f"{word} {next(n for n in w.of(r) if n != line)}"

    return phrase


def _slope(w: Wording, r: Relation, line: str) -> str | None:
    of = w.of(r)
    if len(of) == 2:
        return f"at {w.value(r.owner)} to {next(n for n in of if n != line)}"
    (ax, ay), (bx, by) = w.line(line)
    if (bx - ax) * (by - ay) == 0.0:
        return f"at {w.value(r.owner)} to level"
    way = "rising" if (bx - ax) * (by - ay) > 0 else "falling"
    return f"at {w.value(r.owner)} to level, {way} to the right"


def _parallel_at(w: Wording, r: Relation, line: str) -> str | None:
    of = w.of(r)
    if of[1] in w.part.points:
        return f"{w.value(r.owner)} from {of[1]}"
    other = next(n for n in of if n != line)
    return f"parallel to {other} {w.value(r.owner)} {w.beside(other, w.middle(line))}"


def _passing(w: Wording, r: Relation, line: str) -> str | None:
    return f"through {r.points[-1]}"


def _touching(w: Wording, r: Relation, line: str) -> str | None:
    name = next(n for n in w.of(r) if n != line)
    center = center_of(w.part, name)
    (ax, ay), (bx, by) = w.line(line)
    px, py = w.part.points[center]
    cross = (bx - ax) * (py - ay) - (by - ay) * (px - ax)
    sense = -1.0 if cross > 0 else 1.0  # from the center towards the line
    where = bearing(-sense * (by - ay), sense * (bx - ax), center)
    return f"touching the circle of {w.round(name)} {where}"


COURSES: dict[str, Phrase] = {
    "end": _passing,
    "on": _passing,
    "level": lambda w, r, line: "level",
    "plumb": lambda w, r, line: "plumb",
    "parallel": _related("parallel to"),
    "square": _related("square to"),
    "in line": _related("in line with"),
    "angle": _slope,
    "offset": _parallel_at,
    "touch": _touching,
    "tangent": lambda w, r, line: f"square to the radius at {r.points[2]}",
    "choice": lambda w, r, line: "in any direction (nothing says which)",
}
