"""Read the DIMENSIONs and leaders of a DXF.

What a dimension measures is computed from its points: the number that the file keeps beside them is
what some program once found there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, isfinite, pi, radians, sin, tau
from typing import Any

from sketcher.exchange.dxf_content import FileDimension, FileLeader
from sketcher.exchange.dxf_dimension_text import written
from sketcher.exchange.dxf_words import plain
from sketcher.geometry.curves import XY, Line

KINDS = {0: "linear", 1: "aligned", 2: "angular", 3: "diameter", 4: "radius", 5: "angular",
         6: "ordinate", 8: "arc length"}
"""Types of DIMENSION (DXF reference, group code 70)."""
ALONG_X = 64  # bit of the type: an ordinate along x
LEADERS = frozenset({"LEADER", "MULTILEADER", "MLEADER"})
DIMENSIONS = frozenset({"DIMENSION", "ARC_DIMENSION", "LARGE_RADIAL_DIMENSION"})
VARIABLES = {
    3: "dimpost", 40: "dimscale", 42: "dimexo", 45: "dimrnd", 47: "dimtp", 48: "dimtm",
    71: "dimtol", 78: "dimzin", 79: "dimazin", 140: "dimtxt", 144: "dimlfac", 179: "dimadec",
    271: "dimdec", 272: "dimtdec", 275: "dimaunit", 277: "dimlunit", 278: "dimdsep"}
"""Variables of a style that tell here, by their group codes (DXF reference, DIMSTYLE)."""
LETTER = 0.6
"""Breadth of a letter by its height, where a middle is wanted of what is put in by an end (common
practice, no source)."""

SMALL = 0.85
"""Texts of a picture lower than this part of its highest are limits, one above the other (ISO
129-1, from memory: as high as the dimension or one size less, 0.7)."""


@dataclass(frozen=True, slots=True)
class _Lettering:
    """The text of a dimension's picture: what it says, its middle, its height."""

    text: str
    at: XY
    height: float


@dataclass(frozen=True, slots=True)
class _Measured:
    """What the points of a dimension say."""

    points: tuple[XY, ...]
    line_at: XY
    value: float
    turn: float = 0.0


class DimensionReader:
    """Reads the dimensions of one document; each style is looked up once."""

    def __init__(self, document: Any) -> None:
        self._document = document
        self._styles: dict[str, Mapping[str, Any]] = {}

    def dimension(self, entity: Any, number: int, layer: str) -> FileDimension | None:
        """Return a DIMENSION as values; None where its points tell nothing.

        Parameters
        ----------
        entity : object
            Of the library.
        number : int
            As in `FileCurve.entity`.
        layer : str
            On which it is seen.
        """
        kind = _kind(entity)
        measured = _measured(entity, kind)
        if measured is None or not all(map(isfinite, (
                measured.value, *measured.line_at, *(c for at in measured.points for c in at)))):
            return None
        style = self._style(entity)
        scale = float(style.get("dimscale") or 0.0) or 1.0  # 0: as the paper's views have it
        value = measured.value
        factor = float(style.get("dimlfac") or 1.0)
        if kind != "angular" and factor > 0.0:  # below 0 it is for views on paper alone
            value *= factor
        picture, moved = _picture(entity)
        shown = _lettering(picture, moved)
        stands = str(entity.dxf.get("text", ""))
        typed = "" if not stands.strip() or "<>" in stands else plain(stands)
        said = typed or written(value, kind, style)
        if "<>" in stands:
            said = plain(stands.replace("<>", said))
        height = shown.height if shown else style.get("dimtxt")
        return FileDimension(
            number, kind, layer, measured.points, measured.line_at,
            _text_at(entity, measured, shown), shown.text if shown else said, typed, value,
            measured.turn,
            height if shown or height is None else scale * float(height),
            _scaled(style.get("dimexo"), scale), _strokes(picture, moved))

    def _style(self, entity: Any) -> Mapping[str, Any]:
        name = str(entity.dxf.get("dimstyle", "Standard"))
        if name not in self._styles:
            table = self._document.dimstyles
            style = table.get(name) if table.has_entry(name) else None
            self._styles[name] = {} if style is None else {
                each: style.dxf.get(each) for each in VARIABLES.values()
                if style.dxf.get(each) is not None}
        if not entity.has_xdata("ACAD"):
            return self._styles[name]
        return {**self._styles[name], **dict(_own(entity))}


def leader(entity: Any, number: int, layer: str) -> Iterator[FileLeader]:
    """Yield the leader lines of a LEADER or MULTILEADER, each from its tip on."""
    if entity.dxftype() == "LEADER":
        points = tuple(_xy(vertex) for vertex in entity.vertices)
        if len(points) > 1:
            yield FileLeader(number, layer, points)
        return
    text = plain(str(entity.get_mtext_content()))
    for each in entity.context.leaders:
        for line in each.lines:
            points = tuple(_xy(vertex) for vertex in line.vertices)
            if each.has_last_leader_line:
                points = (*points, _xy(each.last_leader_point))
            if len(points) > 1:
                yield FileLeader(number, layer, points, text)


def _own(entity: Any) -> Iterator[tuple[str, Any]]:
    """Yield the variables that a dimension has of its own: pairs of a group code and a value."""
    try:
        tags = iter(entity.get_xdata_list("ACAD", "DSTYLE"))
    except ValueError:
        return
    for tag in tags:
        if tag.code == 1070:
            value = next(tags, None)
            if value is not None and tag.value in VARIABLES:
                yield VARIABLES[tag.value], value.value


def _kind(entity: Any) -> str:
    if entity.dxftype() == "ARC_DIMENSION":
        return "arc length"
    if entity.dxftype() == "LARGE_RADIAL_DIMENSION":
        return "radius"
    return KINDS.get(int(entity.dxf.get("dimtype", 0)) & 15, "linear")


def _measured(entity: Any, kind: str) -> _Measured | None:
    """Return what a dimension measures, from its points; None where it has none."""
    dxf = entity.dxf
    base = _xy(dxf.get("defpoint", (0.0, 0.0)))
    if entity.dxftype() == "LARGE_RADIAL_DIMENSION":
        at = _xy(dxf.chord_point)
        return _Measured((base, at), at, _apart(base, at))
    first, second, third = (_xy(dxf.get(name, (0.0, 0.0)))
                            for name in ("defpoint2", "defpoint3", "defpoint4"))
    if kind == "linear":
        turn = float(dxf.get("angle", 0.0))
        turn = 180.0 - turn if _mirrored(entity) else turn
        way = radians(turn)
        run = (second[0] - first[0]) * cos(way) + (second[1] - first[1]) * sin(way)
        return _Measured((first, second), base, abs(run), turn)
    if kind == "aligned":
        return _Measured((first, second), base, _apart(first, second))
    if kind in ("diameter", "radius"):
        return _Measured((base, third), third, _apart(base, third))
    if kind == "ordinate":
        along = bool(int(dxf.get("dimtype", 0)) & ALONG_X)
        value = abs(first[0] - base[0]) if along else abs(first[1] - base[1])
        return _Measured((base, first), second, value, 0.0 if along else 90.0)
    if kind == "arc length":
        angle = radians(_between(third, first, second, base))
        return _Measured((third, first, second), base, _apart(third, first) * angle)
    if int(dxf.get("dimtype", 0)) & 15 == 5:
        return _Measured((third, first, second), base, _between(third, first, second, base))
    apex, at = _crossing(first, second, third, base), _xy(dxf.get("defpoint5", (0.0, 0.0)))
    return None if apex is None else _Measured(
        (first, second, third, base), at, _sector(apex, first, second, third, base, at))


def _between(apex: XY, first: XY, second: XY, at: XY) -> float:
    """Return the angle between two legs on the side where a place stands, degrees."""
    start, end, here = (atan2(p[1] - apex[1], p[0] - apex[0]) for p in (first, second, at))
    span = (end - start) % tau
    return degrees(span if (here - start) % tau <= span else tau - span)


def _crossing(a: XY, b: XY, c: XY, d: XY) -> XY | None:
    """Return where two lines cross; None where they are parallel."""
    (ux, uy), (vx, vy) = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    cross = ux * vy - uy * vx
    if abs(cross) <= 1e-12 * hypot(ux, uy) * hypot(vx, vy):
        return None
    t = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / cross
    return (a[0] + t * ux, a[1] + t * uy)


def _sector(apex: XY, a: XY, b: XY, c: XY, d: XY, at: XY) -> float:
    """Return the angle of the one of four sectors between two lines that a place is in."""
    one, other, here = (atan2(q[1] - p[1], q[0] - p[0]) % pi
                        for p, q in ((a, b), (c, d), (apex, at)))
    low, high = sorted((one, other))
    within = low <= here <= high
    return degrees(high - low if within else pi - (high - low))


def _picture(entity: Any) -> tuple[tuple[Any, ...], XY]:
    """Return what a dimension's picture holds, and by how much it is moved."""
    if entity.is_virtual:
        return tuple(entity.virtual_entities()), (0.0, 0.0)
    return tuple(entity.get_geometry_block() or ()), _xy(entity.dxf.get("insert", (0.0, 0.0)))


def _lettering(picture: Sequence[Any], moved: XY) -> _Lettering | None:
    """Return the text of a dimension's picture, which is what a reader sees."""
    found = [_put(each) for each in picture if each.dxftype() in ("TEXT", "MTEXT")]
    found = [each for each in found if each.text]
    if not found:
        return None
    xs, ys = [each.at[0] for each in found], [each.at[1] for each in found]
    at = (0.5 * (min(xs) + max(xs)) + moved[0], 0.5 * (min(ys) + max(ys)) + moved[1])
    height = max(each.height for each in found)
    said = " ".join(each.text for each in found if each.height >= SMALL * height)
    stacked = "/".join(each.text for each in found if each.height < SMALL * height)
    return _Lettering(f"{said} {stacked}".strip(), at, height)


def _strokes(picture: Sequence[Any], moved: XY) -> tuple[Line, ...]:
    """Return the lines of a dimension's picture."""
    x, y = moved
    ends = [(_xy(each.dxf.start), _xy(each.dxf.end)) for each in picture
            if each.dxftype() == "LINE"]
    return tuple(Line((ax + x, ay + y), (bx + x, by + y)) for (ax, ay), (bx, by) in ends
                 if all(map(isfinite, (ax, ay, bx, by))))


def _put(text: Any) -> _Lettering:
    """Return a text with its middle."""
    said = plain(str(text.plain_text()))
    if text.dxftype() == "MTEXT":
        height = float(text.dxf.get("char_height", 0.0))
        spot = int(text.dxf.get("attachment_point", 1)) - 1
        across, up = 0.5 * (1 - spot % 3), 0.5 * (spot // 3 - 1)
        turn, at = radians(text.get_rotation()), _xy(text.dxf.insert)
    else:
        height = float(text.dxf.get("height", 0.0))
        turn = radians(float(text.dxf.get("rotation", 0.0)))
        row, column = int(text.dxf.get("halign", 0)), int(text.dxf.get("valign", 0))
        across = {0: 0.5, 2: -0.5}.get(row, 0.0)
        up = 0.0 if row == 4 else {0: 0.5, 1: 0.5, 3: -0.5}.get(column, 0.0)
        put = text.dxf.get("align_point") if row or column else None
        at = _xy(text.dxf.insert if put is None else put)
    x, y = across * LETTER * height * len(said), up * height
    return _Lettering(said, (at[0] + x * cos(turn) - y * sin(turn),
                             at[1] + x * sin(turn) + y * cos(turn)), height)


def _text_at(entity: Any, measured: _Measured, shown: _Lettering | None) -> XY:
    x, y = _xy(entity.dxf.get("text_midpoint", (0.0, 0.0)))
    if (x, y) != (0.0, 0.0):  # what some writers put where they have none
        return (-x if _mirrored(entity) else x, y)
    return shown.at if shown else measured.line_at


def _mirrored(entity: Any) -> bool:
    """Whether the plane that it is drawn in is seen from behind."""
    return float(entity.dxf.get("extrusion", (0.0, 0.0, 1.0))[2]) < 0.0


def _scaled(value: Any, scale: float) -> float | None:
    return None if value is None else scale * float(value)


def _apart(a: XY, b: XY) -> float:
    return hypot(b[0] - a[0], b[1] - a[1])


def _xy(point: Iterable[float]) -> XY:
    x, y, *_ = point
    return (float(x), float(y))
