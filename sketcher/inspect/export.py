"""The inspection as a file: CSV for a spreadsheet, HTML for reading and printing."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from html import escape
from math import degrees
from typing import TYPE_CHECKING, NamedTuple

from sketcher.inspect.findings import CODES
from sketcher.inspect.rules import CAUTION
from sketcher.inspect.words import amount, angle, length, spot

if TYPE_CHECKING:
    from sketcher.inspect.inspection import Inspection


class ReportTable(NamedTuple):
    """One table: title, column heads and rows; numbers stay numbers."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str | float | None, ...], ...]


def sheets(inspection: Inspection) -> tuple[ReportTable, ...]:
    """Return every table of the inspection, in full precision, units in the heads."""
    return tuple(sheet for sheet in _sheets(inspection) if sheet.rows)


def as_csv(inspection: Inspection) -> str:
    """Return all tables one under the other; numbers with a decimal point, in full precision.

    A text that a spreadsheet would take for a formula gets an apostrophe in front.
    """
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow([_safe(inspection.part.name), inspection.part.unit, inspection.verdict])
    for sheet in sheets(inspection):
        writer.writerow([])
        writer.writerow([sheet.title])
        writer.writerow(sheet.heads)
        writer.writerows([_safe(cell) for cell in row] for row in sheet.rows)
    return stream.getvalue()


def _safe(cell: str | float | None) -> str:
    if cell is None:
        return ""
    if isinstance(cell, float):
        return repr(cell)
    return f"'{cell}" if cell[:1] in {"=", "+", "-", "@", "\t", "\r"} else cell


STYLE = """
body { font: 14px/1.4 sans-serif; color: #111; background: #fff; margin: 2em; max-width: 70em; }
table { border-collapse: collapse; margin: 0 0 1.5em; }
th, td { padding: .15em .8em .15em 0; text-align: left; border-bottom: 1px solid #ccc; }
td.number { text-align: right; font-variant-numeric: tabular-nums; }
p.verdict { font-size: 1.3em; font-weight: bold; }
@media print { body { margin: 0; } tr { break-inside: avoid; } }
"""


def as_html(inspection: Inspection) -> str:
    """Return one page that needs nothing else, with every table."""
    name = escape(inspection.part.name)
    body = [f"<h1>{name}</h1>", f'<p class="verdict">{escape(inspection.verdict)}</p>']
    for sheet in sheets(inspection):
        body.append(f"<h2>{escape(sheet.title)}</h2>")
        body.append(_html_table(sheet))
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        f"<title>Inspection of {name}</title><style>{STYLE}</style></head>\n<body>\n"
        + "\n".join(body) + "\n</body></html>\n"
    )


def _html_table(sheet: ReportTable) -> str:
    heads = "".join(f"<th>{escape(head)}</th>" for head in sheet.heads)
    rows = "\n".join(
        "<tr>" + "".join(_html_cell(cell) for cell in row) + "</tr>" for row in sheet.rows
    )
    return f"<table><thead><tr>{heads}</tr></thead><tbody>\n{rows}\n</tbody></table>"


def _html_cell(cell: str | float | None) -> str:
    if isinstance(cell, float):
        return f'<td class="number">{cell:.10g}</td>'
    return f"<td>{escape(cell or '')}</td>"


def _sheets(inspection: Inspection) -> Iterator[ReportTable]:
    unit = inspection.part.unit
    yield ReportTable("To mend", ("finding", "where", "found", "wanted", "what"), tuple(
        (f.code, f.where, f.found, f.wanted, f.text) for f in inspection.findings
    ))
    yield ReportTable("What it means and what mends it", ("finding", "why", "remedy"), tuple(
        (code, CODES[code].why, CODES[code].mend)
        for code in dict.fromkeys(f.code for f in inspection.findings)
    ))
    yield ReportTable(
        f"Dimensions ({unit}, degrees)",
        ("id", "kind", "of", "wanted", "actual", "residual", "lower limit", "upper limit", "use",
         "within"),
        tuple(
            (row.id, row.kind, " ".join(row.of), row.wanted, row.actual, row.residual,
             row.limits[0] if row.limits else None, row.limits[1] if row.limits else None,
             "drives" if row.drives else "reference", "yes" if row.within else "NO")
            for row in inspection.dimensions
        ),
    )
    yield ReportTable(
        f"Joints ({unit}, degrees)",
        ("between", "x", "y", "state", "bound", "gap", "angle", "residual"),
        tuple(
            (" ".join(joint.between), *joint.at, joint.state, "yes" if joint.bound else "no",
             joint.gap, degrees(joint.angle), joint.residual)
            for joint in inspection.joints
        ),
    )
    yield ReportTable(
        f"Touches ({unit}, degrees)", ("id", "between", "x", "y", "residual", "angle"),
        tuple(
            (touch.id, " ".join(touch.between), *touch.at, touch.residual, degrees(touch.angle))
            for touch in inspection.touches
        ),
    )
    yield from _profile_sheets(inspection)
    yield ReportTable(
        f"Cutting advice ({unit}; {CAUTION})",
        ("rule", "process", "where", "found", "wanted", "why"),
        tuple(
            (advice.rule, advice.process, advice.where, advice.found, advice.wanted, advice.why)
            for advice in inspection.cutting
        ) if inspection.advised else (("", "", "", "", "", inspection.unadvised),),
    )
    heads = ("about", "processes", "what")
    yield ReportTable("What the material and the tables say of the cut", heads, (
        *((finding.code, "", f"{finding.text}. {finding.mend}")
          for finding in inspection.cut_findings),
        *((remark.rule, ", ".join(remark.processes), remark.text)
          for remark in inspection.remarks),
    ))


def _profile_sheets(inspection: Inspection) -> Iterator[ReportTable]:
    unit, profile = inspection.part.unit, inspection.profile
    yield ReportTable(f"Contours ({unit})", ("kind", "curves", "area", "perimeter"), tuple(
        (loop.lies, " ".join(loop.ids), loop.area, loop.perimeter)
        for loop in profile.loops
    ))
    if profile.moments:
        x, y = profile.moments.centroid
        ix, iy, ixy = profile.moments.central
        rows: Sequence[tuple[str, float | None, str]] = (
            ("area", profile.area, f"{unit}²"), ("all edges", profile.perimeter, unit),
            ("centroid x", x, unit), ("centroid y", y, unit),
            ("Ix about the centroid", ix, f"{unit}⁴"), ("Iy about the centroid", iy, f"{unit}⁴"),
            ("Ixy about the centroid", ixy, f"{unit}⁴"), ("mass", profile.mass, "kg"),
        )
        yield ReportTable("Plate", ("what", "value", "unit"), tuple(rows))


__all__ = ["ReportTable", "amount", "angle", "as_csv", "as_html", "length", "sheets", "spot"]
