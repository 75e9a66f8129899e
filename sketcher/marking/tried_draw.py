"""Whether a draw makes a variant that is as good a problem as the one it comes from.

Kept is the key and, as the sheet is drawn anyway to see whether it says everything, the handout.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import floor

from sketcher.drafting.center_findings import center_findings
from sketcher.drafting.sheet import pages
from sketcher.errors import SketcherError
from sketcher.exchange.sheet_file import lacks_of
from sketcher.geometry.bounds import bounds_of
from sketcher.inspect.inspection import Inspection, inspect_part
from sketcher.inspect.words import length
from sketcher.interrupt import Stopped, within
from sketcher.marking.draw_order import variant_code
from sketcher.marking.problem import (
    ALIKE,
    Problem,
    equal_by_accident,
    narrowest_web,
    shape_of,
    sizes_of,
)
from sketcher.marking.varied_values import DrawSpace
from sketcher.part.part_size import part_size
from sketcher.part.value import Part
from sketcher.part.whole import whole
from sketcher.solve import solve_with

MOST_SECONDS = 60.0
"""Of the processor, that one draw may take: 100 times what one usually takes."""
ALIKE_WORDS = {"length": "two edges of equal length", "radius": "two equal radii"}
ANYWHERE = 0.382
"""Of a cell, by which places are shifted before they are counted in cells: round values would lie
on the bounds of the cells."""

Sameness = tuple[tuple[str, tuple[int, ...]], ...]


@dataclass(frozen=True, slots=True)
class TriedDraw:
    """A draw that was tried.

    Parameters
    ----------
    refused : str
        Why it does not count, in a few words that are the same for many draws; empty when it does.
    detail : str
        What exactly.
    key : Part or None
        With the number and the code in its drawing.
    handout : bytes
        The sheet of it as PDF.
    sameness : Sameness
        Equal for parts that are the same wherever they lie.
    """

    refused: str = ""
    detail: str = ""
    key: Part | None = None
    handout: bytes = b""
    sameness: Sameness = ()


class _Refused(Exception):
    """A draw that does not count: why, and what exactly."""


def try_draw(
    problem: Problem, space: DrawSpace, draw: Mapping[str, str], number: str
) -> TriedDraw:
    """Return what a draw makes of a problem, with the handout for a number.

    Parameters
    ----------
    problem : Problem
    space : DrawSpace
    draw : mapping of str to str
        Expressions by name.
    number : str
        Of the student, for the title block.
    """
    try:
        with within(MOST_SECONDS):
            part = _varied_part(problem, *space.parted(draw))
            key = _entitled(part, number, variant_code(draw))
            handout = _handout(problem, key)
        return TriedDraw(key=key, handout=handout, sameness=sameness_of(problem, part))
    except _Refused as refused:
        return TriedDraw(*refused.args)
    except Stopped:
        return TriedDraw("takes too long", f"more than {MOST_SECONDS:g} s")
    except SketcherError as error:
        return TriedDraw("values that cannot be had", str(error))


def _varied_part(
    problem: Problem, parameters: Mapping[str, str], values: Mapping[str, str]
) -> Part:
    """Return the solved part of a draw."""
    solution = solve_with(problem.part, parameters, values)
    report = solution.report
    if not report.converged or report.clashes:
        names = ", ".join(sorted(report.troubled)) or "some of them"
        raise _Refused("bindings that cannot all hold", names)
    if report.freedoms:
        raise _Refused("something loose", ", ".join(each.point for each in report.loose))
    if report.turned:
        raise _Refused("a side turned", ", ".join(report.turned))
    _measure(problem, inspect_part(solution.part, report))
    return solution.part


def _measure(problem: Problem, inspection: Inspection) -> None:
    part = inspection.part
    for finding in inspection.findings:
        raise _Refused(f"a finding ({finding.code})", finding.text)
    if shape_of(inspection) != problem.shape:
        raise _Refused("another shape", "its contours are of other pieces")
    web = narrowest_web(inspection, problem.least_web * (1.0 - 1e-9))
    if web:
        raise _Refused(f"a web below {length(problem.least_web, part.unit)}",
                       length(web, part.unit))
    sizes = sizes_of(part)
    for name, edge in sizes["length"].items():
        if edge < problem.least_edge * (1.0 - 1e-9):
            raise _Refused(f"an edge below {length(problem.least_edge, part.unit)}",
                           f"{name} is {length(edge, part.unit)}")
    for what, words in ALIKE_WORDS.items():
        pair = equal_by_accident(problem.sizes[what], sizes[what], ALIKE * part_size(part))
        if pair is not None:
            raise _Refused(words, " and ".join(pair))


def _handout(problem: Problem, key: Part) -> bytes:
    """Return the sheet of a variant as PDF."""
    from sketcher.exchange.pdf import pdf_bytes

    for finding in center_findings(key):
        raise _Refused(f"a finding ({finding.code})", finding.text)
    drawing = problem.part.drawing
    try:
        drawn = pages(key)
    except SketcherError as error:
        raise _Refused(f"no room on {drawing.sheet} at {drawing.scale}", error.problem) from None
    crowded = set(drawn[0].crowded) - problem.crowded
    if crowded:
        raise _Refused("dimensions without room on the sheet", ", ".join(sorted(crowded)))
    lacks = lacks_of(key, drawn[0])
    if lacks:
        raise _Refused("a sheet that does not say all of it", lacks[0])
    return pdf_bytes(drawn)


def _entitled(part: Part, number: str, code: str) -> Part:
    """Return a part with the number and the code of its variant in the title block."""
    fields = {**part.drawing.fields, "number": f"{number} {code}"}
    return part.having(drawing=replace(part.drawing, fields=fields))


def sameness_of(problem: Problem, part: Part) -> Sameness:
    """Return the whole outline in cells that are far smaller than what varies, from its corner."""
    pieces = [piece for piece in whole(part) if piece.role == "outline"]
    cell = ALIKE * part_size(problem.part)
    x0, y0, *_ = bounds_of([piece.curve for piece in pieces])
    return tuple((piece.id, tuple(
        floor((at - low) / cell + ANYWHERE)
        for at, low in zip(bounds_of([piece.curve]), (x0, y0, x0, y0), strict=True)))
        for piece in pieces)
