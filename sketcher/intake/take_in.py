"""The steps of an intake, in their order."""

from __future__ import annotations

from dataclasses import replace

from sketcher.exchange.dxf_content import DxfContent
from sketcher.geometry.bounds import Box
from sketcher.geometry.curves import XY
from sketcher.intake.axes import halved
from sketcher.intake.bind import bound_half
from sketcher.intake.chords import chords_to_arcs
from sketcher.intake.close import closed
from sketcher.intake.datum_shift import from_datum
from sketcher.intake.drawn_lines import drawn_lines
from sketcher.intake.free_curves import as_drawn, free_curves_to_arcs
from sketcher.intake.free_forms import free_forms_to_arcs
from sketcher.intake.linework import HalfShape
from sketcher.intake.moved import as_promised, same_shape
from sketcher.intake.near_tangent import made_tangent
from sketcher.intake.nesting import shapes
from sketcher.intake.patterns import patterned
from sketcher.intake.taken import BoundHalf, Taken, TakenPart
from sketcher.intake.unbound_strays import with_strays
from sketcher.intake.unit_evidence import unit_verdict
from sketcher.intake.weed import weeded
from sketcher.intake.wish_check import check_axis, check_kept, check_layers
from sketcher.intake.wishes import Wishes
from sketcher.part.value import begun
from sketcher.progress import counted, stage
from sketcher.shop.carried_kerf import noted
from sketcher.solve import solve

REPAIR_KINDS = ("speck", "double", "overlap", "seam", "gap", "chords", "curve", "tangent", "turned")
"""In the order of the steps. Speck: no length; double: drawn twice; overlap: in part; seam: one
curve in pieces; gap: ends that were to meet; chords, curve: straight pieces, a free curve made
arcs; tangent: a joint that was nearly so; turned: straightened."""


def take_in(content: DxfContent, wishes: Wishes | None = None) -> Taken:
    """Make bound parts of a foreign drawing.

    Parameters
    ----------
    content : DxfContent
        As `exchange.dxf_read.read_dxf` gives it.
    wishes : Wishes, optional
        What a person asks.

    Returns
    -------
    Taken
        With no parts when the drawing has no closed outline and nothing else to draw.

    Raises
    ------
    SketcherError
        When a wish names a layer, an axis or a repair that there is not.
    """
    from sketcher.inspect.inspection import inspect_part

    wishes = wishes or Wishes()
    check_layers(content, wishes)
    unit = unit_verdict(content, wishes)
    lines = drawn_lines(content, unit, wishes)
    drawn = as_drawn(lines, wishes)
    with stage(0.0, 0.4):
        for step in counted((weeded, free_curves_to_arcs, closed)):
            lines = step(lines, wishes)
        as_closed = shapes(lines, wishes)
        lines = chords_to_arcs(free_forms_to_arcs(lines, wishes), wishes)
        found = shapes(lines, wishes)
    parts: list[TakenPart] = []
    questions = list(lines.questions)
    with stage(0.4, 1.0):
        for shape in counted(found):
            if shape.loops:
                half = patterned(halved(made_tangent(shape, wishes), wishes), wishes)
                bound = bound_half(half, wishes)
                half = from_datum(half, bound.frame)
            else:
                half = HalfShape(shape, (), repairs=shape.repairs)
                empty = solve(begun(shape.unit))
                bound = BoundHalf(empty.part, empty)
            bound = with_strays(bound, shape.strays)
            move, fault = as_promised(drawn, same_shape(shape, as_closed), bound)
            bound = replace(bound, largest_move=move)
            inspection = inspect_part(bound.part, bound.solution.report)
            questions += half.questions
            parts.append(TakenPart(
                bound, inspection.profile.area, half.repairs, half.axes, half.offered,
                half.patterns, tuple(finding.text for finding in inspection.findings),
                (*shape.faults, *([fault] if fault else [])), _size(inspection.profile.bounds)))
    layers = sorted({curve.layer for curve in content.curves})
    parts = [replace(each, bound=replace(
                each.bound, part=noted(each.part.having(name=name), layers)))
             for each, name in zip(parts, _names(content, len(parts)), strict=True)]
    told = dict.fromkeys(repair for part in parts for repair in part.repairs)
    repairs = (*told, *(repair for repair in lines.repairs if repair not in told))
    asked = (unit.question,) if unit.question else ()
    taken = Taken(content, unit, tuple(parts), repairs, (*asked, *questions), lines.floor)
    check_kept(taken, wishes, REPAIR_KINDS)
    check_axis(taken, wishes)
    return taken


def _size(bounds: Box) -> XY:
    return (bounds[2] - bounds[0], bounds[3] - bounds[1])


def _names(content: DxfContent, count: int) -> list[str]:
    """Names of the parts: the file's own, with a number where there are several."""
    name = content.source.replace("_", " ").strip() or "Part"
    return [name] if count == 1 else [f"{name} {number}" for number in range(1, count + 1)]
