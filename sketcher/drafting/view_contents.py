"""All views of a drawing: the part, whole or broken, and its details."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import chain

from sketcher.drafting.center_marks import center_marks, symmetry_signs
from sketcher.drafting.dimensioning import Dimensioning, dimensioning_of, whole_lines
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.holes import hole_labels, zero_mark
from sketcher.drafting.layout.choose import FULL, Effort
from sketcher.drafting.layout.paper_ground import Ground
from sketcher.drafting.measured import Measured, measured
from sketcher.drafting.paper_view import MM_PER, Cut, View
from sketcher.drafting.primitives import Item, Stroke, Text, item_box
from sketcher.drafting.sizes import Sizes
from sketcher.drafting.views.broken_view import break_lines, broken
from sketcher.drafting.views.dense_patterns import simplified
from sketcher.drafting.views.detail_measures import left_over
from sketcher.drafting.views.detail_rings import SMALL, DetailRing, lettered, rings_of
from sketcher.drafting.views.detail_views import DetailView, detail_of, ring_marks, tiny_in
from sketcher.drafting.views.one_view import OneView
from sketcher.geometry.bounds import Box
from sketcher.part.value import Part
from sketcher.part.whole import Piece
from sketcher.progress import stage


@dataclass(frozen=True, slots=True)
class Contents:
    """The part with everything on it and its details, each around an origin of its own.

    Parameters
    ----------
    main : OneView
    details : tuple of DetailView
        From left to right as their rings stand.
    """

    main: OneView
    details: tuple[DetailView, ...] = ()

    @property
    def view(self) -> View:
        """Where the part lies."""
        return self.main.view

    @property
    def items(self) -> tuple[Item, ...]:
        """What stands on the part but its dimensions."""
        return self.main.items

    @property
    def dimensioning(self) -> Dimensioning | None:
        """What of the part is to be laid out."""
        return self.main.dimensioning

    @property
    def dimensions(self) -> tuple[Drawn, ...]:
        """The dimensions that stand on the part."""
        return self.main.dimensions

    @property
    def box(self) -> Box:
        """Box around the part with its dimensions."""
        return self.main.box

    @property
    def badly(self) -> tuple[str, ...]:
        """Ids of dimensions that found no room, here or in a detail."""
        return (*self.main.badly, *chain.from_iterable(d.drawn.badly for d in self.details))

    def laid_out(self, effort: Effort = FULL) -> Contents:
        """Return it with all dimensions laid out."""
        return Contents(self.main.laid_out(effort),
                        tuple(detail.laid_out(effort) for detail in self.details))


def contents_of(
    part: Part, pieces: tuple[Piece, ...], factor: float, height: float, effort: Effort = FULL,
    cuts: tuple[Cut, ...] = (), crowded: Collection[str] = (),
) -> Contents:
    """Draw the view with its center lines and dimensions at a scale, wherever it comes to lie.

    Parameters
    ----------
    part : Part
    pieces : tuple of Piece
        What the sheet shows.
    factor : float
        The scale, paper by part.
    height : float
        Of the dimensions' lettering, in mm.
    effort : Effort
    cuts : tuple of Cut
        Stretches that are left out.
    crowded : collection of str
        Dimensions for which a detail is to make room.
    """
    view = View(factor * MM_PER[part.unit], cuts=cuts)
    wanted = measured(part, view) if part.drawing.dimensions else ()
    rings = rings_of(part, view, pieces, wanted, crowded)
    details = _details(part, pieces, rings, factor, height)
    told = [ring for ring, detail in zip(rings, details, strict=True)
            if detail.moved or not ring.members.isdisjoint(part.drawing.details)]
    if part.drawing.dimensions and len(told) < len(rings):
        # Where another callout or detail says all there is to say, none is needed.
        rings = lettered(told, wanted)
        details = _details(part, pieces, rings, factor, height)
    moved = frozenset(chain.from_iterable(d.moved for d in details))
    main = _main(part, view, pieces, rings, height, left_over(wanted, moved, rings, view))
    with stage(0.5, 1.0):
        return Contents(main, tuple(details)).laid_out(effort)


def _details(
    part: Part, pieces: tuple[Piece, ...], rings: Sequence[DetailRing], factor: float,
    height: float,
) -> list[DetailView]:
    """Draw the details, each with the dimensions that none before it has."""
    details: list[DetailView] = []
    for ring in rings:
        gone = frozenset(chain.from_iterable(d.moved for d in details))
        details.append(detail_of(part, pieces, ring, height, ring.scale / factor, gone))
    return details


def _main(
    part: Part, view: View, pieces: tuple[Piece, ...], rings: Sequence[DetailRing], height: float,
    wanted: Sequence[Measured],
) -> OneView:
    """Draw the part, with the rings of its details, and say what is to be dimensioned."""
    dense, fields = simplified(part, pieces, view, frozenset().union(*(r.members for r in rings)))
    pieces = tuple(p for p in pieces if p.id not in dense)
    whole = [Stroke(view.curve(p.curve), "visible", f"curve:{p.id}")
             for p in pieces if p.role == "outline"]
    outline = [cut for stroke in whole for cut in broken(stroke, view)]
    tiny = tiny_in(rings, pieces, view, wanted, SMALL)
    with stage(0.0, 0.5):
        marks = center_marks(part, view, [p for p in pieces if p.id not in tiny])
    centers: list[Item] = [stroke for mark in marks for stroke in mark.strokes]
    centers += symmetry_signs(part, marks)
    labels: list[Text] = []
    zero = zero_mark(part, view) if part.drawing.hole_table else []
    if part.drawing.hole_table:
        bare = Ground([s.curve for s in (*outline, *zero)], list(whole_lines(marks)))
        labels = hole_labels(part, view, pieces, height, bare)
    beside = [*break_lines(whole, view), *fields, *zero]
    for ring in rings:
        stroke, letter = ring_marks(ring, view, outline, height, [item_box(t) for t in labels])
        beside.append(stroke)
        labels.append(letter)
    asked = None
    if part.drawing.dimensions and outline:
        sizes = Sizes(part.drawing.practice, height)
        asked = dimensioning_of(part, view, whole, marks, labels, sizes,
                                [stroke.curve for stroke in beside], wanted)
    return OneView(view, (*outline, *centers, *beside, *labels), asked)
