"""A sheet read, drawn anew and solved; what it takes more to make the part by it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, degrees, dist
from typing import Literal, TypeAlias

from sketcher.drafting.page import Page
from sketcher.drafting.paper_view import View
from sketcher.drafting.rebuild.distorted import distorted
from sketcher.drafting.rebuild.drawn_fields import read_fields
from sketcher.drafting.rebuild.drawn_marks import read_marks
from sketcher.drafting.rebuild.drawn_outline import read_outline
from sketcher.drafting.rebuild.evident import bind_evident
from sketcher.drafting.rebuild.evident_symmetry import bind_symmetry
from sketcher.drafting.rebuild.missing import missing
from sketcher.drafting.rebuild.on_paper import OnPaper, laid_on_paper
from sketcher.drafting.rebuild.operand_places import DrawnPlaces
from sketcher.drafting.rebuild.redrawn import Redrawn
from sketcher.drafting.rebuild.rounding import HALF_DEGREE, HALF_DIGIT, allowed
from sketcher.drafting.rebuild.shown_dimension import ShownDimension
from sketcher.drafting.rebuild.shown_views import (
    center_strokes,
    field_strokes,
    outline_strokes,
    shown_dimensions,
    windows_of,
)
from sketcher.drafting.rebuild.stated import Stated
from sketcher.drafting.rebuild.stated_notes import bind_notes
from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.part.kinds import residual, settle_sides
from sketcher.part.part_size import part_size
from sketcher.part.value import ArcCurve, Part, Unit
from sketcher.part.whole import curve_value
from sketcher.solve import Solution, solve

SAME_ON_PAPER = 0.03
"""Mm on paper within which two places are one to the eye: a tenth of a thin line."""
AMOUNTS = (1.0, 0.3, 0.05)
"""How much the drawing is distorted; less where the solver ends on another branch of it."""
EXACT = 1e-6
"""Of the part's size: what is rebuilt is as drawn."""

Cause: TypeAlias = Literal["missing", "contradicts", "unread"]


@dataclass(frozen=True, slots=True)
class Lack:
    """Why the part cannot be made by its sheet: what, in words, of which feature, where.

    `at` is in the part's unit; `name` is a curve as the sheet's strokes call it, or a dimension.
    """

    cause: Cause
    text: str
    name: str
    at: XY

    def told(self) -> str:
        """Return it with its place."""
        x, y = (f"{round(c, 2) + 0.0:g}" for c in self.at)
        return f"{self.text} at ({x}, {y})"


@dataclass(frozen=True, slots=True)
class Rebuilt:
    """What came of a sheet.

    Parameters
    ----------
    lacks : tuple of Lack
        Empty where the part can be made by it.
    worst : float
        Largest distance between what was rebuilt and what is drawn, in the part's unit.
    freedoms : int
        Ways in which the fresh part can still move.
    """

    lacks: tuple[Lack, ...]
    worst: float = 0.0
    freedoms: int = 0


def rebuild(page: Page) -> Rebuilt:
    """Make the part anew by a page alone.

    Parameters
    ----------
    page : Page
        The drawing; its view tells the scale, nothing else of the part is asked for.

    Returns
    -------
    Rebuilt
        Nothing lacks where all is bound and comes out as drawn.
    """
    if page.view is None:
        return Rebuilt(())
    paper = read_paper(page, page.view)
    shown: list[ShownDimension] = []
    unread: list[ShownDimension] = []
    letters: list[ShownDimension] = []
    for dim in shown_dimensions(page):
        is_read = dim.said.value is not None or dim.said.sign
        (letters if dim.form == "label" else shown if is_read else unread).append(dim)
    lacks = [Lack("unread", f"the dimension {dim.text!r} cannot be read", dim.id,
                  dim.points[0]) for dim in unread]
    places = DrawnPlaces(paper)
    bind_evident(paper, _sloped(places, shown))
    bind_symmetry(paper)
    stated = Stated(places)
    stated.bind(shown)
    bind_notes(paper, page, letters)
    lacks += [Lack("unread", f"the dimension {dim.text!r} {problem}", dim.id, dim.points[0])
              for dim, problem in stated.unread]
    _hold(paper)
    return _judged(paper, {dim.id: dim for dim in shown}, lacks)


def read_paper(page: Page, view: View) -> OnPaper:
    """Read outline and center lines off a page, in the part's unit."""
    tol = SAME_ON_PAPER / view.factor
    outline = read_outline(outline_strokes(page), tol)
    unit: Unit = "in" if page.unit == "in" else "mm"
    marks = read_marks(center_strokes(page), windows_of(page), tol)
    paper = laid_on_paper(outline, marks, Redrawn(unit, tol))
    paper.fields = read_fields(field_strokes(page))
    return paper


def _sloped(places: DrawnPlaces, shown: list[ShownDimension]) -> set[str]:
    """Edges whose angle a dimension gives."""
    found = set()
    for dim in shown:
        if dim.form == "angle" and not dim.said.reference:
            for at in dim.points[1:3]:
                edge = places.edge_on(dim.points[0], at)
                found |= set() if edge is None else {edge}
    return found


def _hold(paper: OnPaper) -> None:
    """Lay the part on the paper: one point stands, and the drawing is not turned."""
    redrawn = paper.redrawn
    first = next(iter(redrawn.points))
    redrawn.bind("fixed", first)
    level = any(b.kind in ("level", "plumb", "run", "rise")
                or (b.kind == "angle" and len(b.of) == 1) for b in redrawn.bindings.values())
    if level or len(redrawn.points) < 2:
        return
    at = redrawn.points[first]
    far = max(redrawn.points, key=lambda name: dist(redrawn.points[name], at))
    line, (dx, dy) = redrawn.line(first, far), redrawn.points[far]
    redrawn.bind("angle", line, value=degrees(atan2(dy - at[1], dx - at[0])) % 360.0)


def _judged(paper: OnPaper, shown: dict[str, ShownDimension], lacks: list[Lack]) -> Rebuilt:
    part = settle_sides(paper.redrawn.part())
    lacks = lacks + _false(paper, part, shown)
    if any(lack.cause == "contradicts" for lack in lacks):
        return Rebuilt(tuple(lacks))
    solution, worst = _solved(part, paper)
    report = solution.report
    if not report.converged:
        clash = [name for members in report.clashes for name in members]
        said = [shown[i] for i in dict.fromkeys(
            paper.redrawn.said_by[n] for n in clash if n in paper.redrawn.said_by)]
        text = ", ".join(repr(dim.text) for dim in said[:4])
        at = said[0].points[0] if said else (0.0, 0.0)
        lacks.append(Lack("contradicts", f"the dimensions {text or 'of the sheet'} and what the "
                          "drawing shows cannot all hold", said[0].id if said else "", at))
        return Rebuilt(tuple(lacks), worst, report.freedoms)
    if report.freedoms:
        lacks += [Lack("missing", f"{want.text} stands nowhere", want.name, want.at)
                  for want in missing(paper, solution.part, report.freedoms)]
        return Rebuilt(tuple(lacks), worst, report.freedoms)
    return Rebuilt((*lacks, *_differing(part, solution.part, paper)), worst, 0)


def _false(paper: OnPaper, part: Part, shown: dict[str, ShownDimension]) -> list[Lack]:
    """Dimensions that say what is not drawn."""
    found: dict[str, Lack] = {}
    for name, source in paper.redrawn.said_by.items():
        binding, dim = part.bindings[name], shown[source]
        grain = HALF_DEGREE if dim.said.angle else HALF_DIGIT[part.unit]
        off = abs(residual(part, binding))
        if off > 2.0 * grain + EXACT * part_size(part):
            found[source] = Lack("contradicts", f"the dimension {dim.text!r} is drawn as "
                                 f"{(dim.said.value or 0.0) + residual(part, binding):.6g}",
                                 dim.id, dim.points[0])
    return list(found.values())


def _solved(part: Part, paper: OnPaper) -> tuple[Solution, float]:
    """Solve from a distorted drawing; from a less distorted one where that ends elsewhere."""
    best: tuple[Solution, float] | None = None
    for amount in AMOUNTS:
        solution = solve(distorted(part, amount))
        worst = max(off for off, _ in _offsets(part, solution.part, paper))
        better = best is None or (solution.report.converged, -worst) > (
            best[0].report.converged, -best[1])
        best = (solution, worst) if better or best is None else best
        if solution.report.converged and (
                solution.report.freedoms or worst < EXACT * part_size(part)):
            break
    assert best is not None
    return best


def _offsets(drawn: Part, solved: Part, paper: OnPaper) -> Iterator[tuple[float, int]]:
    """How far each curve of the outline is from where it is drawn."""
    for number, name in enumerate(paper.curves):
        one, other = (curve_value(p, p.curves[name]) for p in (drawn, solved))
        away = max((dist(drawn.points[p], solved.points[p]) for p in drawn.curves[name].points
                    if not isinstance(drawn.curves[name], ArcCurve)), default=0.0)
        if not isinstance(one, Line) and not isinstance(other, Line):
            away = max(away, abs(one.radius - other.radius), dist(one.center, other.center))
        if isinstance(one, Arc) and isinstance(other, Arc):
            away = max(away, dist(one.start, other.start), dist(one.end, other.end))
        yield away, number


def _differing(drawn: Part, solved: Part, paper: OnPaper) -> list[Lack]:
    """Tell the curve that comes out furthest from where it is drawn, where one does."""
    off = sorted(_offsets(drawn, solved, paper), reverse=True)
    if not off or off[0][0] <= EXACT * part_size(drawn):
        return []
    grains = allowed(solved, paper)
    for away, number in off:
        curve = paper.outline.curves[number]
        if away > grains.get(paper.curves[number], 0.0) + EXACT * part_size(drawn):
            at = curve.curve.start if not isinstance(curve.curve, Circle) else curve.curve.center
            return [Lack("contradicts", f"made by the sheet, {curve.name} comes out {away:.4g} off "
                         "where it is drawn", curve.name, at)]
    return []

