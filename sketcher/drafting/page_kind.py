"""How a page that follows the drawing says what it holds and when it is wanted."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from sketcher.drafting.lettering import lettered
from sketcher.drafting.paper_sizes import Sheet
from sketcher.drafting.primitives import Item
from sketcher.part.value import Part

EDGE = 6.0
"""Room left within the frame and between heading and body, in mm: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What the bodies of further pages are made from.

    Parameters
    ----------
    part : Part
        The solved part.
    sheet : Sheet
        Paper with frame and title block; a body keeps within `sheet.inner`, above `sheet.block`,
        in lettering of `sheet.height`, its heading of `sheet.large`.
    measured : mapping of str to float or None
        Measured values by binding id, in the part's unit or in degrees.
    """

    part: Part
    sheet: Sheet
    measured: Mapping[str, float] | None = None

    def said(self, text: str) -> str:
        """Return a text as the sheet letters it."""
        return lettered(text, self.sheet.capitals)


@dataclass(frozen=True, slots=True)
class PageKind:
    """A kind of page behind the drawing; frame and title block are put around each body.

    Parameters
    ----------
    name : str
        As the title block says it.
    rank : int
        Pages with a lower one come first.
    wanted : callable
        Whether the drawing of a part has such pages.
    bodies : callable
        Returns what stands on each of the pages, in mm on paper.
    planned : callable or None
        Returns how many pages it takes, where that is known before they are drawn; a fraction
        tells of ways with as many pages which is worse.
    """

    name: str
    rank: int
    wanted: Callable[[Part], bool]
    bodies: Callable[[Asked], Iterable[list[Item]]]
    planned: Callable[[Asked], float] | None = None
