"""A circle of unknown size found from what it passes through and touches.

Its center is where two loci cross: as far from two points as the square bisector of both, as far
from two lines as the line that halves their angle, as far from two circles of one size as from
their centers. A point and two lines go by similar figures: any circle that touches both lines,
enlarged from their corner until it reaches the point. Two points and a line go by the power of the
point where the line of both meets the other (Elements III.36; VI.13 gives the mean proportional).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations
from math import dist, sqrt

from sketcher.geometry.curves import XY
from sketcher.lesson.board_drawing import BoardDrawing
from sketcher.lesson.board_lines import line_with_line
from sketcher.lesson.constructions.bisect import midpoint, square_bisector
from sketcher.lesson.constructions.circumcenter import circumcenter, equally_far, incenter
from sketcher.lesson.constructions.parallel_through import parallel_through
from sketcher.lesson.constructions.set_off import set_off
from sketcher.lesson.constructions.square_at import square_through
from sketcher.lesson.relations import Relation
from sketcher.lesson.round_drawing import touched
from sketcher.lesson.slate import NotDrawn
from sketcher.part.loci import Locus


@dataclass(frozen=True, slots=True)
class Reached:
    """What a circle of unknown size passes through or touches.

    Parameters
    ----------
    kind : str
        ``point``, ``line`` or ``round``.
    name : str
    """

    kind: str
    name: str


@dataclass(frozen=True)
class ThreeConditions:
    """What determines a circle.

    Parameters
    ----------
    center, name : str
        The center and the round.
    reached : tuple of Reached
    loci : tuple of Locus
        Where the center lies whatever the size.
    """

    center: str
    name: str
    reached: tuple[Reached, ...]
    loci: tuple[Locus, ...]

    def sentence(self, where: str, place: str) -> str:
        """Say where the center is; `where` says its locus."""
        names = [r.name if r.kind != "round" else f"the circle of {r.name}" for r in self.reached]
        text = f"{self.center} is as far from {names[0]} as from {names[1]}"
        if self.loci:
            text += f" and on {where}"
        elif len(names) > 2:
            text += f" and as from {names[2]}"
        return f"{text}, at {place}."


def three_conditions(
    drawing: BoardDrawing, center: str, name: str, rows: Iterable[Relation]
) -> ThreeConditions:
    """Return what the rows of a center and its round say."""
    reached: list[Reached] = []
    loci: list[Locus] = []
    for row in {id(row): row for row in rows}.values():
        if name in row.rounds and (row.role == "end" or (row.kind is not None
                                                         and row.kind.incident)):
            reached.append(Reached("point", row.points[0]))
        elif row.role == "touch":
            other = next(n for n in drawing.facts.words.of(row) if n != name)
            reached.append(Reached(
                "line" if drawing.facts.words.is_line(other) else "round", other))
        else:
            locus = drawing.facts.locus(row, center)
            if locus is None:
                raise NotDrawn(f"nothing known to do with {row.owner}")
            loci.append(locus)
    if len(reached) + len(loci) != 3 or len(reached) < 2:
        raise NotDrawn(f"{name} is not determined by three things")
    return ThreeConditions(center, name, tuple(reached), tuple(loci))


def draw_circle(drawing: BoardDrawing, found: ThreeConditions) -> None:
    """Find the center and strike the circle.

    Raises
    ------
    NotDrawn
        Where no construction is known for what it reaches.
    """
    with drawing.slate.trying():
        _draw(drawing, found)


def _draw(drawing: BoardDrawing, found: ThreeConditions) -> None:
    slate, at = drawing.slate, drawing.part.points[found.center]
    kinds = sorted(r.kind for r in found.reached)
    if kinds == ["line", "line", "point"]:
        _point_and_lines(drawing, found, at)
    elif kinds == ["line", "point", "point"]:
        _points_and_line(drawing, found, at)
    elif kinds in (["point"] * 3, ["line"] * 3):
        first, second, third = (r.name for r in found.reached)
        central = circumcenter if kinds[0] == "point" else incenter
        central(slate, (first, second, third), at, found.center)
    else:
        lines = []
        for locus in found.loci:
            lines.append(drawing.locus(locus, at))
        for one, other in combinations(found.reached, 2):
            if len(lines) < 2 and one.kind == other.kind:
                lines.append(_equally_far(drawing, one, other, at))
        if len(lines) < 2:
            raise NotDrawn(f"no two loci for {found.center}")
        slate.cross(lines[0], lines[1], at, found.center)
        slate.say(f"{found.center} is where {lines[0]} and {lines[1]} cross.")
    if dist(slate.points[found.center], at) > slate.near:
        raise NotDrawn(f"{found.center} comes to lie elsewhere")
    nearest = found.reached[0]
    if nearest.kind == "point":
        edge = nearest.name
    else:
        edge = touched(drawing.facts, slate, found.name, found.center, nearest.name)
    slate.swing(found.center, slate.span(found.center, edge), name=found.name)
    slate.say(f"About {found.center} swing {found.name} through {edge}.")


def _equally_far(drawing: BoardDrawing, one: Reached, other: Reached, at: XY) -> str:
    """Line of all places as far from one thing as from another of its kind."""
    slate = drawing.slate
    if one.kind == "point":
        return square_bisector(slate, one.name, other.name)
    if one.kind == "round":
        rings = slate.rings[one.name], slate.rings[other.name]
        if abs(rings[0].radius - rings[1].radius) > slate.near:
            raise NotDrawn(f"{one.name} and {other.name} are not of one size")
        return square_bisector(slate, rings[0].center, rings[1].center)
    return equally_far(slate, one.name, other.name, at)[0]


def _point_and_lines(drawing: BoardDrawing, found: ThreeConditions, at: XY) -> None:
    slate = drawing.slate
    one, other = (r.name for r in found.reached if r.kind == "line")
    point = next(r.name for r in found.reached if r.kind == "point")
    middle, corner = equally_far(slate, one, other, at)
    if not corner:
        raise NotDrawn(f"{one} and {other} are parallel")
    start = set_off(slate, middle, corner, slate.any_opening(), at)
    upright = square_through(slate, one, start)
    foot = slate.cross(upright, one, slate.lines[one].foot(slate.points[start]))
    trial = slate.swing(start, slate.span(start, foot))
    ray = slate.rule(corner, point)
    slate.say(f"About {start} swing the circle through {foot}; it touches {one} and {other}. Draw "
              f"{ray} through {corner} and {point}.")
    cx, cy = slate.points[corner]
    share = dist(slate.points[start], (cx, cy)) / dist(at, (cx, cy))
    px, py = slate.points[point]
    like = slate.cross(ray, trial, (cx + share * (px - cx), cy + share * (py - cy)))
    spoke = slate.rule(start, like)
    slate.say(f"It cuts that circle at {like}. Draw {spoke} through {start} and {like}.")
    along = parallel_through(slate, spoke, point)
    slate.cross(along, middle, at, found.center)
    slate.say(f"{along} cuts {middle} at {found.center}: the figure is the trial one enlarged.")


def _points_and_line(drawing: BoardDrawing, found: ThreeConditions, at: XY) -> None:
    slate = drawing.slate
    one, other = (r.name for r in found.reached if r.kind == "point")
    line = next(r.name for r in found.reached if r.kind == "line")
    middle = square_bisector(slate, one, other)
    chord = slate.rule(one, other)
    places = line_with_line(slate.lines[chord], slate.lines[line])
    touch = slate.lines[line].foot(at)
    if places:
        start = slate.cross(chord, line, places[0])
        slate.say(f"Draw {chord} through {one} and {other}; it cuts {line} at {start}.")
        near, far = sorted((one, other), key=lambda p: dist(slate.points[p], places[0]))
        # the mean proportional: half circle over the longer, square at the end of the shorter
        (sx, sy), (fx, fy) = slate.points[start], slate.points[far]
        half = midpoint(slate, start, far)
        ring = slate.swing(half, slate.span(half, far))
        upright = square_through(slate, chord, near)
        length = dist((sx, sy), (fx, fy))
        ux, uy = (fx - sx) / length, (fy - sy) / length
        near_by = dist(slate.points[near], (sx, sy))
        rise = sqrt(near_by * (length - near_by))
        top = slate.cross(upright, ring, (sx + near_by * ux - rise * uy,
                                          sy + near_by * uy + rise * ux))
        slate.say(f"The half circle over {start}-{far} and the square at {near} cross at {top}: "
                  f"{start}-{top} is as long as the tangent from {start}.")
        foot = set_off(slate, line, start, slate.span(start, top), touch)
    else:
        upright = middle
        foot = slate.cross(middle, line, touch)
        slate.say(f"{middle} cuts {line} at {foot}.")
    upright = square_through(slate, line, foot)
    if slate.line_at(slate.lines[middle]) == upright:
        halfway = square_bisector(slate, one, foot)
        slate.cross(halfway, middle, at, found.center)
        slate.say(f"{halfway} cuts {middle} at {found.center}.")
        return
    slate.cross(upright, middle, at, found.center)
    slate.say(f"{upright} cuts {middle} at {found.center}.")
