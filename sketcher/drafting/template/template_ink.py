"""What a template shows of the part: outline, center lines and punch crosses, in mm at full size.

Nothing is added for the kerf: a template is worked to by hand, and the middle of a line is the
edge. A hole is punched at its center; a straight slot at the centers of its round ends, which are
drilled before the rest is taken out (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import atan2, pi

from sketcher.drafting.as_measured import as_measured
from sketcher.drafting.center_marks import center_marks
from sketcher.drafting.features import shown_pieces
from sketcher.drafting.holes import TableHole, said, table_holes
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.drafting.primitives import Stroke
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.geometry.evaluate import midpoint, reflected, reflected_point
from sketcher.part.value import Part

UPRIGHT = Line((0.0, 0.0), (0.0, 1.0))
"""Axis about which a template for the back side is turned over."""
PLACES = 4
"""Decimals of a millimetre by which the middle of a dash is the center of a hole."""
EXACT = 9
"""Decimals of the part's unit to which a size is what it was typed."""


@dataclass(frozen=True, slots=True)
class Punch:
    """A place to be punched, in mm.

    Parameters
    ----------
    at : XY
    turn : float
        Of the cross against level, in radians: that of the center line through it.
    radius : float
        Of the hole that is drilled there.
    words : str
        Letter of the hole in the table of holes, and the size that is drilled; empty where a slot
        has them at its other end.
    name : str
        The letter alone.
    """

    at: XY
    turn: float
    radius: float
    words: str
    name: str


@dataclass(frozen=True, slots=True)
class TemplateInk:
    """The part at full size in mm, y up, wherever it lies."""

    outline: tuple[Stroke, ...]
    centers: tuple[Stroke, ...]
    punches: tuple[Punch, ...]

    @property
    def box(self) -> Box:
        """Box around outline and center lines."""
        return bounds_of(stroke.curve for stroke in (*self.outline, *self.centers))


def template_ink(part: Part, mirrored: bool = False) -> TemplateInk:
    """Return what a template of a solved part shows, or with `mirrored` its back side.

    Raises
    ------
    SketcherError
        For a part without outline.
    """
    part = as_measured(part.having(drawing=replace(part.drawing, show_half=False)))
    view = View(MM_PER[part.unit])
    pieces = shown_pieces(part, alone=True)
    outline = [Stroke(view.curve(p.curve), "dimension", f"curve:{p.id}")
               for p in pieces if p.role == "outline"]
    if not outline:
        raise SketcherError("curves", "there is no outline for a template", "draw the part first")
    centers = [replace(stroke, curve=dash, fit=None)
               for mark in center_marks(part, view, pieces)
               for stroke in mark.strokes for dash in stroke.dashes()]
    turns = _turns(stroke.curve for stroke in centers)
    punches = [punch for one in table_holes(part) for punch in _punches(part, one, view, turns)]
    if mirrored:
        outline, centers = _turned_over(outline), _turned_over(centers)
        punches = [replace(p, at=reflected_point(p.at, UPRIGHT), turn=pi - p.turn)
                   for p in punches]
    return TemplateInk(tuple(outline), tuple(centers), tuple(punches))


def _punches(
    part: Part, one: TableHole, view: View, turns: Mapping[XY, float]
) -> Iterator[Punch]:
    hole = one.hole
    for number, place in enumerate(hole.centers[1:] or hole.centers):
        at = view.point(place)
        # Solved to the last bit 9/32 in is none any more.
        words = "" if number else f"{one.name} Ø{said(part, round(hole.width, EXACT))}"
        yield Punch(at, turns.get(_cell(at), 0.0), 0.5 * view.factor * hole.width, words, one.name)


def _turns(dashes: Iterable[Curve]) -> dict[XY, float]:
    """Return the directions of straight dashes by the places of their middles.

    A center line crosses the center of its hole on a dash whose middle that is.
    """
    return {_cell(midpoint(dash)): atan2(dash.direction[1], dash.direction[0])
            for dash in dashes if isinstance(dash, Line)}


def _cell(at: XY) -> XY:
    return (round(at[0], PLACES), round(at[1], PLACES))


def _turned_over(strokes: Iterable[Stroke]) -> list[Stroke]:
    return [replace(stroke, curve=reflected(stroke.curve, UPRIGHT)) for stroke in strokes]
