"""A problem that is varied for a class, and what all of its variants have to have in common."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from sketcher.drafting.page import Page
from sketcher.drafting.paper_scale import scale_text
from sketcher.drafting.paper_view import MM_PER
from sketcher.drafting.sheet import pages
from sketcher.errors import FileError
from sketcher.exchange.sheet_file import lacks_of
from sketcher.geometry.curves import Line
from sketcher.inspect.inspection import Inspection
from sketcher.inspect.necks import find_necks
from sketcher.marking.handout import sound_problem
from sketcher.part.part_size import part_size
from sketcher.part.value import Part, frozen
from sketcher.part.whole import half, whole
from sketcher.solve.solve_report import Solution

SHARE = 0.6
"""Of the problem's narrowest web and shortest edge, that a variant has to keep (by trial: a web of
the gate strap may go from 7.5 to 4.5 mm)."""
ALIKE = 1e-6
"""Sizes that differ by less than this part of the part's are equal: solved are 1e-9 of it."""

Shape = tuple[frozenset[str], frozenset[tuple[frozenset[str], bool]]]


@dataclass(frozen=True, slots=True)
class Problem:
    """A problem and its measures.

    Parameters
    ----------
    part : Part
        Solved, with the paper and the scale of its sheet said.
    shape : Shape
        See `shape_of`.
    sizes : mapping of str to mapping of str to float
        See `sizes_of`.
    least_web, least_edge : float
        What no web and no edge may go below, in the part's unit.
    crowded : frozenset of str
        Dimensions that find no room on the problem's own sheet.
    """

    part: Part
    shape: Shape
    sizes: Mapping[str, Mapping[str, float]]
    least_web: float
    least_edge: float
    crowded: frozenset[str]


def problem_of(solution: Solution, place: str, least: float | None = None) -> Problem:
    """Return a problem ready to be varied.

    Parameters
    ----------
    solution : Solution
    place : str
        The part's file, for errors.
    least : float, optional
        The least web, in the part's unit; without it a share of the problem's own.

    Raises
    ------
    FileError
        When it is no key, has findings, or its sheet does not say all of it.
    SketcherError
        When it fits on no sheet.
    """
    inspection = sound_problem(solution, place)
    part = inspection.part
    page = pages(part)[0]
    lacks = lacks_of(part, page)
    if lacks:
        raise FileError(place, f"its sheet does not say all of it: {lacks[0]}",
                        "add the dimension that is missing")
    sizes = sizes_of(part)
    return Problem(
        on_paper_of(part, page), shape_of(inspection), frozen(sizes),
        SHARE * narrowest_web(inspection, part_size(part)) if least is None else least,
        SHARE * min(sizes["length"].values(), default=0.0), frozenset(page.crowded))


def on_paper_of(part: Part, page: Page) -> Part:
    """Return a part whose sheet has the paper and the scale of a page."""
    assert page.view is not None
    scale = scale_text(page.view.factor / MM_PER[part.unit])
    return part.having(drawing=replace(part.drawing, sheet=page.sheet, scale=scale))


def narrowest_web(inspection: Inspection, within: float) -> float:
    """Return the least material between two contours or across one; 0 where there is none."""
    necks = find_necks(inspection.profile.plate, within, apart=True)
    return next((neck.place.width for neck in necks if neck.material), 0.0)


def shape_of(inspection: Inspection) -> Shape:
    """Return which pieces the whole part has, and which of them make which contour."""
    return (frozenset(piece.id for piece in whole(inspection.part)),
            frozenset((frozenset(loop.ids), loop.hole) for loop in inspection.profile.loops))


def sizes_of(part: Part) -> dict[str, Mapping[str, float]]:
    """Return the lengths of the drawn outline's lines and the radii of its rounds, by id."""
    shapes = {name: curve for name, curve in half(part).items()
              if part.curves[name].role == "outline"}
    return {
        "length": frozen({name: curve.length for name, curve in shapes.items()
                          if isinstance(curve, Line)}),
        "radius": frozen({name: curve.radius for name, curve in shapes.items()
                          if not isinstance(curve, Line)})}


def equal_by_accident(
    before: Mapping[str, float], after: Mapping[str, float], near: float
) -> tuple[str, str] | None:
    """Return two that are equal after and were not before; None where there are none.

    Examples
    --------
    >>> equal_by_accident({"a1": 8, "a2": 9, "a3": 9}, {"a1": 8, "a2": 7, "a3": 7}, 0.1)
    >>> equal_by_accident({"a1": 8, "a2": 9}, {"a1": 9, "a2": 9}, 0.1)
    ('a1', 'a2')
    """
    rising = sorted(after, key=lambda name: after[name])
    first = 0
    for place, name in enumerate(rising):
        while after[name] - after[rising[first]] > near:
            first += 1
        for other in rising[first:place]:
            if abs(before[name] - before[other]) > near:
                return other, name
    return None
