"""Read a DXF: its curves, layers, unit and words.

World coordinates: entities that another program mirrored by turning their extrusion to -Z come out
where they really are. Damaged files are mended as far as that goes, and what was mended is told.
"""

from __future__ import annotations

import io
import logging
import struct
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from math import cos, isfinite, radians, sin
from pathlib import Path
from types import MappingProxyType
from typing import Any, Literal

from sketcher.errors import FileError
from sketcher.exchange.dxf_content import DxfContent, FileCurve, FileLayer
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.part.atomic import read_bytes
from sketcher.part.value import frozen

MAX_BYTES = 64 * 1024 * 1024
MAX_CURVES = 200_000
BINARY = b"\r\n\x1a\x00"
"""What ends the first 22 bytes of the binary form (DXF reference, binary DXF files)."""
MAX_DEPTH = 8
"""Blocks inside blocks; deeper nesting is taken for a block that holds itself."""

UNITS: Mapping[int, tuple[Literal["mm", "in"], float]] = MappingProxyType({
    1: ("in", 1.0), 2: ("in", 12.0), 4: ("mm", 1.0), 5: ("mm", 10.0), 6: ("mm", 1000.0),
    8: ("in", 1e-6), 9: ("in", 1e-3), 10: ("in", 36.0), 13: ("mm", 1e-3), 14: ("mm", 100.0),
})
"""$INSUNITS to the unit that the curves come out in, and the factor to it (DXF reference)."""

IGNORED = frozenset({"POINT", "TEXT", "MTEXT", "DIMENSION", "LEADER", "HATCH", "VIEWPORT", "ATTDEF",
                     "ATTRIB", "MLEADER", "MULTILEADER", "XLINE", "RAY", "SOLID", "IMAGE"})
"""Entities that carry no edge; they are left out without a word."""


class _Skip(Exception):
    """An entity that is no line and no arc."""


def arc_from_bulge(start: XY, end: XY, value: float) -> Arc:
    """Return the arc between two ends with a bulge other than zero."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    if value == 0.0 or dx == dy == 0.0:
        raise ValueError("a bulge of zero, or between equal ends, makes no arc")
    k = (1.0 - value) * (1.0 + value) / (4.0 * value)
    center = (start[0] + 0.5 * dx - k * dy, start[1] + 0.5 * dy + k * dx)
    return Arc(center, start, end, value > 0.0)


def read_dxf(path: str | Path) -> DxfContent:
    """Return the curves of the model space, blocks resolved.

    Raises
    ------
    FileError
        When the file is missing, too large, or no DXF.
    """
    path = Path(path)
    with _quiet():
        return _read(path)


def _read(path: Path) -> DxfContent:
    document, mended = _document(path)
    unit, factor = UNITS.get(_insunits(document), (None, 1.0))
    curves: list[FileCurve] = []
    skipped: Counter[str] = Counter()
    layers: dict[str, Counter[str]] = {}
    try:
        for number, entity in enumerate(_flat(document.modelspace()), 1):
            layer = str(entity.dxf.get("layer", "0"))
            layers.setdefault(layer, Counter())[entity.dxftype()] += 1
            try:
                curves += _curves(entity, number, layer)
            except _Skip:
                skipped[entity.dxftype()] += 1
            if len(curves) > MAX_CURVES:
                raise FileError(str(path), f"holds more than {MAX_CURVES} curves", "split it")
    except _unreadable() as error:
        raise _no_dxf(path, error) from None
    found = tuple(FileLayer(name, frozen(counts)) for name, counts in layers.items())
    return DxfContent(path.stem, tuple(curves), unit, factor, found, frozen(skipped), mended)


@contextmanager
def _quiet() -> Iterator[None]:
    """Keep the library's log off the terminal; what it mends is told in the content."""
    log = logging.getLogger("ezdxf")
    before = log.level
    log.setLevel(logging.CRITICAL)
    try:
        yield
    finally:
        log.setLevel(before)


def _document(path: Path) -> tuple[Any, tuple[str, ...]]:
    import ezdxf
    from ezdxf import recover

    data = read_bytes(path, MAX_BYTES)
    try:
        if b"ENTITIES" not in data:  # the library would make an empty drawing of anything
            raise ValueError
        if data[:22].endswith(BINARY):
            document = ezdxf.readfile(str(path))
            auditor = document.audit()
        else:
            document, auditor = recover.read(io.BytesIO(data))
    except _unreadable() as error:
        raise _no_dxf(path, error) from None
    problems = (*auditor.errors, *auditor.fixes)
    return document, tuple(str(problem.message) for problem in problems)


def _unreadable() -> tuple[type[Exception], ...]:
    """Everything that the library raises on a damaged file, besides its own errors."""
    from ezdxf.lldxf.const import DXFError

    return (DXFError, ValueError, LookupError, TypeError, AttributeError, ArithmeticError,
            AssertionError, struct.error, RecursionError)


def _no_dxf(path: Path, error: Exception) -> FileError:
    if isinstance(error, FileError):
        return error
    return FileError(str(path), "is not a readable DXF", "export it again as DXF R2000 or later")


def _insunits(document: Any) -> int:
    try:
        return int(document.header.get("$INSUNITS", 0))
    except (TypeError, ValueError):
        return 0


def _flat(entities: Iterable[Any], depth: int = 0) -> Iterator[Any]:
    """Yield the entities with block references resolved."""
    for entity in entities:
        if entity.dxftype() != "INSERT":
            yield entity
        elif depth < MAX_DEPTH:
            if entity.mcount > 1:
                yield from _flat(entity.multi_insert(), depth)
            else:
                yield from _flat(entity.virtual_entities(), depth + 1)


def _curves(entity: Any, number: int, layer: str) -> Iterator[FileCurve]:
    kind = entity.dxftype()
    if kind in IGNORED:
        return
    if kind not in _READERS:
        raise _Skip
    for curve in list(_READERS[kind](entity, 1.0)):
        if not _finite(curve):
            raise _Skip
        yield FileCurve(curve, number, layer)


def _line(entity: Any, factor: float) -> Iterator[Curve]:
    start, end = entity.dxf.start, entity.dxf.end
    yield Line((start.x * factor, start.y * factor), (end.x * factor, end.y * factor))


def _circle(entity: Any, factor: float) -> Iterator[Curve]:
    flip, center = _flip(entity), entity.dxf.center
    yield Circle((flip * center.x * factor, center.y * factor), abs(entity.dxf.radius) * factor)


def _arc(entity: Any, factor: float) -> Iterator[Curve]:
    flip, center, radius = _flip(entity), entity.dxf.center, abs(entity.dxf.radius)
    ends = [
        (flip * (center.x + radius * cos(a)) * factor, (center.y + radius * sin(a)) * factor)
        for a in (radians(entity.dxf.start_angle), radians(entity.dxf.end_angle))
    ]
    yield Arc((flip * center.x * factor, center.y * factor), ends[0], ends[1], flip > 0.0)


def _lwpolyline(entity: Any, factor: float) -> Iterator[Curve]:
    points = [(x, y, b) for x, y, b in entity.get_points("xyb")]
    yield from _segments(points, entity.closed, _flip(entity), factor)


def _polyline(entity: Any, factor: float) -> Iterator[Curve]:
    if not entity.is_2d_polyline or entity.dxf.get("flags", 0) & (2 | 4):
        raise _Skip  # meshes, and polylines smoothed into curves that are no arcs
    points = [
        (v.dxf.location.x, v.dxf.location.y, float(v.dxf.get("bulge", 0.0)))
        for v in entity.vertices
    ]
    yield from _segments(points, entity.is_closed, _flip(entity), factor)


def _segments(
    points: list[tuple[float, float, float]], closed: bool, flip: float, factor: float
) -> Iterator[Curve]:
    at: list[XY] = [(flip * x * factor, y * factor) for x, y, _ in points]
    last = len(points) if closed else len(points) - 1
    for index in range(last):
        start, end = at[index], at[(index + 1) % len(at)]
        if start != end:
            bulge = flip * points[index][2]
            yield arc_from_bulge(start, end, bulge) if bulge else Line(start, end)


def _flip(entity: Any) -> float:
    """-1 where the entity's plane looks down; other tilts are no flat drawing.

    With the extrusion (0, 0, -1) the entity's x runs against the world's (DXF reference, arbitrary
    axis algorithm).
    """
    x, y, z = entity.dxf.get("extrusion", (0.0, 0.0, 1.0))
    if abs(x) > 1e-9 * abs(z) or abs(y) > 1e-9 * abs(z) or z == 0.0:
        raise _Skip
    return 1.0 if z > 0.0 else -1.0


def _finite(curve: Curve) -> bool:
    if isinstance(curve, Circle):
        return all(map(isfinite, (*curve.center, curve.radius))) and curve.radius > 0.0
    places = (*curve.start, *curve.end, *(curve.center if isinstance(curve, Arc) else ()))
    return all(map(isfinite, places)) and (isinstance(curve, Line) or curve.radius > 0.0)


_READERS = {"LINE": _line, "CIRCLE": _circle, "ARC": _arc, "LWPOLYLINE": _lwpolyline,
            "POLYLINE": _polyline}
