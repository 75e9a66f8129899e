"""Judges hand moves: what straightedge and compass have drawn is the solved part, and all of it.

The whole outline is worked out here from the part's file: the half, the places of its patterns, its
reflections one after the other. Curves of the half are looked for by name, images by their place.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from math import cos, dist, hypot, radians, sin
from typing import Any

import numpy as np
from mpmath import mpf

from tests.paper_numbers import number_of
from tests.straightedge import (
    AGREED,
    CHOSEN,
    HELPER,
    USED,
    DrawingPaper,
    DrawnLine,
    DrawnRing,
    Heavy,
    Refused,
    apart,
)

Place = tuple[float, float]


@dataclass(frozen=True)
class Outlined:
    """A curve of the part, as judged here: the line through two places, or a circle."""

    source: str
    ends: tuple[Place, ...]
    center: Place = (0.0, 0.0)
    radius: float = 0.0
    turn: int = 0
    """Of an arc: 1 counter-clockwise from its first end to its second, else -1."""
    image: bool = False

    def moved(self, way: Any, flips: bool = False) -> Outlined:
        return Outlined(self.source, tuple(map(way, self.ends)), way(self.center), self.radius,
                        -self.turn if flips else self.turn, True)

    @property
    def row(self) -> list[float]:
        """Ends, center, radius and turn, for tables; a whole circle ends where it begins."""
        ends = self.ends or (self.center, self.center)
        center = self.center if self.radius else (0.0, 0.0)
        return [*ends[0], *ends[1], *center, self.radius, float(self.turn)]


def part_size(part: Mapping[str, Any]) -> float:
    """Longer side of the box around all points."""
    at = np.array(list(part["points"].values()), float).reshape(-1, 2)
    return float((at.max(axis=0) - at.min(axis=0)).max()) or 1.0 if len(at) else 1.0


def half_of(part: Mapping[str, Any]) -> dict[str, Outlined]:
    """The drawn curves of a part's file."""
    found = {}
    for name, curve in part["curves"].items():
        ends = tuple(tuple(part["points"][p]) for p in curve.get("ends", ()))
        center = tuple(part["points"][curve["center"]]) if "center" in curve else (0.0, 0.0)
        radius = dist(center, ends[0]) if curve["kind"] == "arc" else curve.get("radius", 0.0)
        turn = {"ccw": 1, "cw": -1}.get(curve.get("turn", ""), 0)
        found[name] = Outlined(name, ends, center, radius, turn)
    return found


def images_of(part: Mapping[str, Any]) -> list[Outlined]:
    """Every image of the drawn curves: places of patterns, then reflections of all of it."""
    half = half_of(part)
    pieces = list(half.values())
    for pattern in part.get("patterns", {}).values():
        for way in pattern_ways(pattern, part):
            pieces += [half[name].moved(way) for name in pattern["curves"]]
    mirrors = part.get("mirror") or []
    for mirror in [mirrors] if isinstance(mirrors, Mapping) else mirrors:
        way = reflection(*half[mirror["axis"]].ends)
        taken = {name for name, curve in part["curves"].items() if name != mirror["axis"]
                 and (curve.get("role", "outline") == "outline"
                      if mirror.get("curves", "outline") == "outline"
                      else name in mirror["curves"])}
        pieces += [piece.moved(way, True) for piece in pieces if piece.source in taken]
    return pieces[len(half):]


def reflection(start: Place, end: Place) -> Any:
    """The reflection about the line through two places."""
    long = dist(start, end)
    ux, uy = (end[0] - start[0]) / long, (end[1] - start[1]) / long

    def way(at: Place) -> Place:
        off = ux * (at[1] - start[1]) - uy * (at[0] - start[0])
        return at[0] + 2.0 * off * uy, at[1] - 2.0 * off * ux

    return way


def pattern_ways(pattern: Mapping[str, Any], part: Mapping[str, Any]) -> Iterator[Any]:
    """Where each further place of a pattern takes what is drawn."""
    def number(text: str) -> float:
        return float(number_of(text, part))

    if pattern["kind"] == "grid":
        turn = radians(number(pattern.get("angle", "0")))
        columns, rows = pattern["count"]
        across, up = map(number, pattern["step"])
        for column, row in product(range(columns), range(rows)):
            x = column * across * cos(turn) - row * up * sin(turn)
            y = column * across * sin(turn) + row * up * cos(turn)
            if column or row:
                yield lambda at, x=x, y=y: (at[0] + x, at[1] + y)
        return
    span, count = number(pattern["span"]), pattern["count"]
    cx, cy = part["points"][pattern["center"]]
    for k in range(1, count):
        turn = radians(span * k / (count if abs(span) == 360.0 else count - 1))
        c, s = cos(turn), sin(turn)
        yield lambda at, c=c, s=s: (cx + c * (at[0] - cx) - s * (at[1] - cy),
                                    cy + s * (at[0] - cx) + c * (at[1] - cy))


def constructed(
    order: Mapping[str, Any], solved: Mapping[str, Any], given: set[str],
    stretch: str = "1.0618", loose: bool = False,
) -> tuple[list[str], DrawingPaper]:
    """Make the moves of an order; return what is wrong with them, and the paper.

    Parameters
    ----------
    order : mapping
        What ``sketcher order --moves --json`` prints.
    solved : mapping
        The file of the solved part.
    given : set of str
        Points that may be marked.
    stretch : str
        By which openings that may be any are taken larger than the picture has them, and crossings
        contrary to it where no sentence says which; ``1`` to do as it shows, and judge it as well.
    loose : bool
        Whether the part can move, so that the hand may choose.
    """
    size = part_size(solved)
    paper = DrawingPaper(solved, mpf(size), given, mpf(stretch), loose, stretch != "1")
    near = float(CHOSEN if loose else AGREED) * size
    try:
        paper.make(order["steps"])
    except Refused as error:
        return [str(error), *_points_off(paper, solved, near)], paper
    found = [f"{name} is not found" for name in solved["points"] if name not in paper.points]
    found += _points_off(paper, solved, near)
    found += _curves_missing(paper, solved, near)
    found += outline_off(paper, solved, near)
    if stretch == "1":
        found += pictures_off(order, paper, near)
    return found, paper


def _points_off(paper: DrawingPaper, solved: Mapping[str, Any], near: float) -> Iterator[str]:
    for name, place in solved["points"].items():
        at = _place(paper, name)
        if at is not None and not dist(at, place) <= near:
            yield f"{name} is at {at}, the part has it at {place}"


def _place(paper: DrawingPaper, name: str) -> Place | None:
    at = paper.points.get(name)
    return None if at is None else (float(at[0]), float(at[1]))


def _curves_missing(
    paper: DrawingPaper, solved: Mapping[str, Any], near: float
) -> Iterator[str]:
    """Tell curves of the half that were not drawn by their name, and images not at all."""
    for name, curve in half_of(solved).items():
        thing = paper.things.get(name)
        if thing is None or not _fits(*_tables([thing]), curve, near):
            yield f"{name} is not drawn" if thing is None else f"{name} is drawn elsewhere"
    lines, rings = _tables(paper.things.values())
    for curve in images_of(solved):
        if not _fits(lines, rings, curve, near):
            yield f"an image of {curve.source} is not drawn, {curve.ends or curve.center}"


def outline_off(paper: DrawingPaper, solved: Mapping[str, Any], near: float) -> Iterator[str]:
    """Tell curves of the whole outline that are not gone over, and what is and is none of them."""
    roles = {name: curve.get("role", "outline") for name, curve in solved["curves"].items()}
    wanted = [curve for curve in (*half_of(solved).values(), *images_of(solved))
              if roles[curve.source] == "outline"]
    rows = np.array([curve.row for curve in wanted]).reshape(-1, 8)
    heavy = np.array([_heavy_row(each) for each in paper.outline]).reshape(-1, 8)
    for curve, row in zip(wanted, rows, strict=True):
        if not _among(row, heavy, near):
            yield f"{'an image of ' * curve.image}{curve.source} is not gone over: {row}"
    for each, row in zip(paper.outline, heavy, strict=True):
        if not _among(row, rows, near):
            yield f"{each.name} is gone over, and it is no curve of the part: {row}"


def _heavy_row(heavy: Heavy) -> list[float]:
    ends = tuple((float(x), float(y)) for x, y in heavy.ends)
    turn = {"ccw": 1, "cw": -1}.get(heavy.way, 0)
    if isinstance(heavy.on, DrawnLine):
        return Outlined("", ends).row
    center = (float(heavy.on.at[0]), float(heavy.on.at[1]))
    return Outlined("", ends, center, float(heavy.on.radius), turn).row


def _among(row: np.ndarray, rows: np.ndarray, near: float) -> bool:
    """Whether a curve is one of some, whichever way each runs."""
    back = row[[2, 3, 0, 1, 4, 5, 6, 7]] * [1, 1, 1, 1, 1, 1, 1, -1]
    return any(bool((abs(rows - each) <= near).all(axis=1).any()) for each in (row, back))


def _tables(things: Iterable[DrawnLine | DrawnRing]) -> tuple[np.ndarray, np.ndarray]:
    """Places and directions of lines (n, 4), centers and radii of circles (n, 3)."""
    lines = [[*thing.at, *thing.along] for thing in things if isinstance(thing, DrawnLine)]
    rings = [[*thing.at, thing.radius] for thing in things if isinstance(thing, DrawnRing)]
    return (np.array(lines, float).reshape(-1, 4), np.array(rings, float).reshape(-1, 3))


def _fits(lines: np.ndarray, rings: np.ndarray, curve: Outlined, near: float) -> bool:
    """Whether one of these lines or circles lies where a curve does."""
    if curve.radius:
        off = np.hypot(*(rings[:, :2] - curve.center).T)
        return bool(((off <= near) & (abs(rings[:, 2] - curve.radius) <= near)).any())
    away = [abs(lines[:, 2] * (y - lines[:, 1]) - lines[:, 3] * (x - lines[:, 0]))
            for x, y in curve.ends]
    return bool((np.maximum(*away) <= near).any())


def drawn_for_nothing(order: Mapping[str, Any]) -> Iterator[str]:
    """Tell moves of which no other one uses anything; a board has its level line, used or not."""
    moves = [(step["number"], move) for step in order["steps"] for move in step["moves"]]
    users: dict[str, set[int]] = {}
    for k, (_, move) in enumerate(moves):
        for stroke in move["strokes"]:
            for name in used_by(stroke):
                users.setdefault(name, set()).add(k)
    for k, (number, move) in enumerate(moves):
        if all(HELPER.fullmatch(stroke["name"]) and stroke["do"] != "level"
               and users.get(stroke["name"], {k}) <= {k} for stroke in move["strokes"]):
            yield f"step {number}: nothing of this is used: {move['text']}"


def used_by(stroke: Mapping[str, Any]) -> Iterator[str]:
    """Names that a stroke refers to."""
    for key in USED[stroke["do"]]:
        value = stroke[key]
        if key == "opening":
            yield from value["span"] or ()
        elif key == "which":
            yield value["of"]
        elif key not in ("name", "text", "way"):
            names = [value] if isinstance(value, str) else value if isinstance(value, list) else []
            yield from (name for name in names if isinstance(name, str))


def pictures_off(
    order: Mapping[str, Any], paper: DrawingPaper, near: float
) -> Iterator[str]:
    """Tell strokes whose picture lies elsewhere than what was drawn."""
    for step in order["steps"]:
        for stroke in (stroke for move in step["moves"] for stroke in move["strokes"]):
            name = stroke["name"]
            if stroke["do"] == "cross" and dist(stroke["at"], _place(paper, name)) > near:
                yield f"{name} crosses at {_place(paper, name)}, and its picture at {stroke['at']}"
            if stroke["do"] == "swing":
                ring = paper.things[name]
                if hypot(*(float(a - b) for a, b in zip(ring.at, stroke["at"], strict=True))
                         ) > near or abs(float(ring.radius) - stroke["opening"]["amount"]) > near:
                    yield f"{name} is swung elsewhere than in its picture"
            if stroke["do"] in ("level", "rule", "protract"):
                line = paper.things[name]
                off = [abs(float(line.offset((mpf(x), mpf(y))))) for x, y in stroke["ends"]]
                if max(off) > near or dist(*stroke["ends"]) <= near:
                    yield f"{name} runs elsewhere than in its picture"
            if stroke["do"] == "go over" and not _along(stroke, paper, near):
                yield f"{name} is gone over elsewhere than in its picture"


def _along(stroke: Mapping[str, Any], paper: DrawingPaper, near: float) -> bool:
    """Whether the places of a heavy curve lie on what it is drawn on, from end to end."""
    thing = paper.things[stroke["on"]]
    places = [(mpf(x), mpf(y)) for x, y in stroke["shape"]]
    off = [thing.offset(at) if isinstance(thing, DrawnLine) else apart(thing.at, at) - thing.radius
           for at in places]
    ends = [paper.points[name] for name in stroke["ends"]] or [places[-1], places[0]]
    off += [apart(places[0], ends[0]), apart(places[-1], ends[1])]
    return all(abs(each) <= near for each in off)
