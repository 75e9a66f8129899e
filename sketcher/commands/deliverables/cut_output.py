"""The cutter's file: ``--cut OUT.dxf``."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from sketcher.errors import EditError
from sketcher.terminal import (
    ExportOutput,
    ExportWork,
    add_process,
    minded,
    option_count,
    option_length,
    progress,
)

if TYPE_CHECKING:
    from sketcher.exchange.dxf_cut import CutForm
    from sketcher.exchange.outputs import Form
    from sketcher.inspect.inspection import Inspection
    from sketcher.part.atomic import Put
    from sketcher.part.value import Part
    from sketcher.shop.cut_plan import CutPlan, CutSettings

WITH_CUT = (
    "form", "pieces", "lower_left",
    "process", "kerf", "small_holes", "mark",
    "lead", "tabs", "tab_width",
    "copies", "plate", "between", "grain",
)
"""Options of the cut as the parser keeps them."""
NEEDS = {"tab_width": ("tabs", "N"), "mark": ("process", "PROCESS"),
         "between": ("plate", "WxH"), "grain": ("plate", "WxH")}
"""Options that do nothing without another one, and how that is written."""
PLAN = "plan"
"""Under which the outputs of a part share it."""


def _form() -> Form:
    from sketcher.exchange.outputs import CUTTING

    return CUTTING


def add_form(parser: argparse._ActionsContainer) -> None:
    """Add the option for the version of the DXF to a parser or a group of one."""
    parser.add_argument("--form", choices=("r2000", "r12"),
                        help="version of the DXF; r2000 without it, r12 for the simplest "
                             "controllers")


def _options(parser: argparse.ArgumentParser, cut: argparse._ActionsContainer) -> None:
    add_process(cut, "what it is cut by: holes that it does not cut well are marked only")
    cut.add_argument("--small-holes", choices=("cut", "mark", "leave"),
                     help="what becomes of those holes: cut all the same, marked, left out")
    cut.add_argument("--mark", choices=("point", "cross", "circle"),
                     help="how a punch mark is drawn; a point without it")
    cut.add_argument("--kerf", metavar="auto|LEN",
                     help="width of the cut: offsets all contours by half of it, outside ones grow "
                          "and inside ones shrink. Measure it ('sketcher coupon'); auto takes what "
                          "is usual for --process. Without it the size is nominal, and the "
                          "cutter's program offsets")
    cut.add_argument("--lead", metavar="auto|LEN",
                     help="lead into every contour from the scrap; auto: a length by the plate")
    cut.add_argument("--tabs", metavar="N",
                     help="uncut places of the outside contour, which hold the part in the plate")
    cut.add_argument("--tab-width", metavar="LEN",
                     help="material that a tab leaves; by the process without it")
    add_form(cut)
    cut.add_argument("--pieces", action="store_true",
                     help="single lines and arcs in place of polylines")
    cut.add_argument("--lower-left", action="store_true",
                     help="moved so that all of it lies right of and above zero")
    plate = parser.add_argument_group("copies on a plate")
    plate.add_argument("--copies", metavar="N", help="how many parts, or fill: as many as fit")
    plate.add_argument("--plate", metavar="WxH",
                       help="width and height of what they are cut from: 600x400, 24inx12in")
    plate.add_argument("--between", metavar="LEN",
                       help="least distance of two copies, and from the plate's edges; without it "
                            "the thickness, twice the kerf or 3 mm, whichever is most")
    plate.add_argument("--grain", action="store_true",
                       help="turn no copy by a quarter: the grain of the plate runs one way")


def cut_settings(args: argparse.Namespace, part: Part) -> CutSettings:
    """Return what the options choose for the cut of a part.

    Lengths are read with `terminal.option_length`, in the part's unit where they name none.

    Raises
    ------
    SketcherError
        For a value that makes no sense; it names the option.
    """
    from sketcher.shop.cut_plan import CutSettings

    _refuse_idle(args)
    return CutSettings(
        process=args.process,
        kerf=_kerf(args, part.unit),
        small_holes=args.small_holes,
        mark_form=args.mark or "point",
        lead=_lead(args.lead, part.unit),
        tabs=option_count("tabs", args.tabs, 0, "write a whole number, like --tabs 4") or 0,
        tab_width=option_length("tab-width", args.tab_width, part.unit),
        copies=_copies(args.copies),
        plate=_plate(args.plate, part.unit),
        between=option_length("between", args.between, part.unit),
        grain=args.grain,
        lower_left=args.lower_left,
    )


def _refuse_idle(args: argparse.Namespace) -> None:
    """Tell the option that would do nothing: who gave it means more than is done."""
    for name, (other, metavar) in NEEDS.items():
        if getattr(args, name) not in (None, False) and getattr(args, other) is None:
            raise EditError(f"--{name.replace('_', '-')}", f"does nothing without --{other}",
                            f"add --{other} {metavar}, or leave it out")


def _lead(text: str | None, unit: str) -> float | Literal["auto"] | None:
    return "auto" if text == "auto" else option_length("lead", text, unit)


def _copies(text: str | None) -> int:
    from sketcher.shop.plate_rows import FILL

    if text == "fill":
        return FILL
    return option_count("copies", text, 1, "write a whole number, or fill for as many as there is "
                                           "room for") or 1


def _plate(text: str | None, unit: str) -> tuple[float, float] | None:
    if text is None:
        return None
    width, cross, height = text.lower().partition("x")
    if not cross or not width.strip() or not height.strip():
        raise EditError(f"--plate {text}", "is not WIDTHxHEIGHT",
                        "write it like --plate 600x400 or --plate 24inx12in")
    sides = [option_length("plate", side, unit) for side in (width, height)]
    return sides[0] or 0.0, sides[1] or 0.0


def _kerf(args: argparse.Namespace, unit: str) -> float:
    """The kerf in the part's unit; 0 without one."""
    from sketcher.inspect.stock import usual_kerf

    if args.kerf != "auto":
        return option_length("kerf", args.kerf, unit) or 0.0
    if args.process is None:
        raise EditError("--kerf auto", "goes by the process, and none is said",
                        "add --process laser or --process plasma, or give a length")
    return usual_kerf(args.process, unit)


def asked_plan(work: ExportWork) -> CutPlan:
    """Return the plan of the cut as the options choose it, made once for all outputs of a part.

    Raises
    ------
    SketcherError
        As of `cut_settings`, and where the part cannot be cut so.
    """
    from sketcher.shop.planning import plan_cut

    if PLAN not in work.shared:
        settings = cut_settings(work.args, work.inspection.part)
        with progress("planning the cut"):
            work.shared[PLAN] = plan_cut(work.inspection, settings, work.despite)
    plan: CutPlan = work.shared[PLAN]
    return plan


def _make(work: ExportWork) -> Iterator[str]:
    from sketcher.inspect.words import length
    from sketcher.shop.cautions import cautions

    plan = asked_plan(work)
    kerf, process = plan.settings.kerf, plan.settings.process
    work.facts.update(plan.as_dict(), cautions=list(cautions(kerf, plan.unit)))
    yield from write_cutting(work.inspection, plan, work.place, work.args.pieces, work.put,
                             work.args.form or "r2000")
    if work.args.kerf == "auto":
        yield (f"  mind: a kerf of {length(kerf, plan.unit)} is only what is usual for {process} "
               "(common practice, no source): measure it, 'sketcher coupon'")


def write_cutting(
    inspection: Inspection, plan: CutPlan, path: str | Path, pieces: bool, put: Put,
    form: CutForm = "r2000",
) -> Iterator[str]:
    """Make the cutting file of a plan; yield what it holds and the cautions that go with it."""
    from sketcher.exchange.dxf_cut import write_plan
    from sketcher.inspect.words import plural, way_length
    from sketcher.shop.cautions import cautions

    unit, process = inspection.part.unit, plan.settings.process
    with progress("exporting"):
        written = write_plan(plan, path, pieces, put, form)
    yield (f"{path}: {written.outside} outside and {written.inside} inside contours, "
           f"{way_length(written.length, unit)} of cut, unit {unit}")
    if plan.marks:
        yield f"  {plural(len(plan.marks), 'punch mark')}, first in the file"
    yield from (f"  {line}" for line in plan.told)
    yield from (f"  mind: {line}" for line in written.minded)
    yield from minded(inspection.against_cutting)
    yield from (f"  mind: {remark.text}" for remark in inspection.remarks
                if remark.rule == "material"
                and (process is None or process in remark.processes))
    for caution in cautions(plan.settings.kerf, unit):
        yield f"  caution: {caution}"


OUTPUT = ExportOutput("cut", "OUT.dxf", "the cutting DXF to export", _form, "the cut", _options,
                      _make, WITH_CUT, rank=1)
