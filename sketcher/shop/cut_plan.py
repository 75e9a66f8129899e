"""What is cut, as values: settings, contours, the torch's paths, punch marks, the whole plan.

Lengths are in the part's unit. A contour of an inspection has its material on the left; what is
cut runs the other way, with the part on the right of the torch: a plasma's swirl leaves the right
side of the cut squarer (torch manuals), and that is then the part's side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import dist
from typing import Literal, TypeAlias

from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, start_of
from sketcher.inspect.stock import Process

SmallHoles: TypeAlias = Literal["cut", "mark", "leave"]
MarkForm: TypeAlias = Literal["point", "cross", "circle"]

MOST_NAMED = 6
"""Of more curves or contours than these the first ones are told, and how many more there are."""


@dataclass(frozen=True, slots=True)
class CutSettings:
    """What a person chooses for one cut; without any the part is written as it was always.

    Parameters
    ----------
    process : "laser" or "plasma", optional
        For the rules that differ; without one no rule is applied by itself.
    kerf : float
        Width of the cut, 0 for the nominal size.
    lead : float or "auto", optional
        Length of the lead-ins; none without it.
    small_holes : str, optional
        What becomes of holes that the process does not cut well: ``cut``, ``mark`` or ``leave``;
        without it they are marked where a process is named and cut where none is.
    mark_form : str
        How a punch mark is drawn.
    tabs : int
        Uncut places of each outside contour.
    tab_width : float, optional
        By default by the process.
    copies : int
        How many parts; below one, as many as the plate has room for.
    plate : (width, height), optional
        What they are cut from.
    between : float, optional
        Least distance of two copies.
    grain : bool
        The copies must not be turned by a quarter.
    lower_left : bool
        Moved so that everything lies right of and above zero.
    """

    process: Process | None = None
    kerf: float = 0.0
    lead: float | Literal["auto"] | None = None
    small_holes: SmallHoles | None = None
    mark_form: MarkForm = "point"
    tabs: int = 0
    tab_width: float | None = None
    copies: int = 1
    plate: tuple[float, float] | None = None
    between: float | None = None
    grain: bool = False
    lower_left: bool = False


@dataclass(frozen=True, slots=True)
class CutContour:
    """A closed contour in the direction of the cut, from where the cut begins.

    Parameters
    ----------
    ids : tuple of str
        Of the pieces, as many as `curves` until a stage merges or splits some.
    curves : tuple of Curve
        Head to tail, closed; a circle stands alone.
    hole : bool
        Inside contour.
    depth : int
        How many contours lie around it.
    """

    ids: tuple[str, ...]
    curves: tuple[Curve, ...]
    hole: bool
    depth: int

    @property
    def circle(self) -> Circle | None:
        """The circle that it is, where it is one."""
        first = self.curves[0]
        return first if isinstance(first, Circle) else None

    @property
    def id_of_each(self) -> tuple[str, ...]:
        """An id for every curve; a circle that was drawn in several arcs goes by the first."""
        alike = len(self.ids) == len(self.curves)
        return self.ids if alike else self.ids[:1] * len(self.curves)

    @property
    def start(self) -> XY:
        """Where the cut begins and ends, without a lead-in."""
        return start_of(self.curves[0])

    @property
    def length(self) -> float:
        """Length of the contour."""
        return sum(curve.length for curve in self.curves)


@dataclass(frozen=True, slots=True)
class CutPath:
    """One way of the torch from pierce to end.

    Parameters
    ----------
    contour : CutContour
        Offset by half of the kerf where there is one; begins where the lead-in meets it.
    lead_in, lead_out : tuple of Curve
        Before and after the contour, head to tail with it; empty without.
    tabs : tuple of (from, to)
        Lengths along the contour between which it is not cut.
    copy : int
        To which of the copies it belongs, from 0.
    """

    contour: CutContour
    lead_in: tuple[Curve, ...] = ()
    lead_out: tuple[Curve, ...] = ()
    tabs: tuple[tuple[float, float], ...] = ()
    copy: int = 0

    @property
    def pierce(self) -> XY:
        """Where the torch goes through the plate."""
        return start_of(self.lead_in[0]) if self.lead_in else self.contour.start

    @property
    def end(self) -> XY:
        """Where the torch stops."""
        return end_of(self.lead_out[-1]) if self.lead_out else self.contour.start

    @property
    def curves(self) -> tuple[Curve, ...]:
        """The whole way, tabs included."""
        return (*self.lead_in, *self.contour.curves, *self.lead_out)

    @property
    def length(self) -> float:
        """Length of what is cut, leads included, tabs left out."""
        uncut = sum(end - start for start, end in self.tabs)
        return sum(curve.length for curve in self.curves) - uncut


@dataclass(frozen=True, slots=True)
class CutMark:
    """A punch mark in place of a hole: where, what is drilled there, and why it is not cut."""

    id: str
    at: XY
    diameter: float
    why: str
    copy: int = 0


@dataclass(frozen=True)
class CutPlan:
    """All that goes to the cutter, in order: marks first, then the paths.

    Parameters
    ----------
    name, unit : str
        Of the part.
    thickness : float
        Of the plate.
    settings : CutSettings
        By which it was made.
    marks : tuple of CutMark
    paths : tuple of CutPath
    finished : tuple of CutContour
        The nominal contours of every copy, as the part is to become.
    plate : tuple of Line
        Edges of the plate where one is given.
    travel, travel_as_drawn : float
        Way of the torch between paths and marks, and what it would be in the order of the drawing.
    told : tuple of str
        What a person has to know of it, a line each.
    """

    name: str
    unit: str
    thickness: float
    settings: CutSettings
    marks: tuple[CutMark, ...]
    paths: tuple[CutPath, ...]
    finished: tuple[CutContour, ...]
    plate: tuple[Line, ...] = ()
    travel: float = 0.0
    travel_as_drawn: float = 0.0
    told: tuple[str, ...] = ()

    @property
    def length(self) -> float:
        """Length of all cuts, leads included."""
        return sum(path.length for path in self.paths)

    @property
    def pierces(self) -> int:
        """How often the torch goes through the plate; each tab is one more."""
        return sum(1 + len(path.tabs) for path in self.paths)

    @property
    def copies(self) -> int:
        """How many parts it cuts, also where as many were asked for as there is room for."""
        return 1 + max((path.copy for path in self.paths), default=0)

    def as_dict(self) -> dict[str, object]:
        """Return what is told of the plan as JSON, lengths in its unit."""
        chosen = self.settings
        return {
            "process": chosen.process,
            "kerf": chosen.kerf,
            "outside": sum(not path.contour.hole for path in self.paths),
            "inside": sum(path.contour.hole for path in self.paths),
            "copies": self.copies,
            "length": self.length,
            "pierces": self.pierces,
            "travel": self.travel,
            "travel as drawn": self.travel_as_drawn,
            "order": [{"ids": list(path.contour.ids), "copy": path.copy,
                       "pierce": list(path.pierce), "tabs": len(path.tabs)}
                      for path in self.paths],
            "marks": [{"id": mark.id, "copy": mark.copy, "at": list(mark.at),
                       "diameter": mark.diameter, "why": mark.why} for mark in self.marks],
        }


def way_between(places: Sequence[tuple[XY, XY]]) -> float:
    """Return the length of the rapid moves between runs given as (begin, end), in this order."""
    return sum(dist(end, begin) for (_, end), (begin, _) in pairwise(places))
