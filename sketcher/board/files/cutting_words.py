"""What the page of a cut says: of the plan in short, of where the torch is, and all to be read."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

from sketcher.board.files.cutting_advice import INDENT, ToRead
from sketcher.board.files.cutting_run import CutRun
from sketcher.inspect.words import plural, some, way_length
from sketcher.part.value import Part
from sketcher.quantity.format import length
from sketcher.shop.cut_plan import CutMark, CutPlan

if TYPE_CHECKING:
    from sketcher.inspect.inspection import Inspection

DOT = "  \N{MIDDLE DOT}  "
LESS = 0.005
"""Share of the travel below which an order is not said to be shorter."""


def material_words(part: Part) -> str:
    """Return what the part is of, as the part has it."""
    thick = part.material.written or length(part.material.thickness, part.unit)
    return f"{part.material.name or 'material not said'}, {thick} {part.unit} thick"


def plan_words(plan: CutPlan) -> str:
    """Return how much there is to cut: paths, marks, pierces, lengths."""
    unit = plan.unit
    travel = f"{way_length(plan.travel, unit)} of travel"
    if plan.travel < plan.travel_as_drawn * (1.0 - LESS):
        travel += f" ({way_length(plan.travel_as_drawn, unit)} as drawn)"
    return DOT.join(filter(None, (
        plural(len(plan.paths), "cut"),
        plural(len(plan.marks), "punch mark") if plan.marks else "",
        plural(plan.pierces, "pierce"),
        f"{way_length(plan.length, unit)} of cut", travel)))


def step_words(run: CutRun, number: int) -> str:
    """Return what the torch is at: which of how many, and what that is."""
    if not run.steps:
        return "Nothing to cut."
    if not number:
        return f"Before the first of {len(run.steps)}"
    step = run.steps[number - 1]
    copy = f", copy {step.copy + 1}" if run.plan.settings.copies != 1 else ""
    if isinstance(step, CutMark):
        unit = run.plan.unit
        what = f"mark {step.id}, drill \N{LATIN CAPITAL LETTER O WITH STROKE}" \
            f"{length(step.diameter, unit)}"
    else:
        what = f"{'inside' if step.contour.hole else 'outside'} {some(step.contour.ids)}"
    return f"{number} of {len(run.steps)}: {what}{copy}"


def lines_to_heed(
    inspection: Inspection, despite: Collection[str], advice: ToRead | None,
    plan: CutPlan | None, cautions: Sequence[str],
) -> tuple[str, ...]:
    """Return all that is read before a cut leaves: headings, and lines below them.

    Parameters
    ----------
    inspection : Inspection
    despite : collection of str
        Codes of the findings with which the part is cut all the same.
    advice : ToRead, optional
        What the cutting rules say; while it is not known, that is said.
    plan : CutPlan, optional
        What it tells comes first.
    cautions : sequence of str
        Of the file.
    """
    lines: list[str] = []
    if plan is not None and plan.told:
        lines += ["This cut", *(f"{INDENT}{line}" for line in plan.told)]
    known = [found for found in inspection.against_cutting if found.code in despite]
    if known:
        lines += ["Cut all the same, despite",
                  *(f"{INDENT}{found.code}: {found.text}" for found in known)]
    if advice is None:
        lines.append("The advice for cutters is being worked out ...")
    elif advice.places:
        lines.append(f"Before you cut, look at {plural(advice.places, 'place')} (starting "
                     "values of the trade; the machine at hand may do better or worse)")
    lines += advice.lines if advice is not None else ()
    return (*lines, "Cautions", *(f"{INDENT}{line}" for line in cautions))
