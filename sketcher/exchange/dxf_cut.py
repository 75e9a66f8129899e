"""The DXF for a cutter: closed contours only, true arcs, real coordinates, nothing else.

- What stands in the file and in which order, `cut_entities` says: punch marks first, then the paths
  as planned, inside before outside, so that a part is held by its sheet while its holes are cut
  (common practice, no source). What lies off the plate or inside a hole is no part of it and not in
  the file.
- All layers are in the reader's default color.
- Numbers are in fixed point (`dxf_numbers`), and the extents are set.
- Comments at the head say the unit, and whether the contours are offset for a kerf. R2000 has the
  unit in its header too ($INSUNITS, $MEASUREMENT); of R12 (`dxf_r12`) the name has to say it.
- Without a kerf the size is nominal, and the cutter's own program offsets it, once; with one the
  names of the layers carry it (`shop.cut_layers`).
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from os.path import basename
from pathlib import Path
from typing import Any, Literal, TypeAlias

from sketcher.exchange.cut_entities import (
    CutEntity,
    CutPolyline,
    box_of_file,
    entities_of,
    layers_of,
)
from sketcher.exchange.dxf_bytes import dxf_bytes, new_document
from sketcher.exchange.dxf_numbers import in_fixed_point
from sketcher.exchange.dxf_r12 import arc_angles, r12_bytes
from sketcher.exchange.outputs import MADE_HERE
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.inspect.inspection import Inspection
from sketcher.inspect.words import length
from sketcher.part.atomic import Put, write_bytes
from sketcher.quantity.units import SPELLINGS, UNIT_NAMES
from sketcher.shop.cut_layers import INSIDE, LEAD, MARK, OUTSIDE
from sketcher.shop.cut_plan import CutPlan, CutSettings
from sketcher.shop.planning import plan_cut

CutForm: TypeAlias = Literal["r2000", "r12"]
FORMS: tuple[CutForm, ...] = ("r2000", "r12")
"""Versions of the DXF that a cut is written in, by the year's and the release's usual names."""


@dataclass(frozen=True, slots=True)
class CutFile:
    """What was written: the plan, and what has to be minded of the file itself."""

    plan: CutPlan
    minded: tuple[str, ...] = ()

    @property
    def inside(self) -> int:
        """Number of inside contours."""
        return sum(path.contour.hole for path in self.plan.paths)

    @property
    def outside(self) -> int:
        """Number of outside contours."""
        return len(self.plan.paths) - self.inside

    @property
    def length(self) -> float:
        """Length of all cuts in the part's unit."""
        return self.plan.length


def write_cut(
    inspection: Inspection, path: str | Path, pieces: bool = False,
    despite: Collection[str] = (), put: Put = write_bytes, settings: CutSettings | None = None,
    form: CutForm = "r2000",
) -> CutFile:
    """Write the cutting DXF of an inspected part, in one step.

    Parameters
    ----------
    inspection : Inspection
        Of the solved part.
    path : path-like
        The file to write.
    pieces : bool
        Lines and arcs one by one in place of polylines.
    despite : collection of str
        Codes of findings with which it may be cut all the same. Of a part with a ``detached``
        finding the plate alone is written.
    put : callable
        Takes path and content; left out, the file is written in one step.
    settings : CutSettings, optional
        Kerf, lead-ins and all else that is chosen for a cut.
    form : "r2000" or "r12"

    Raises
    ------
    ExportError
        When the part has a finding that is not named, or one with which no cutter can make it; the
        error names them. Nothing is written.
    FileError
        When the file cannot be written.
    """
    return write_plan(plan_cut(inspection, settings, despite), path, pieces, put, form)


def write_plan(
    plan: CutPlan, path: str | Path, pieces: bool = False, put: Put = write_bytes,
    form: CutForm = "r2000",
) -> CutFile:
    """Write the cutting DXF of a plan, as `write_cut` does.

    Raises
    ------
    FileError
        When the file cannot be written.
    """
    put(path, cut_bytes(plan, pieces, form))
    return CutFile(plan, named_unit(path, plan.unit) if form == "r12" else ())


def cut_bytes(plan: CutPlan, pieces: bool = False, form: CutForm = "r2000") -> bytes:
    """Return the cutting DXF of a plan; the same plan always gives the same bytes."""
    comments = comments_of(plan)
    if form == "r12":
        return r12_bytes(entities_of(plan, pieces), layers_of(plan), box_of_file(plan), comments)
    text = dxf_bytes(cut_document(plan, pieces)).decode("ascii")
    return (_comments(comments) + in_fixed_point(text)).encode("ascii")


def comments_of(plan: CutPlan) -> tuple[str, ...]:
    """Return what stands at the head of a plan's file."""
    kerf = plan.settings.kerf
    offset = (f"offset for a kerf of {length(kerf, plan.unit)}, do not offset it again" if kerf else
              "nominal size, not offset for the kerf")
    lines = [f"{MADE_HERE}, cutting file", f"unit {plan.unit}", offset]
    if plan.marks:
        lines.append(f"layer {MARK}: punch marks, not cut through")
    if LEAD in layers_of(plan):
        lines.append(f"layer {LEAD}: lead-ins and lead-outs, each meets its contour end to end")
    if any(path.tabs for path in plan.paths):
        lines.append("open contours: their gaps are tabs, not cut")
    return tuple(lines)


def _comments(lines: Collection[str]) -> str:
    return "".join(f"999\n{line}\n" for line in lines)


def named_unit(path: str | Path, unit: str) -> tuple[str, ...]:
    """Return what is wrong with the name of a file that has its unit nowhere else; mostly nothing.

    R12 has no unit in its header, and a shop that takes the wrong one cuts 25.4 times too large.
    """
    name = basename(path)
    stem, ending = Path(name).stem, Path(name).suffix
    words = re.findall("[a-z]+", stem.lower())
    said = SPELLINGS.get(words[-1]) if words else None
    if said == unit:
        return ()
    if said in UNIT_NAMES:
        stem = stem[:stem.lower().rindex(words[-1])].rstrip(" -_.") or "cut"
        return (f"{name} ends like a file in {said}, and it is in {unit}: name it "
                f"{name_with_unit(stem, unit)}{ending}",)
    return (f"R12 has no unit in its header, and this one is in {unit}: put it in the name, "
            f"{name_with_unit(stem, unit)}{ending}",)


def name_with_unit(stem: str, unit: str) -> str:
    """Return the name of a file, without its ending, that says its unit."""
    return f"{stem}-{unit}"


def cut_document(plan: CutPlan, pieces: bool = False) -> Any:
    """Return the drawing in memory, as an ezdxf document of version R2000."""
    document = new_document("R2000", plan.unit)
    for layer in layers_of(plan):
        document.layers.add(layer, color=7)
    space = document.modelspace()
    for entity in entities_of(plan, pieces):
        _add(space, entity)
    x0, y0, x1, y1 = box_of_file(plan)
    space.reset_extents((x0, y0, 0.0), (x1, y1, 0.0))
    # The library leaves the header alone where a corner lies at zero.
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (x0, y0, 0.0), (x1, y1, 0.0)
    for paper in document.layout_names()[1:]:
        document.layout(paper).reset_extents((0.0, 0.0, 0.0), (0.0, 0.0, 0.0))
    return document


def _add(space: Any, entity: CutEntity) -> None:
    look, shape = {"layer": entity.layer}, entity.shape
    if isinstance(shape, CutPolyline):
        space.add_lwpolyline(shape.vertices, format="xyb", close=shape.closed, dxfattribs=look)
    elif isinstance(shape, Line):
        space.add_line(shape.start, shape.end, look)
    elif isinstance(shape, Circle):
        space.add_circle(shape.center, shape.radius, look)
    elif isinstance(shape, Arc):
        start, end = arc_angles(shape)
        space.add_arc(shape.center, shape.radius, start, end, dxfattribs=look)
    else:
        space.add_point(shape, look)


__all__ = ["FORMS", "INSIDE", "OUTSIDE", "CutFile", "CutForm", "cut_bytes",
           "cut_document", "name_with_unit", "named_unit", "write_cut", "write_plan"]
