"""A cutting file in the oldest form that controllers read: R12, and of it the least.

LINE, ARC, CIRCLE, POINT and POLYLINE with its VERTEX and SEQEND; a header with the version and the
extents; the layers and the one line type that they name; nothing else. Lines end with CR LF, all is
ASCII. Group codes and their order by the published DXF reference of R12 (AC1009), from memory.

R12 has no unit in its header: it stands in a comment, and has to stand in the file's name.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees
from typing import TypeAlias

from sketcher.exchange.cut_entities import CutEntity, CutPolyline
from sketcher.exchange.dxf_numbers import BEND_PLACES, fixed
from sketcher.geometry.bounds import Box
from sketcher.geometry.curves import XY, Arc, Circle, Line

Group: TypeAlias = tuple[int, str]

SMOOTH = "CONTINUOUS"


def r12_bytes(
    entities: Sequence[CutEntity], layers: Sequence[str], box: Box, comments: Sequence[str]
) -> bytes:
    """Return a DXF R12.

    Parameters
    ----------
    entities : sequence of CutEntity
        In the order of the file.
    layers : sequence of str
        Every layer that they stand on.
    box : (x0, y0, x1, y1)
        Around all of them.
    comments : sequence of str
        Lines at the head of the file, in ASCII.
    """
    groups = [*((999, line) for line in comments), *_header(box), *_tables(layers),
              *_section("ENTITIES"), *(group for each in entities for group in _entity(each)),
              (0, "ENDSEC"), (0, "EOF")]
    return "".join(f"{code:3d}\r\n{value}\r\n" for code, value in groups).encode("ascii")


def _section(name: str) -> tuple[Group, Group]:
    return (0, "SECTION"), (2, name)


def _header(box: Box) -> Iterator[Group]:
    x0, y0, x1, y1 = box
    yield from _section("HEADER")
    yield from ((9, "$ACADVER"), (1, "AC1009"))
    yield (9, "$EXTMIN")
    yield from _place((x0, y0))
    yield (9, "$EXTMAX")
    yield from _place((x1, y1))
    yield (0, "ENDSEC")


def _tables(layers: Sequence[str]) -> Iterator[Group]:
    """Yield line types and layers; all in color 7, the reader's own black or white."""
    yield from _section("TABLES")
    yield from ((0, "TABLE"), (2, "LTYPE"), (70, "1"))
    yield from ((0, "LTYPE"), (2, SMOOTH), (70, "0"), (3, "Solid line"), (72, "65"), (73, "0"),
                (40, "0.0"))
    yield (0, "ENDTAB")
    names = ("0", *layers)
    yield from ((0, "TABLE"), (2, "LAYER"), (70, str(len(names))))
    for name in names:
        yield from ((0, "LAYER"), (2, name), (70, "0"), (62, "7"), (6, SMOOTH))
    yield from ((0, "ENDTAB"), (0, "ENDSEC"))


def _entity(entity: CutEntity) -> Iterator[Group]:
    layer, shape = (8, entity.layer), entity.shape
    if isinstance(shape, CutPolyline):
        yield from _polyline(shape, layer)
    elif isinstance(shape, Line):
        yield from ((0, "LINE"), layer, *_place(shape.start), *_place(shape.end, 1))
    elif isinstance(shape, Circle):
        yield from ((0, "CIRCLE"), layer, *_place(shape.center), (40, fixed(shape.radius)))
    elif isinstance(shape, Arc):
        start, end = arc_angles(shape)
        yield from ((0, "ARC"), layer, *_place(shape.center), (40, fixed(shape.radius)),
                    (50, fixed(start)), (51, fixed(end)))
    else:
        yield from ((0, "POINT"), layer, *_place(shape))


def _polyline(shape: CutPolyline, layer: Group) -> Iterator[Group]:
    yield from ((0, "POLYLINE"), layer, (66, "1"), *_place((0.0, 0.0)),
                (70, "1" if shape.closed else "0"))
    for x, y, bend in shape.vertices:
        yield from ((0, "VERTEX"), layer, *_place((x, y)))
        if bend:
            yield (42, fixed(bend, BEND_PLACES))
    yield from ((0, "SEQEND"), layer)


def _place(at: XY, end: int = 0) -> Iterator[Group]:
    """Yield the groups of a place; `end` is 1 for the second one of an entity."""
    yield from ((10 + end, fixed(at[0])), (20 + end, fixed(at[1])), (30 + end, "0.0"))


def arc_angles(arc: Arc) -> tuple[float, float]:
    """Return from where to where an ARC goes, which is always counter-clockwise, in degrees."""
    start = degrees(arc.start_angle) % 360.0
    end = degrees(arc.start_angle + arc.sweep) % 360.0
    return (start, end) if arc.ccw else (end, start)
