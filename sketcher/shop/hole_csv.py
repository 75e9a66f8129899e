"""The list of holes as comma separated values: what a spreadsheet opens and a readout is fed.

Lengths have three decimals in mm and four in inches, zeros kept and with a point: half of the last
digit is less than an axis readout shows. Angles have four decimals of a degree, which is less than
two thousandths of a millimeter a meter out. What is not said of a kind of hole is left empty; bolt
circles stand below the holes.
"""

from __future__ import annotations

import csv
import io

from sketcher.geometry.curves import XY
from sketcher.quantity.format import rounded
from sketcher.quantity.table_cell import safe_cell
from sketcher.shop.bolt_circles import BoltCircle
from sketcher.shop.hole_rows import HoleList, HoleRow

PLACES = {"mm": 3, "in": 4}
ANGLE_PLACES = 4


def titles(unit: str) -> tuple[str, ...]:
    """Return the titles of the columns; lengths are in the unit, angles in degrees."""
    lengths = ("X", "Y", "diameter or width", "end 1 X", "end 1 Y", "end 2 X", "end 2 Y", "radius")
    return ("order", "name", "kind", "size", *(f"{title} ({unit})" for title in lengths),
            "first angle (deg)", "last angle (deg)", "count", "step (deg)", f"chord ({unit})",
            "bolt circle", "curves or holes")


def as_csv(holes: HoleList, separator: str = ",") -> str:
    """Return the list with a title line; a text is never one that a spreadsheet works out.

    A tab as `separator` is what spreadsheets take from a clipboard.
    """
    stream = io.StringIO()
    writer = csv.writer(stream, delimiter=separator, lineterminator="\r\n")
    writer.writerow(titles(holes.unit))
    for number, row in enumerate(holes.rows, 1):
        writer.writerow(map(safe_cell, _hole_cells(str(number), row, holes.unit)))
    for circle in holes.circles:
        writer.writerow(map(safe_cell, _circle_cells(circle, holes.unit)))
    return stream.getvalue()


def _hole_cells(number: str, row: HoleRow, unit: str) -> tuple[str, ...]:
    ends = [cell for end in row.ends for cell in _place(end, unit)] or [""] * 4
    angles = [_turn(turn) for turn in row.angles] if row.angles else ["", ""]
    return (number, row.name, row.kind, row.size, *_place(row.at, unit), _size(row.width, unit),
            *ends, _size(row.radius, unit) if row.radius else "", *angles, "", "", "", row.circle,
            " ".join(row.ids))


def _circle_cells(circle: BoltCircle, unit: str) -> tuple[str, ...]:
    step = ("", "") if circle.step is None or circle.chord is None else (
        _turn(circle.step), _size(circle.chord, unit))
    return ("", circle.name, "bolt circle", circle.size, *_place(circle.center, unit),
            _size(circle.diameter, unit), *[""] * 4, "", _turn(circle.first), "",
            str(len(circle.holes)), *step, "", " ".join(circle.holes))


def _place(at: XY, unit: str) -> tuple[str, str]:
    return _size(at[0], unit), _size(at[1], unit)


def _size(value: float, unit: str) -> str:
    return f"{rounded(value, PLACES[unit]):f}"


def _turn(degrees: float) -> str:
    return f"{rounded(degrees, ANGLE_PLACES):f}"
