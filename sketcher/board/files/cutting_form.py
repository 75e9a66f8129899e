"""The one table of what a cut can be told in the window; its form is made from it.

All values are texts, as a person types and chooses them: ``yes`` and nothing for a switch.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias, cast

from sketcher.board.settings import Settings
from sketcher.errors import QuantityError, SketcherError
from sketcher.inspect.stock import PROCESSES, Process, usual_kerf
from sketcher.part.value import Part
from sketcher.part.wanted import parameter_values
from sketcher.quantity.format import length
from sketcher.quantity.physical_dimension import Value
from sketcher.quantity.units import convert
from sketcher.quantity.written import evaluate_written
from sketcher.shop.cut_plan import CutSettings, MarkForm, SmallHoles

if TYPE_CHECKING:
    from sketcher.exchange.dxf_cut import CutForm

CutFieldKind: TypeAlias = Literal["choice", "open choice", "switch", "text", "whole"]
YES = "yes"
MOST_TABS, MOST_COPIES = 50, 999
TIMES = ("x", "X", "\N{MULTIPLICATION SIGN}", "*")
"""Between the two sizes of a plate."""
NONE_YET = ("not said", "none")
"""What the settings call a choice that the form leaves empty."""


@dataclass(frozen=True, slots=True)
class CutField:
    """One line of the form; `choices` are pairs of a value and the words for it.

    An open choice can be typed as well. `group` is the heading under which it stands; `hint` what
    an empty text or the least of a whole number means.
    """

    name: str
    kind: CutFieldKind
    label: str
    help: str
    group: str
    choices: tuple[tuple[str, str], ...] = ()
    hint: str = ""
    least: int = 0
    most: int = 0


@dataclass(frozen=True, slots=True)
class CutOrder:
    """What a cut is told: how it is planned, and how its file is written."""

    settings: CutSettings
    form: CutForm = "r2000"
    pieces: bool = False


CUTTER, HOLES, HELD, FILE = "Cutter", "Holes", "Tabs and copies", "File"


def cut_fields(part: Part) -> tuple[CutField, ...]:
    """Return the table, in the order of the form, in the words of a part's unit."""
    unit = part.unit
    starts = tuple((_start(one, unit), f"{_start(one, unit)} {unit}: start for {one}")
                   for one in PROCESSES)
    return (
        CutField("process", "choice", "Process", "Small holes, tabs and start values go by it.",
                 CUTTER, (("", "not said"), *((one, one) for one in PROCESSES))),
        CutField("kerf", "open choice", "Kerf",
                 "Width of the cut, whose middle runs half of it outside the part. Off leaves the "
                 "nominal size, for a cutter whose own program offsets. Start values are common "
                 "practice; measure a coupon.", CUTTER, (("", "off: nominal size"), *starts)),
        CutField("lead", "open choice", "Lead-ins",
                 "Pierces in the scrap beside the contour and runs in; a length can be typed.",
                 CUTTER,
                 (("", "none"), ("auto", "by thickness and kerf"))),
        CutField("small_holes", "choice", "Small holes",
                 "Holes that the process does not cut well: cut all the same, punch-marked for "
                 "the drill, or left out.", HOLES,
                 (("", "by the process"), ("cut", "cut"), ("mark", "punch mark"),
                  ("leave", "leave out"))),
        CutField("mark_form", "choice", "Punch marks", "How a mark is drawn in the file.", HOLES,
                 (("point", "point"), ("cross", "cross"), ("circle", "small circle"))),
        CutField("tabs", "whole", "Tabs", "Places of each outside contour that stay uncut, so "
                 "that the part stays in the plate.", HELD, most=MOST_TABS),
        CutField("tab_width", "text", "Tab width", "Left empty it goes by the process.", HELD,
                 hint="by the process"),
        CutField("copies", "whole", "Copies", "How many parts; below 1, as many as the plate has "
                 "room for.", HELD, hint="as many as fit", most=MOST_COPIES),
        CutField("plate", "text", "Plate", "Width x height of what the copies are cut from.", HELD,
                 hint="width x height"),
        CutField("between", "text", "Between copies", "Least distance of two copies, and from the "
                 "plate's edges. Left empty it is the thickness, twice the kerf or 3 mm, whichever "
                 "is most.", HELD, hint="by thickness and kerf"),
        CutField("grain", "switch", "Keep the grain",
                 "Turns no copy by a quarter: the grain of the plate runs one way.", HELD),
        CutField("lower_left", "switch", "Lower left at zero",
                 "Moves all so that it lies right of and above zero.", FILE),
        CutField("form", "choice", "DXF version", "R12 for controllers that read nothing newer.",
                 FILE, (("r2000", "R2000"), ("r12", "R12"))),
        CutField("pieces", "choice", "Contours", "Closed polylines with true arcs, or single "
                 "lines, arcs and circles.", FILE,
                 (("", "closed contours"), (YES, "single pieces"))),
    )


def start_values(part: Part, settings: Settings) -> dict[str, str]:
    """Return what the form holds at first: what the last cut had, and else nothing."""
    values = {one.name: "" for one in cut_fields(part)}
    values |= {"mark_form": "point", "tabs": "0", "copies": "1", "form": settings["cut_form"],
               "pieces": YES if settings["cut_pieces"] else ""}
    for name in ("process", "lead"):
        kept = settings[f"cut_{name}"]
        values[name] = "" if kept in NONE_YET else kept
    values["kerf"] = kept_kerf(values["process"], part, settings)
    return values


def kept_kerf(process: str, part: Part, settings: Settings) -> str:
    """Return the kerf that the last cut by a process had, in a part's unit; empty for none."""
    if process not in PROCESSES:
        return ""
    try:
        kerf = _length(part, {"kerf": settings[f"kerf_{process}"]}, "kerf")
    except QuantityError:  # the settings are typed by hand too
        return ""
    return length(kerf, part.unit) if kerf else ""


def keep_values(order: CutOrder, part: Part, settings: Settings) -> None:
    """Keep what the next cut may begin with; lead-ins only where they go by themselves."""
    process, kerf = order.settings.process, order.settings.kerf
    settings["cut_process"] = process or NONE_YET[0]
    settings["cut_lead"] = "auto" if order.settings.lead == "auto" else NONE_YET[1]
    settings["cut_form"], settings["cut_pieces"] = order.form, order.pieces
    if process is not None:
        settings[f"kerf_{process}"] = f"{length(kerf, part.unit)} {part.unit}" if kerf else ""


MOST_KERF = 20.0
"""Millimetres; a wider cut is a slip of the pen (oxyfuel in the thickest plate stays below)."""


def read_cut(part: Part, values: Mapping[str, str]) -> CutOrder:
    """Return what the form's values say; what is left out is as at first.

    Raises
    ------
    QuantityError
        For a value that cannot be read; its place is the field's name.
    """
    held = {name: text.strip() for name, text in values.items()}
    kerf = _length(part, held, "kerf")
    if kerf is not None and convert(kerf, part.unit, "mm") > MOST_KERF:
        raise QuantityError("kerf", f"{held['kerf']} is no kerf",
                            f"write a width up to {_text(MOST_KERF, part.unit)} {part.unit}")
    lead: float | Literal["auto"] | None = (
        "auto" if held.get("lead") == "auto" else _length(part, held, "lead"))
    settings = CutSettings(
        process=cast("Process | None", held.get("process") or None),
        kerf=kerf or 0.0,
        lead=lead or None,
        small_holes=cast("SmallHoles | None", held.get("small_holes") or None),
        mark_form=cast("MarkForm", held.get("mark_form") or "point"),
        tabs=int(held.get("tabs") or 0),
        tab_width=_length(part, held, "tab_width"),
        copies=int(held.get("copies") or 1),
        plate=_plate(part, held.get("plate", "")),
        between=_length(part, held, "between"),
        grain=held.get("grain") == YES,
        lower_left=held.get("lower_left") == YES,
    )
    form = cast("CutForm", held.get("form") or "r2000")
    return CutOrder(settings, form, held.get("pieces") == YES)


def _length(part: Part, held: Mapping[str, str], name: str) -> float | None:
    """Return a length as typed; None where nothing is."""
    text = held.get(name, "")
    if not text:
        return None
    amount = evaluate_written(text, "length", part.unit, _names(part), name)
    if amount < 0.0:
        raise QuantityError(name, f"{text} is below zero", "write a length above it")
    return amount


def _names(part: Part) -> Mapping[str, Value]:
    """Return what a part's parameters come to; nothing where one of them cannot be worked out."""
    try:
        return parameter_values(part)
    except SketcherError:
        return {}


def _plate(part: Part, text: str) -> tuple[float, float] | None:
    if not text:
        return None
    for sign in TIMES[1:]:
        text = text.replace(sign, TIMES[0])
    sides = [side.strip() for side in text.split(TIMES[0])]
    if len(sides) != 2 or not all(sides):
        raise QuantityError("plate", f"'{text}' is not width x height",
                            "write both, as 1000 x 500" if part.unit == "mm" else
                            "write both, as 48 x 24")
    wide, high = (evaluate_written(side, "length", part.unit, _names(part), "plate")
                  for side in sides)
    if not (wide > 0.0 and high > 0.0):
        raise QuantityError("plate", "a side is not above zero", "write both sides of the plate")
    return wide, high


def _start(process: Process, unit: str) -> str:
    return length(usual_kerf(process, unit), unit)


def _text(millimetres: float, unit: str) -> str:
    return length(convert(millimetres, "mm", unit), unit)
