"""Invented foreign drawings: plates with what goes wrong in files from elsewhere."""

from __future__ import annotations

from pathlib import Path

from sketcher.exchange.dxf_content import DxfContent, FileCurve, FileLayer
from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.part.value import Unit


def plate_curves(left: float = 0.0, gap: float = 0.01) -> list[Curve]:
    """A plate of 90 by 50 with two holes; a gap at its upper right corner, one edge drawn twice."""
    right = left + 90.0
    return [
        Line((left, 0.0), (right, 0.0)), Line((right, 0.0), (right, 50.0 - gap)),
        Line((right, 50.0), (left, 50.0)), Line((left, 50.0), (left, 0.0)),
        Line((left, 0.0), (left, 50.0)),
        Circle((left + 20.0, 25.0), 4.0), Circle((left + 65.0, 25.0), 6.0),
    ]


def content(curves: list[Curve], unit: Unit | None = "mm") -> DxfContent:
    """Return curves as they are read from a file, all of them on one layer."""
    layer = FileLayer("0", {"LINE": sum(isinstance(c, Line) for c in curves),
                            "CIRCLE": sum(isinstance(c, Circle) for c in curves)})
    return DxfContent("plate", tuple(FileCurve(curve, number) for number, curve in
                                     enumerate(curves, 1)), unit, layers=(layer,))


def written(path: Path, curves: list[Curve], unit: Unit | None = "mm") -> Path:
    """Write lines and circles as a DXF, of the oldest kind that readers take."""
    tags: list[tuple[int, object]] = [(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"),
                                      (1, "AC1015")]
    if unit is not None:
        tags += [(9, "$INSUNITS"), (70, 4 if unit == "mm" else 1)]
    tags += [(0, "ENDSEC"), (0, "SECTION"), (2, "ENTITIES")]
    for curve in curves:
        if isinstance(curve, Line):
            tags += [(0, "LINE"), (8, "0"), (10, curve.start[0]), (20, curve.start[1]),
                     (11, curve.end[0]), (21, curve.end[1])]
        elif isinstance(curve, Circle):
            tags += [(0, "CIRCLE"), (8, "0"), (10, curve.center[0]), (20, curve.center[1]),
                     (40, curve.radius)]
    tags += [(0, "ENDSEC"), (0, "EOF")]
    path.write_text("".join(f"{code}\n{value}\n" for code, value in tags))
    return path
