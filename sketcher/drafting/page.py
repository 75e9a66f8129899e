"""One page of the finished drawing: its size and everything on it."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import dist

from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.line_classes import Practice
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Item
from sketcher.geometry.curves import XY, Circle


@dataclass(frozen=True, slots=True)
class DetailOnPage:
    """A detail view as it lies on a page.

    Parameters
    ----------
    letter : str
    view : View
        Its place and scale on the page.
    center : XY
        Middle of what it shows, in the part's unit.
    radius : float
        In the part's unit.
    dimensions : tuple of str
        Ids of the dimensions that stand on it.
    members : tuple of str
        Ids of the curves and dimensions that it is for.
    """

    letter: str
    view: View
    center: XY
    radius: float
    dimensions: tuple[str, ...]
    members: tuple[str, ...] = ()

    def circle(self) -> Circle:
        """Return its boundary on the page, in mm."""
        return Circle(self.view.point(self.center), self.view.factor * self.radius)


@dataclass(frozen=True, slots=True)
class Page:
    """A page in mm, y up from its lower left corner.

    Parameters
    ----------
    name : str
        What the page shows: ``drawing``, ``inspection``, ``order``.
    size : tuple of float
        Width and height in mm.
    practice : {"ISO", "ASME"}
        Whose line classes hold.
    items : tuple of Item
        Everything but the dimensions, in drawing order.
    dimensions : tuple of Drawn
        Dimensions, each with its items and what it measures.
    view : View or None
        Place of the part on the page; None on a page without it.
    unit : {"mm", "in"}
        The part's unit.
    title : str
        For the file's own description.
    sheet : str
        Name of the paper's size.
    author : str
        Who drew it, for the file's own description.
    crowded : tuple of str
        Ids of the dimensions that found no room: they stand on or across something.
    details : tuple of DetailOnPage
        Details of the part; their items and dimensions are among those of the page.
    """

    name: str
    size: tuple[float, float]
    practice: Practice
    items: tuple[Item, ...]
    dimensions: tuple[Drawn, ...] = ()
    view: View | None = None
    unit: str = "mm"
    title: str = ""
    sheet: str = field(default="")
    crowded: tuple[str, ...] = ()
    author: str = ""
    details: tuple[DetailOnPage, ...] = ()

    def detail_at(self, at: XY) -> DetailOnPage | None:
        """Return the detail at a place on the page."""
        circles = ((detail, detail.circle()) for detail in self.details)
        return next((detail for detail, c in circles if dist(at, c.center) <= c.radius), None)

    def view_of(self, dimension: str) -> View | None:
        """Return the view on which a dimension stands, by its id."""
        return next((d.view for d in self.details if dimension in d.dimensions), self.view)

    @property
    def caution(self) -> str:
        """What to tell about dimensions without room; empty where all have some."""
        if not self.crowded:
            return ""
        shown = ", ".join(self.crowded[:6]) + (", ..." if len(self.crowded) > 6 else "")
        return (f"no room on the sheet for {shown}: take a larger sheet and scale, or drag them to "
                "where they can be read")

    def all_items(self) -> tuple[Item, ...]:
        """Return everything on the page, dimensions last."""
        return (*self.items, *(item for dim in self.dimensions for item in dim.items))
