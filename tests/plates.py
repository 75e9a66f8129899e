"""Plates for tests, written as short tables; inspected as they stand, without a solve."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sketcher.inspect.inspection import Inspection, inspect_part
from sketcher.part.value import (
    ArcCurve,
    Binding,
    CircleCurve,
    LineCurve,
    Material,
    Mirror,
    Part,
    PartCurve,
    Role,
    frozen,
)
from sketcher.solve.solve_report import SolveReport

XY = tuple[float, float]
Row = Sequence[Any]


def curve(row: Row, role: Role = "outline") -> PartCurve:
    """(p, q) is a line, (p, q, center, turn) an arc, (center, radius) a circle."""
    if len(row) == 4:
        return ArcCurve((row[0], row[1]), row[2], row[3], role)
    if isinstance(row[1], str):
        return LineCurve((row[0], row[1]), role)
    return CircleCurve(row[0], float(row[1]), role)


def plate(
    points: Mapping[str, XY],
    curves: Mapping[str, Row],
    *bindings: Binding,
    roles: Mapping[str, Role] | None = None,
    axis: str = "",
    **fields: Any,
) -> Part:
    """Part with bindings b1, b2, ...; `axis` names the curve that reflects the outline."""
    roles = roles or {}
    drawn = {name: curve(row, roles.get(name, "outline")) for name, row in curves.items()}
    mirrors = (Mirror(axis),) if axis else ()
    thickness = fields.pop("thickness", 3.0)
    return Part(
        points=frozen(points), curves=frozen(drawn), mirrors=mirrors,
        bindings=frozen({f"b{k}": b for k, b in enumerate(bindings, 1)}),
        material=Material("mild steel", thickness, 7850.0), **fields,
    )


def polygon(*corners: XY, prefix: str = "p") -> tuple[dict[str, XY], dict[str, Row]]:
    """Points and lines of a closed polygon."""
    points = {f"{prefix}{k}": at for k, at in enumerate(corners, 1)}
    names = list(points)
    lines = {
        f"{prefix}e{k}": (name, names[k % len(names)]) for k, name in enumerate(names, 1)
    }
    return points, lines


def rectangle(width: float, height: float, at: XY = (0.0, 0.0), prefix: str = "p"
              ) -> tuple[dict[str, XY], dict[str, Row]]:
    """Points and lines of a rectangle with its lower left corner at a place."""
    x, y = at
    return polygon((x, y), (x + width, y), (x + width, y + height), (x, y + height), prefix=prefix)


def bound() -> Part:
    """Rectangle of 40 by 20 with every dimension."""
    points, lines = rectangle(40.0, 20.0)
    return plate(
        points, lines, Binding("fixed", ("p1",)), Binding("level", ("pe1",)),
        Binding("level", ("pe3",)), Binding("plumb", ("pe2",)), Binding("plumb", ("pe4",)),
        Binding("run", ("p1", "p2"), "40"), Binding("rise", ("p1", "p4"), "20"),
    )


def looked_at(part: Part, **report: Any) -> Inspection:
    """Inspection of a part as it stands, taken as solved."""
    return inspect_part(part, SolveReport(**report))


def codes(inspection: Inspection) -> list[str]:
    """Codes of all findings."""
    return [finding.code for finding in inspection.findings]


def left_the_axis() -> Part:
    """Return a half of 30 by 40 with nothing that holds its ends along the edges."""
    points, lines = rectangle(33.0, 40.0, at=(-3.0, 0.0))
    lines = {name: row for name, row in lines.items() if name != "pe4"}
    return plate({**points, "a": (0.0, -5.0), "b": (0.0, 45.0)}, {**lines, "ax": ("a", "b")},
                 *(Binding("fixed", (name,)) for name in ("a", "b", "p2", "p3")),
                 Binding("level", ("pe1",)), Binding("level", ("pe3",)),
                 roles={"ax": "axis"}, axis="ax")
