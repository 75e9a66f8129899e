"""One view with what stands on it and its dimensions, wherever on the paper it comes to lie."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sketcher.drafting.dimensioning import Dimensioning
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.layout.choose import FULL, Effort
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Item, items_box
from sketcher.geometry.bounds import Box


@dataclass(frozen=True, slots=True)
class OneView:
    """A view around an origin of its own.

    Parameters
    ----------
    view : View
    items : tuple of Item
        Outline, center lines, lettering: all but the dimensions.
    dimensioning : Dimensioning or None
        What is to be laid out.
    dimensions : tuple of Drawn
        As they are laid out.
    badly : tuple of str
        Ids of those that found no room.
    """

    view: View
    items: tuple[Item, ...]
    dimensioning: Dimensioning | None
    dimensions: tuple[Drawn, ...] = ()
    badly: tuple[str, ...] = ()

    @property
    def box(self) -> Box:
        """Box around all of it."""
        return items_box([*self.items, *(item for d in self.dimensions for item in d.items)])

    def laid_out(self, effort: Effort = FULL) -> OneView:
        """Return it with its dimensions laid out."""
        if self.dimensioning is None:
            return self
        layout = self.dimensioning.laid_out(effort)
        return replace(self, dimensions=layout.drawn, badly=layout.badly)
