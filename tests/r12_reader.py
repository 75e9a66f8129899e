"""A reader of DXF R12 that knows the group codes of a few entities and refuses all else.

It stands for a simple controller: group codes of three places at most, CR LF, ASCII, numbers in
fixed point, groups of an entity in the order of the published DXF reference of R12 (from memory),
layers that are declared. It knows nothing of the program. Areas by the shoelace formula with
segments of circles, boxes by the quadrants that an arc passes.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import atan2, cos, dist, hypot, pi, radians, sin, tau

XY = tuple[float, float]
Vertex = tuple[float, float, float]

CODE = re.compile(r" {0,2}[0-9]{1,3}")
NUMBER = re.compile(r"-?[0-9]{1,9}\.[0-9]{1,16}")
WHOLE = re.compile(r"[0-9]{1,5}")
NAME = re.compile(r"[A-Z0-9$_-]{1,31}")

GROUPS = {
    "POINT": (8, 10, 20, 30), "LINE": (8, 10, 20, 30, 11, 21, 31), "CIRCLE": (8, 10, 20, 30, 40),
    "ARC": (8, 10, 20, 30, 40, 50, 51), "POLYLINE": (8, 66, 10, 20, 30, 70),
    "VERTEX": (8, 10, 20, 30), "SEQEND": (8,),
}
TABLES = {"LTYPE": (2, 70, 3, 72, 73, 40), "LAYER": (2, 70, 62, 6)}


class NotR12(Exception):
    """What a simple controller would stop at."""


@dataclass
class Drawn:
    """An entity: its type, layer and numbers by group code; a polyline with its vertices."""

    kind: str
    layer: str
    numbers: dict[int, float]
    vertices: list[Vertex] = field(default_factory=list)

    @property
    def closed(self) -> bool:
        return self.kind == "CIRCLE" or (self.kind == "POLYLINE" and self.numbers[70] == 1)

    @property
    def segments(self) -> list[tuple[XY, XY, float]]:
        """Ends and bulge of each; an ARC runs counter-clockwise, a CIRCLE in two half turns."""
        n = self.numbers
        if self.kind == "LINE":
            return [((n[10], n[20]), (n[11], n[21]), 0.0)]
        if self.kind in {"ARC", "CIRCLE"}:
            first, last = (n[50], n[51]) if self.kind == "ARC" else (0.0, 360.0)
            turn = (last - first) % 360.0 or 360.0
            at = [(n[10] + n[40] * cos(a), n[20] + n[40] * sin(a))
                  for a in (radians(first + share * turn) for share in (0.0, 0.5, 1.0))]
            bend = sin(radians(turn / 8.0)) / cos(radians(turn / 8.0))
            return [(at[0], at[1], bend), (at[1], at[2], bend)]
        if self.kind == "POLYLINE":
            around = [*self.vertices, self.vertices[0]] if self.closed else self.vertices
            return [(p[:2], q[:2], p[2]) for p, q in pairwise(around)]
        return []

    @property
    def area(self) -> float:
        """Signed: above zero counter-clockwise."""
        total = 0.0
        for (x0, y0), (x1, y1), bend in self.segments:
            total += 0.5 * (x0 * y1 - x1 * y0)
            if bend:
                sweep = 4.0 * atan2(bend, 1.0)
                _, radius, _ = center_of((x0, y0), (x1, y1), bend)
                total += 0.5 * radius**2 * (sweep - sin(sweep))
        return total

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Exact box."""
        at = [place for a, b, _ in self.segments for place in (a, b)]
        at += [(self.numbers[10], self.numbers[20])] if self.kind == "POINT" else []
        for a, b, bend in self.segments:
            at += list(quadrants(a, b, bend)) if bend else []
        xs, ys = [x for x, _ in at], [y for _, y in at]
        return min(xs), min(ys), max(xs), max(ys)


def center_of(a: XY, b: XY, bend: float) -> tuple[XY, float, float]:
    """Center, radius and included angle of a segment with a bulge (its tangent of a quarter)."""
    chord = dist(a, b)
    k = (1.0 - bend**2) / (4.0 * bend)
    center = (0.5 * (a[0] + b[0]) - k * (b[1] - a[1]), 0.5 * (a[1] + b[1]) + k * (b[0] - a[0]))
    return center, chord * (1.0 + bend**2) / (4.0 * abs(bend)), 4.0 * atan2(bend, 1.0)


def quadrants(a: XY, b: XY, bend: float) -> Iterator[XY]:
    """Places right of, above, left of and below the center that a segment passes."""
    (x, y), radius, sweep = center_of(a, b, bend)
    start = atan2(a[1] - y, a[0] - x)
    for quarter in range(4):
        angle = quarter * pi / 2.0
        ahead = (angle - start) % tau if sweep > 0.0 else (start - angle) % tau
        if ahead < abs(sweep):
            yield x + radius * cos(angle), y + radius * sin(angle)


@dataclass
class R12File:
    """What a file holds."""

    comments: list[str]
    low: XY
    high: XY
    layers: list[str]
    entities: list[Drawn]

    @property
    def box(self) -> tuple[float, float, float, float]:
        boxes = [entity.box for entity in self.entities]
        return (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes),
                max(b[3] for b in boxes))


def read_r12(data: bytes) -> R12File:
    """Read a file; NotR12 for anything that a simple controller need not know."""
    groups = _Groups(data)
    comments = []
    while groups.ahead == 999:
        comments.append(groups.take(999))
    low, high = _header(groups)
    layers = _tables(groups)
    _section(groups, "ENTITIES")
    entities = []
    while (kind := groups.take(0)) != "ENDSEC":
        entities.append(_entity(groups, kind, layers))
    if groups.take(0) != "EOF" or groups.left:
        raise NotR12("does not end with EOF")
    return R12File(comments, low, high, layers, entities)


class _Groups:
    def __init__(self, data: bytes) -> None:
        text = data.decode("ascii")
        if not text.endswith("\r\n") or text.count("\r\n") != text.count("\n") \
                or text.count("\r") != text.count("\n"):
            raise NotR12("a line does not end with CR LF")
        lines = text.split("\r\n")[:-1]
        if len(lines) % 2:
            raise NotR12("a group code has no value")
        wrong = [code for code in lines[::2] if not CODE.fullmatch(code)]
        if wrong or max(map(len, lines)) > 255:
            raise NotR12(f"{wrong[:1]} is no group code, or a line is too long")
        self.left = [(int(code), value) for code, value in
                     zip(lines[::2], lines[1::2], strict=True)][::-1]

    @property
    def ahead(self) -> int:
        return self.left[-1][0]

    def take(self, code: int) -> str:
        found, value = self.left.pop()
        if found != code:
            raise NotR12(f"{found} {value} where {code} should be")
        if 10 <= code < 60 and (not NUMBER.fullmatch(value) or re.fullmatch(r"-0\.0+", value)):
            raise NotR12(f"{value} is no number in fixed point")
        if 60 <= code < 80 and not WHOLE.fullmatch(value):
            raise NotR12(f"{value} is no whole number")
        if code in {2, 6, 8} and not NAME.fullmatch(value):
            raise NotR12(f"{value} is no name")
        return value

    def numbers(self, codes: Sequence[int]) -> dict[int, float]:
        return {code: float(self.take(code)) for code in codes}


def _section(groups: _Groups, name: str) -> None:
    if (groups.take(0), groups.take(2)) != ("SECTION", name):
        raise NotR12(f"there is no section {name}")


def _header(groups: _Groups) -> tuple[XY, XY]:
    _section(groups, "HEADER")
    if (groups.take(9), groups.take(1)) != ("$ACADVER", "AC1009"):
        raise NotR12("is not of version AC1009")
    found = []
    for variable in ("$EXTMIN", "$EXTMAX"):
        if groups.take(9) != variable:
            raise NotR12(f"{variable} is missing")
        x, y, _ = groups.numbers((10, 20, 30)).values()
        found.append((x, y))
    if groups.take(0) != "ENDSEC":
        raise NotR12("the header goes on")
    return found[0], found[1]


def _tables(groups: _Groups) -> list[str]:
    """Names of the layers; each must name a line type that is declared."""
    _section(groups, "TABLES")
    names: dict[str, list[str]] = {}
    while groups.take(0) == "TABLE":
        table = groups.take(2)
        if table not in TABLES or table in names:
            raise NotR12(f"table {table}")
        names[table] = []
        most = int(groups.take(70))
        while (kind := groups.take(0)) != "ENDTAB":
            row = {code: groups.take(code) for code in TABLES[table]}
            if kind != table or (table == "LAYER" and row[6] not in names["LTYPE"]):
                raise NotR12(f"{kind} in table {table}: {row}")
            names[table].append(row[2])
        if len(names[table]) > most:
            raise NotR12(f"table {table} has more than {most} rows")
    return names["LAYER"]


def _entity(groups: _Groups, kind: str, layers: Sequence[str]) -> Drawn:
    if kind not in GROUPS or kind in {"VERTEX", "SEQEND"}:
        raise NotR12(f"entity {kind}")
    layer = groups.take(8)
    if layer not in layers:
        raise NotR12(f"layer {layer} is not declared")
    found = Drawn(kind, layer, groups.numbers(GROUPS[kind][1:]))
    if any(found.numbers.get(code) for code in (30, 31)):
        raise NotR12(f"{kind} is not flat")
    if found.numbers.get(40, 1.0) <= 0.0:
        raise NotR12(f"{kind} has no radius")
    if kind == "POLYLINE":
        if found.numbers[66] != 1 or found.numbers[70] not in (0, 1):
            raise NotR12("flags of a POLYLINE")
        while (part := groups.take(0)) == "VERTEX":
            if groups.take(8) != layer:
                raise NotR12("a VERTEX on a layer of its own")
            at = groups.numbers(GROUPS["VERTEX"][1:])
            bend = float(groups.take(42)) if groups.ahead == 42 else 0.0
            found.vertices.append((at[10], at[20], bend))
        if part != "SEQEND" or groups.take(8) != layer or len(found.vertices) < 2:
            raise NotR12("a POLYLINE without end")
    if any(hypot(a[0] - b[0], a[1] - b[1]) < 1e-9 for a, b, _ in found.segments):
        raise NotR12(f"{kind} with a segment of no length")
    return found


def loops_of(entities: Sequence[Drawn], most: float) -> list[list[tuple[XY, XY, float]]]:
    """Join single lines and arcs, in the order of the file, to loops; ends at most `most` apart.

    An ARC that was travelled clockwise is turned round where that makes it meet.
    """
    loops: list[list[tuple[XY, XY, float]]] = []
    run: list[tuple[XY, XY, float]] = []
    for number, entity in enumerate(entities):
        if entity.kind == "CIRCLE":
            loops.append(entity.segments)
            continue
        segments = entity.segments
        back = [(b, a, -bend) for a, b, bend in reversed(segments)]
        if run:
            segments = min((segments, back), key=lambda way: dist(way[0][0], run[-1][1]))
            if dist(segments[0][0], run[-1][1]) > most:
                raise NotR12(f"a gap of {dist(segments[0][0], run[-1][1])}")
        elif entity.kind == "ARC" and number + 1 < len(entities):
            after = entities[number + 1].segments
            segments = min((segments, back), key=lambda way: min(
                dist(way[-1][1], place) for place in (after[0][0], after[-1][1])))
        run += segments
        if len(run) > 1 and dist(run[0][0], run[-1][1]) <= most:
            loops.append(run)
            run = []
    if run:
        raise NotR12("a loop stays open")
    return loops
