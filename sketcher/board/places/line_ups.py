"""Lining up with points that the pointer rested on: which are awake, and how one learns of it."""

from __future__ import annotations

from collections.abc import Iterable

from sketcher.board.places.point_place import Spot
from sketcher.board.preview import Mark, Preview, Word
from sketcher.part.value import Part

KNOWN = 3
"""After so many places that were lined up, the hint goes: the hand knows it."""

HINT = "now move level or plumb from it: places line up"


def line_ups_shown(
    part: Part, touched: Iterable[str], spot: Spot, known: int, rested: bool
) -> Preview:
    """Return marks at the points that places line up with, and the hint at the one rested on.

    Parameters
    ----------
    part : Part
        The part.
    touched : iterable of str
        Points and curves that the pointer was on lately.
    spot : Spot
        Where the pointer is.
    known : int
        How often a place was lined up already.
    rested : bool
        Whether the pointer came to its place, rather than took it last and stayed.
    """
    marks = tuple(Mark(part.points[name], "awake") for name in touched
                  if name in part.points and name != spot.point)
    if not rested or spot.point is None or spot.shape == "center" or known >= KNOWN:
        return Preview(marks=marks)
    return Preview(marks=marks, words=(Word(spot.at, HINT),))


def is_lined_up(spot: Spot, touched: Iterable[str]) -> bool:
    """Tell whether a place is level or plumb with a point that the pointer rested on."""
    names = set(touched)
    return any(tie.kind in ("level", "plumb") and len(tie.of) == 2 and tie.of[0] in names
               for tie in spot.ties)
