"""Says what a sheet leaves out: how many contours of which kind, with size and place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sketcher.inspect.detached import Detached
from sketcher.inspect.words import bare_length, length, plural, spot

if TYPE_CHECKING:
    from sketcher.inspect.inspection import Inspection

MOST = 3
"""Contours of one kind that are told one by one."""


def undrawn(inspection: Inspection) -> str:
    """Return what the sheet does not show of a part, as words for a sentence.

    Parameters
    ----------
    inspection : Inspection

    Returns
    -------
    str
        Such as ``2 circles (Ø8 at (25, 30), Ø10 at (0, 20)) and 1 contour (20 x 10 at (5, 5))``;
        empty where everything is shown. Sizes and places are in the part's unit.
    """
    beside, unit = inspection.profile.detached, inspection.part.unit
    inner = sum(len(piece.contours) - 1 for piece in beside)
    told = [_kind([piece for piece in beside if piece.diameter], "circle", unit),
            _kind([piece for piece in beside if not piece.diameter], "contour", unit),
            f"{plural(inner, 'contour')} in them" if inner else ""]
    *first, last = [each for each in told if each] or [""]
    return f"{', '.join(first)} and {last}" if first else last


def _kind(some: list[Detached], word: str, unit: str) -> str:
    if not some:
        return ""
    named = ", ".join(f"{_size(piece, unit)} at {spot(piece.at, unit)}" for piece in some[:MOST])
    more = f" and {len(some) - MOST} more" if len(some) > MOST else ""
    return f"{plural(len(some), word)} ({named}{more})"


def _size(piece: Detached, unit: str) -> str:
    if piece.diameter:
        return f"Ø{length(piece.diameter, unit)}"
    return f"{bare_length(piece.size[0], unit)} x {length(piece.size[1], unit)}"
