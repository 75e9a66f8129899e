"""The inspection as text for a terminal: a verdict, what to mend, and the tables behind it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import atan2, degrees, hypot
from textwrap import wrap
from typing import TYPE_CHECKING

from sketcher.inspect.findings import CODES
from sketcher.inspect.rules import CAUTION
from sketcher.inspect.suited_processes import suited
from sketcher.inspect.words import (
    angle,
    bare_amount,
    bare_length,
    length,
    listed,
    plural,
    some,
    spot,
    without_rounding,
)
from sketcher.part.materials import gauge_of

if TYPE_CHECKING:
    from sketcher.inspect.inspection import Inspection

WIDTH = 100
"""Letters in a line of running text."""
STATES = {
    "bound": "bound: nothing can move, the dimensions say everything",
    "loose": "loose: something can still move",
    "clashing": "clashing: some bindings cannot all hold",
}


def as_text(inspection: Inspection) -> str:
    """Return the whole inspection; lines are at most about a hundred characters."""
    parts = [
        _head(inspection), _findings(inspection), _meanings(inspection), _dimensions(inspection),
        _joints(inspection), _touches(inspection), _profile(inspection), _symmetry(inspection),
        _cutting(inspection),
    ]
    return "\n\n".join("\n".join(part) for part in map(list, parts) if part) + "\n"


def table(heads: Sequence[str], rows: Iterable[Sequence[str]], right: str = "") -> Iterator[str]:
    """Yield the lines of a table; `right` names the columns (by their letter) set to the right.

    Columns are lettered ``a``, ``b``, ... from the left.
    """
    rows = [list(row) for row in rows]
    widths = [max(len(row[i]) for row in [list(heads), *rows]) for i in range(len(heads))]
    for row in [list(heads), *rows]:
        cells = [
            cell.rjust(width) if chr(97 + i) in right else cell.ljust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        yield "  " + "  ".join(cells).rstrip()


def _head(inspection: Inspection) -> Iterator[str]:
    part, report = inspection.part, inspection.report
    yield f"{part.name}: {inspection.verdict.lower()}"
    yield f"  {STATES[report.state]}"
    if report.freedoms:
        yield f"  {plural(report.freedoms, 'freedom')} left"
    for loose in report.loose:
        ways = " and ".join(_direction(*way) for way in loose.directions) or "its radius"
        yield f"    {loose.point} can still move: {ways}"
    if report.doubled:
        yield (f"  redundant, and they agree: {', '.join(report.doubled)}; "
               "make them references, or leave them out")


def _direction(dx: float, dy: float) -> str:
    if abs(dy) < 1e-6 or abs(dx) < 1e-6:
        return "level" if abs(dy) < abs(dx) else "plumb"
    return f"at {angle(round(degrees(atan2(dy, dx)) % 180.0, 2))} from level"


def _findings(inspection: Inspection) -> Iterator[str]:
    if inspection.findings:
        yield "To mend"
        rows = [(f.code, f.where, f.text) for f in inspection.findings]
        yield from table(("finding", "where", "what"), rows)


def _meanings(inspection: Inspection) -> Iterator[str]:
    codes = dict.fromkeys(f.code for f in inspection.findings)
    if codes:
        yield "What it means and what mends it"
        for code in codes:
            meaning = CODES[code]
            yield from wrap(f"{code}: {meaning.why} {meaning.mend}", WIDTH,
                            initial_indent="  ", subsequent_indent="    ")


def _dimensions(inspection: Inspection) -> Iterator[str]:
    unit = inspection.part.unit
    if not inspection.dimensions:
        return
    yield f"Dimensions ({unit}, degrees); residual = actual - wanted"
    rows = []
    for row in inspection.dimensions:
        limits = ""
        if row.limits:
            low, high = (bare_amount(v, row.quantity, unit) for v in row.limits)
            limits = f"{low} to {high}"
        rows.append((
            row.id, row.kind, " ".join(row.of), bare_amount(row.wanted, row.quantity, unit),
            bare_amount(row.actual, row.quantity, unit), f"{row.residual:.1e}", limits,
            "" if row.drives else "reference", "ok" if row.within else "OUT",
        ))
    heads = ("id", "kind", "of", "wanted", "actual", "residual", "limits", "", "")
    yield from table(heads, rows, right="def")


def _joints(inspection: Inspection) -> Iterator[str]:
    unit = inspection.part.unit
    if not inspection.joints:
        return
    yield f"Joints ({unit}, degrees); angle = break of direction, residual = off tangency"
    rows = [
        (
            " ".join(joint.between), spot(joint.at, unit),
            f"{joint.state}{' (bound)' if joint.bound else ''}", f"{joint.gap:.1e}",
            angle(0.0 if joint.angle <= joint.floor else degrees(joint.angle)),
            "" if joint.residual is None else f"{joint.residual:.1e}",
        )
        for joint in inspection.joints
    ]
    yield from table(("between", "at", "state", "gap", "angle", "residual"), rows, right="def")


def _touches(inspection: Inspection) -> Iterator[str]:
    unit = inspection.part.unit
    if not inspection.touches:
        return
    yield f"Touches ({unit}, degrees): bound tangent without a shared end"
    rows = [
        (touch.id, " ".join(touch.between), spot(touch.at, unit), f"{touch.residual:.1e}",
         angle(degrees(touch.angle)))
        for touch in inspection.touches
    ]
    yield from table(("id", "between", "at", "residual", "angle"), rows, right="de")


def _profile(inspection: Inspection) -> Iterator[str]:
    profile, unit = inspection.profile, inspection.part.unit
    yield f"Profile ({unit}): {'closed' if profile.closed else 'NOT closed'}"
    rows = [
        (loop.lies, plural(len(loop.ids), "curve"),
         bare_length(loop.area, unit), bare_length(loop.perimeter, unit),
         " ".join(loop.ids[:8]) + (" ..." if len(loop.ids) > 8 else ""))
        for loop in profile.loops
    ]
    if rows:
        yield from table(("contour", "", "area", "perimeter", "curves"), rows, right="cd")
    if profile.moments:
        x0, y0, x1, y1 = profile.bounds
        size = hypot(x1 - x0, y1 - y0)
        at = profile.moments.centroid
        center = (without_rounding(at[0], size), without_rounding(at[1], size))
        ix, iy, ixy = profile.moments.central
        ixy = without_rounding(ixy, ix + iy)
        yield f"  area {bare_length(profile.area, unit)} {unit}²"
        yield f"  all edges {length(profile.perimeter, unit)}"
        yield f"  centroid {spot(center, unit)}"
        yield f"  about the centroid Ix {ix:.8g}, Iy {iy:.8g}, Ixy {ixy:.8g} {unit}⁴"
        yield f"  fits in {bare_length(x1 - x0, unit)} x {length(y1 - y0, unit)}"
        yield f"  mass {mass_words(inspection)}"


def mass_words(inspection: Inspection) -> str:
    """Return the mass with what it goes by, or why it is not known."""
    material, unit = inspection.part.material, inspection.part.unit
    thick, mass = length(material.thickness, unit), inspection.profile.mass
    gauge = gauge_of(material.name, material.thickness, unit)
    of = f"{material.name or 'no material given'}, {thick}{f', {gauge} gauge' if gauge else ''}"
    return f"{mass:.4g} kg ({of})" if mass is not None else f"not known: no density ({of})"


def _symmetry(inspection: Inspection) -> Iterator[str]:
    unit = inspection.part.unit
    for symmetry in inspection.symmetries:
        off = angle(symmetry.off_axis_deg)
        way = (symmetry.nearer if symmetry.off_axis_deg < 1e-9
               else f"{off} off {symmetry.nearer}")
        yield f"Symmetry about {symmetry.axis}: {way}"
        if symmetry.on_axis:
            yield f"  their own reflection: {listed(symmetry.on_axis)}"
        if symmetry.one_sided:
            yield f"  on one side only: {listed(symmetry.one_sided)}"
        if symmetry.crossing:
            yield f"  across the axis: {listed(symmetry.crossing)}"
        rows = [
            (" ".join(joint.between), spot(joint.at, unit),
             "smooth" if joint.smooth else f"corner of {angle(joint.angle_deg)}")
            for joint in symmetry.joints
        ]
        if rows:
            yield from table(("the halves join at", "at", ""), rows)


def _cutting(inspection: Inspection) -> Iterator[str]:
    unit = inspection.part.unit
    yield f"Cutting advice ({CAUTION})"
    for finding in inspection.cut_findings:
        yield from wrap(f"{finding.code}: {finding.text}. {finding.mend}", WIDTH,
                        initial_indent="  ", subsequent_indent="    ")
    if not inspection.advised:
        yield f"  {inspection.unadvised}"
        return
    yield from _remarks(inspection)
    if not inspection.cutting:
        cutters = " or ".join(f"a {each}" for each in suited(
            inspection.part.material.name, inspection.processes))
        yield f"  nothing that {cutters} cutter should mind"
        return
    alike: dict[tuple[str, ...], list[str]] = {}
    for advice in inspection.cutting:
        key = (advice.rule, advice.process, length(advice.found, unit),
               f"{'at most' if advice.most else 'at least'} {length(advice.wanted, unit)}",
               advice.why)
        alike.setdefault(key, []).append(advice.where)
    rows = [(*key[:4], some(where)) for key, where in alike.items()]
    yield from table(("rule", "process", "found", "wanted", "where"), rows, right="c")
    for rule, why in dict.fromkeys((advice.rule, advice.why) for advice in inspection.cutting):
        yield f"  {rule}: {why}"


def _remarks(inspection: Inspection) -> Iterator[str]:
    for remark in inspection.remarks:
        about = "" if remark.processes == inspection.processes else f"{listed(remark.processes)}: "
        yield from wrap(f"{about}{remark.text}", WIDTH, initial_indent="  ",
                        subsequent_indent="    ")
