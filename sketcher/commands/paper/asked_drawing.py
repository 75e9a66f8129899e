"""The drawing that options ask for, in place of the one that the part's file names."""

from __future__ import annotations

import argparse
from dataclasses import replace
from typing import TYPE_CHECKING

from sketcher.errors import EditError, SketcherError

if TYPE_CHECKING:
    from sketcher.part.value import Part

PAGES = {"hole-table": "a table of holes on the sheet, or none",
         "record-page": "a further page with the inspection record, or none",
         "order-page": "a further page with the construction order, or none"}
SETTINGS = {"standard": "practice", "paper": "sheet", "scale": "scale", "lettering": "lettering",
            "hole_table": "hole_table", "record_page": "inspection_page",
            "order_page": "order_page", "zero": "table_zero", "along": "table_along"}
"""Options by what they set of a `Drawing`."""


def add_drawing_options(parser: argparse.ArgumentParser) -> None:
    """Add the sheet, and the options that say otherwise than the part's file how it is drawn."""
    drawing = parser.add_argument_group("the drawing")
    drawing.add_argument("--sheet", metavar="OUT",
                         help="the drawing to export: OUT.pdf, OUT.svg, OUT.png or OUT.dxf")
    drawing.add_argument("--standard", type=str.upper, choices=("ISO", "ASME"),
                         help="by which the sheet is drawn: iso or asme")
    drawing.add_argument("--paper", metavar="NAME",
                         help="auto, an ISO sheet (A4, 'A4 lying', A3, ... A0) or an ASME one (A, "
                              "'A upright', B, ... E); a template takes letter too")
    drawing.add_argument("--scale", metavar="SCALE",
                         help="auto, or paper to part: 1:1, 1:2, 5:1")
    drawing.add_argument("--lettering", metavar="MM", type=float,
                         help="height of all lettering on paper, 3 mm (0.12 in) or more")
    for name, words in PAGES.items():
        drawing.add_argument(f"--{name}", action=argparse.BooleanOptionalAction, help=words)


def given_for_drawing(args: argparse.Namespace) -> list[str]:
    """Return the options of the drawing that are given."""
    return [option for option in SETTINGS if getattr(args, option) is not None]


def drawn_as(part: Part, args: argparse.Namespace) -> Part:
    """Return the part with the drawing that the options ask for.

    A sheet that the file names goes back to fit where another standard is asked for.

    Raises
    ------
    SketcherError
        For a sheet, a scale or a height of lettering that there is not.
    """
    from sketcher.drafting.paper_scale import scale_value
    from sketcher.drafting.paper_sizes import checked_lettering, sheet_named, sheet_names

    changes = {SETTINGS[option]: getattr(args, option) for option in given_for_drawing(args)
               # without a drawing the paper is that of a template, which has names of its own
               if option != "paper" or args.sheet or args.record}
    if args.sheet and args.record:
        changes["balloons"] = True
    if args.process:  # sheet and cutting file of one run say the same of holes, at a usual kerf
        changes["cut_by"] = "" if args.small_holes == "cut" else args.process
    if not changes:
        return part
    for field in ("sheet", "scale"):
        if str(changes.get(field, "")).lower() == "auto":
            changes[field] = "auto"
    practice = changes.get("practice", part.drawing.practice)
    if changes.get("sheet", "auto") != "auto":
        changes["sheet"] = sheet_named(changes["sheet"], practice, "--paper").name
    elif part.drawing.sheet not in ("auto", *sheet_names(practice)):
        changes["sheet"] = "auto"
    if changes.get("scale", "auto") != "auto":
        scale_value(changes["scale"], "--scale")
    if "lettering" in changes:
        checked_lettering(changes["lettering"], "--lettering")
    part = part.having(drawing=replace(part.drawing, **changes))
    if args.zero is not None or args.along is not None:
        from sketcher.drafting.holes import drawn_axes

        try:
            drawn_axes(part)
        except SketcherError as error:
            place = error.place.replace("drawing.table_", "--")
            raise EditError(place, error.problem, error.remedy) from None
    return part
