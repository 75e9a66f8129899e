"""The one table of what the finished drawing can be told; its form is made from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

from sketcher.board.files.detail_words import detail_words, read_detail_words
from sketcher.drafting.paper_scale import scale_text, scale_value, scales
from sketcher.drafting.paper_sizes import checked_lettering, sheet_names
from sketcher.drafting.title_block import FIELDS
from sketcher.errors import EditError, QuantityError
from sketcher.part.edited import Edited
from sketcher.part.edits.set_drawing import set_drawing
from sketcher.part.general_tolerances import general
from sketcher.part.threads import read_thread_words, thread_words
from sketcher.part.value import Drawing, Part
from sketcher.quantity.format import length
from sketcher.quantity.units import convert
from sketcher.quantity.written import evaluate_written

Kind: TypeAlias = Literal["choice", "open choice", "switch", "length", "text"]
FIELD = "fields."
MOST_OVERHANG = 25.0  # mm on paper; a longer one is a slip of the pen


@dataclass(frozen=True, slots=True)
class PaperSetting:
    """One line of the form: a field of `Drawing`, or ``fields.NAME`` for the title block.

    `choices` are pairs of a value and the words for it; an open choice can be typed as well.
    """

    name: str
    kind: Kind
    label: str
    help: str
    choices: tuple[tuple[str, str], ...] = ()


def paper_table(practice: str = "ISO") -> tuple[PaperSetting, ...]:
    """Return the table, in the order of the form, with sheets and scales of a standard."""
    papers = tuple((name, name) for name in sheet_names(practice))
    factors = tuple(scale_text(factor) for factor in scales()[practice])
    return (
        PaperSetting("practice", "choice", "Standard", "Whose line classes, forms and sheets hold.",
                     (("ISO", "ISO"), ("ASME", "ASME Y14"))),
        PaperSetting("sheet", "choice", "Paper", "By fit takes the smallest that holds it well.",
                     (("auto", "by fit"), *papers)),
        PaperSetting("scale", "open choice", "Scale",
                     "By fit takes a standard scale; type paper to part, as 1:2.",
                     (("auto", "by fit"), *((s, s) for s in factors))),
        PaperSetting("lettering", "length", "Height of lettering",
                     "Of capitals on paper, 3 mm (0.12 in) or more; left empty it is the "
                     "standard's."),
        PaperSetting("show_half", "switch", "Half view with symmetry signs",
                     "Draws the half up to its axis instead of the whole part."),
        PaperSetting("breaks", "choice", "Long parts", "Broken, they leave a plain stretch out.",
                     (("auto", "broken by fit"), ("off", "whole"))),
        PaperSetting("details", "text", "Detail views",
                     "They come by themselves where something prints too small. To change one, "
                     "write what it shows and a scale, a side or off: h1 10:1 left; b12 off."),
        PaperSetting("overhang", "length", "Center line overhang",
                     "How far they run past the outline on paper; left empty it is 3 mm, or 1/8 in "
                     "on an inch part."),
        PaperSetting("axis_style", "choice", "Axis of symmetry", "Line class of the axis.",
                     (("center", "center line"), ("phantom", "phantom line"))),
        PaperSetting("tolerance", "open choice", "General tolerances",
                     "Hold for every dimension without its own; .XX 0.01, angle 0.5 can be typed.",
                     (("", "by the standard"), ("ISO 2768-f", "ISO 2768-f, fine"),
                      ("ISO 2768-m", "ISO 2768-m, medium"), ("ISO 2768-c", "ISO 2768-c, coarse"),
                      ("ISO 2768-v", "ISO 2768-v, very coarse"), ("none", "none"))),
        PaperSetting("dimensions", "switch", "Dimensions", "Off leaves them out, for an exercise."),
        PaperSetting("hole_table", "switch", "Table of holes",
                     "Place and size of each hole stand in a table, and no more on the view."),
        PaperSetting("table_zero", "open choice", "Zero of the table",
                     "A point, a hole, or two edges with a comma: the corner where they meet.",
                     (("auto", "by itself"),)),
        PaperSetting("table_along", "open choice", "X of the table",
                     "The edge along which X runs, or two points or holes with a comma.",
                     (("level", "level"),)),
        PaperSetting("threads", "text", "Threads",
                     "Which holes are tapped: h1 M6; h3 1/4-20 UNC. Printed behind their size."),
        PaperSetting("cut_by", "choice", "Holes to drill",
                     "Calls out holes that the process does not cut well to be drilled.",
                     (("", "none called out"), ("laser", "where cut by laser"),
                      ("plasma", "where cut by plasma"))),
        PaperSetting("balloons", "switch", "Numbers of the inspection record",
                     "A small circle beside each dimension with its number in the record."),
        PaperSetting("inspection_page", "switch", "Page with the inspection table",
                     "A further page: every dimension, its limits, a column for what is measured."),
        PaperSetting("order_page", "switch", "Page with the construction order",
                     "A further page: the steps in which the part can be drawn by hand."),
        *(PaperSetting(f"{FIELD}{name}", "text", name.capitalize(), "Stands in the title block.")
          for name in FIELDS),
    )


def paper_values(part: Part) -> dict[str, Any]:
    """Return what the form shows, by name: truth for a switch, else text."""
    drawing = part.drawing
    found: dict[str, Any] = {}
    for setting in paper_table():
        if setting.name.startswith(FIELD):
            found[setting.name] = drawing.fields.get(setting.name.removeprefix(FIELD), "")
        elif setting.name == "details":
            found[setting.name] = detail_words(part)
        elif setting.name == "threads":
            found[setting.name] = thread_words(part)
        elif setting.kind == "length":
            value = getattr(drawing, setting.name)
            found[setting.name] = "" if value is None else (
                f"{length(convert(value, 'mm', part.unit), part.unit)} {part.unit}")
        else:
            found[setting.name] = getattr(drawing, setting.name)
    return found


def set_paper(part: Part, values: Mapping[str, Any]) -> Edited:
    """Return the part with the drawing that the form's values describe.

    Raises
    ------
    SketcherError
        For a scale, a length on paper, a detail or a general tolerance that cannot be read.
    """
    known = {setting.name: setting for setting in paper_table()}
    changes: dict[str, Any] = {}
    entries = dict(part.drawing.fields)
    shown = paper_values(part)
    for name, value in values.items():
        if value == shown[name]:
            continue  # what was not touched keeps its full precision
        if name.startswith(FIELD):
            entries[name.removeprefix(FIELD)] = str(value).strip()
        elif name == "details":
            changes[name] = read_detail_words(part, str(value))
        elif name == "threads":
            changes[name] = read_thread_words(part, str(value))
        elif known[name].kind == "length":
            changes[name] = _on_paper(part, name, str(value))
        else:
            changes[name] = value if isinstance(value, bool) else str(value).strip()
    changes["fields"] = {k: v for k, v in entries.items() if v}
    _check(part, changes)
    return set_drawing(part, **changes)


def _on_paper(part: Part, name: str, text: str) -> float | None:
    """Return a length on paper in mm, as the setting of a name may be."""
    if not text.strip():
        return None
    size = convert(evaluate_written(text, "length", part.unit, {}), part.unit, "mm")
    if name == "lettering":
        return checked_lettering(size)
    if not 0.0 < size <= MOST_OVERHANG:
        raise QuantityError("drawing.overhang", f"{text.strip()} is no overhang",
                            f"write a length on paper, up to {MOST_OVERHANG:g} mm")
    return size


def _check(part: Part, changes: dict[str, Any]) -> None:
    """Refuse what no sheet could be made of; a sheet of the other practice goes back to fit."""
    scale = changes.get("scale", "auto")
    if scale != "auto":
        scale_value(scale)
    name = changes.get("sheet", part.drawing.sheet)
    practice = changes.get("practice", part.drawing.practice)
    if name not in ("auto", *sheet_names(practice)):
        changes["sheet"] = "auto"
    if "tolerance" in changes:
        general(part.having(drawing=Drawing(tolerance=changes["tolerance"])))


def reset_centers(part: Part) -> Edited:
    """Return the part with all center lines as the geometry has them.

    Raises
    ------
    EditError
        When none was changed.
    """
    if not part.drawing.centers:
        raise EditError("drawing.centers", "no center line was changed by hand", "nothing to reset")
    return set_drawing(part, centers={})


def reset_places(part: Part) -> Edited:
    """Return the part with all dimension texts where the layout puts them.

    Raises
    ------
    EditError
        When none was dragged.
    """
    if not part.drawing.placed:
        raise EditError("drawing.placed", "no dimension was dragged", "nothing to reset")
    return set_drawing(part, placed={})

