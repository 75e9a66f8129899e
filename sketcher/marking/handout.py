"""A part as a problem: its dimensioned drawing with the task on it, on small paper where it fits.

The handout says all that it takes to make the part and nothing of how: no places, no names of
points, no construction. That it says all is read off it, as for every sheet.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sketcher.drafting.center_findings import center_findings
from sketcher.drafting.page import Page
from sketcher.drafting.paper_room import by_size
from sketcher.drafting.paper_sizes import sheet_names, sheets
from sketcher.drafting.sheet import pages
from sketcher.drafting.title_block import UNITS
from sketcher.errors import FileError, SketcherError
from sketcher.exchange.sheet_file import lacks_of
from sketcher.inspect.inspection import Inspection, inspect_part
from sketcher.marking.class_keys import checked_key
from sketcher.marking.datum_words import datum_words
from sketcher.part.value import Part, frozen
from sketcher.solve.solve_report import Solution

OF_ONE = frozenset({"drawn by", "date", "checked by", "approved by"})
"""Entries of the title block that are left to who solves the problem."""
AS_DRAWN = "What looks level, plumb, square, tangent, concentric or symmetric is so."
"""What a drawing says without a number (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Handout:
    """A problem's sheet.

    Parameters
    ----------
    part : Part
        Solved, with the task among its notes and the settings of its sheet.
    page : Page
        The drawing.
    """

    part: Part
    page: Page


def sound_problem(solution: Solution, place: str) -> Inspection:
    """Return what is measured of a part that can be set as a problem.

    Raises
    ------
    FileError
        When it is no key, or has findings; `place` says which part it is.
    """
    part = checked_key(solution, place)
    inspection = inspect_part(part, solution.report)
    for finding in (*inspection.findings, *center_findings(part)):
        raise FileError(place, f"is no problem to set: {finding.text}",
                        "mend it first; 'sketcher inspect' tells more")
    return inspection


def handout_of(inspection: Inspection, place: str) -> Handout:
    """Return the sheet by which a part is set as a problem.

    Parameters
    ----------
    inspection : Inspection
        Of a sound part, see `sound_problem`.
    place : str
        The part's file, for errors.

    Raises
    ------
    FileError
        When the sheet does not say all of the part, or some of it stands where it cannot be read.
    SketcherError
        When the part fits on no sheet.
    """
    part = _as_problem(inspection)
    page = pages(part)[0]
    if part.drawing.sheet == "auto" and page.sheet not in _small(part):
        page = next(_small_pages(part), page)
    if page.crowded:
        raise FileError(place, f"its sheet has no room for {', '.join(page.crowded)}",
                        "choose a larger sheet or another scale for it")
    lacks = lacks_of(part, page)
    if lacks:
        raise FileError(place, f"its sheet does not say all of it: {lacks[0]}",
                        "add the dimension that is missing, or say it in a note")
    return Handout(part, page)


def task_notes(inspection: Inspection) -> tuple[str, ...]:
    """Return the sentences of the task, each a note."""
    part = inspection.part
    unit = UNITS[part.drawing.practice, part.unit]
    datum = datum_words(inspection)
    return (f"Problem: draw this part in {unit} from its dimensions alone. Your name and the date"
            " go into the title block.",
            *([f"The datum is {datum}."] if datum else []), AS_DRAWN)


def _as_problem(inspection: Inspection) -> Part:
    """Return the part with the task, and a sheet that tells of no place and no construction."""
    part, drawing = inspection.part, inspection.part.drawing
    fields = {name: text for name, text in drawing.fields.items() if name not in OF_ONE}
    return part.having(
        notes=(*task_notes(inspection), *part.notes),
        drawing=replace(drawing, dimensions=True, hole_table=False, balloons=False,
                        inspection_page=False, order_page=False, fields=frozen(fields)))


def _small(part: Part) -> list[str]:
    """Return the names of the smallest paper, upright and lying."""
    names = sheet_names(part.drawing.practice)
    return [sheet.name for sheet in by_size(sheets()[name] for name in names)[0]]


def _small_pages(part: Part) -> Iterator[Page]:
    """Yield pages on the smallest paper with room for everything, the larger scale first."""
    found = []
    for name in _small(part):
        try:
            page = pages(part.having(drawing=replace(part.drawing, sheet=name)))[0]
        except SketcherError:
            continue  # it does not fit there
        if page.view is not None and not page.crowded and not lacks_of(part, page):
            found.append((page.view.factor, page))
    yield from (page for _, page in sorted(found, key=lambda each: -each[0]))
