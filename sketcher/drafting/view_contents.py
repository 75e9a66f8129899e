"""A view with its center lines and dimensions, wherever on the paper it comes to lie."""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.drafting.center_marks import center_marks, symmetry_signs
from sketcher.drafting.dimensioning import Dimensioning, dimensioning_of, whole_lines
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.holes import hole_labels
from sketcher.drafting.layout.choose import FULL, Effort
from sketcher.drafting.layout.paper_ground import Ground
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.drafting.primitives import Item, Stroke, Text, items_box
from sketcher.drafting.sizes import Sizes
from sketcher.part.value import Part
from sketcher.part.whole import Piece
from sketcher.progress import stage


@dataclass(frozen=True, slots=True)
class Contents:
    """A view with everything on it, around the origin of its own."""

    view: View
    items: tuple[Item, ...]
    dimensions: tuple[Drawn, ...]
    box: tuple[float, float, float, float]
    dimensioning: Dimensioning | None
    badly: tuple[str, ...] = ()


def contents_of(
    part: Part, pieces: tuple[Piece, ...], factor: float, height: float, effort: Effort = FULL
) -> Contents:
    """Draw the view with its center lines and dimensions at a scale, wherever it comes to lie."""
    view = View(factor * MM_PER[part.unit])
    outline = [Stroke(view.curve(p.curve), "visible", f"curve:{p.id}")
               for p in pieces if p.role == "outline"]
    with stage(0.0, 0.5):
        marks = center_marks(part, view, pieces)
    centers: list[Item] = [stroke for mark in marks for stroke in mark.strokes]
    centers += symmetry_signs(part, marks)
    labels: list[Text] = []
    if part.drawing.hole_table:
        bare = Ground([s.curve for s in outline], list(whole_lines(marks)))
        labels = hole_labels(part, view, pieces, height, bare)
    wanted = None
    if part.drawing.dimensions and outline:
        sizes = Sizes(part.drawing.practice, height)
        wanted = dimensioning_of(part, view, outline, marks, labels, sizes)
    with stage(0.5, 1.0):
        return with_dimensions(view, (*outline, *centers, *labels), wanted, effort)


def with_dimensions(
    view: View, items: tuple[Item, ...], wanted: Dimensioning | None, effort: Effort
) -> Contents:
    """Lay the dimensions out around what is drawn."""
    layout = None if wanted is None else wanted.laid_out(effort)
    dimensions = () if layout is None else layout.drawn
    every = [*items, *(item for d in dimensions for item in d.items)]
    return Contents(view, items, dimensions, items_box(every), wanted,
                    () if layout is None else layout.badly)
