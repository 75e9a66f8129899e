"""What was found of a half before its datum was chosen, told in the part's own coordinates."""

from __future__ import annotations

from dataclasses import replace

from sketcher.geometry.curves import XY
from sketcher.intake.linework import HalfShape, PlaceInFile, SymmetryAxis


def from_datum(half: HalfShape, place: PlaceInFile) -> HalfShape:
    """Return a half whose axes, offered axes and pattern centers are those of the bound part.

    Parameters
    ----------
    half : HalfShape
        Straightened, its place in the file before a datum was chosen.
    place : PlaceInFile
        Of the bound part: the same turn, another origin.
    """
    dx, dy = place.in_part(half.frame.origin)

    def at(point: XY) -> XY:
        return (point[0] + dx, point[1] + dy)

    def moved(axis: SymmetryAxis) -> SymmetryAxis:
        return replace(axis, start=at(axis.start), end=at(axis.end))

    patterns = tuple(each if each.center is None else replace(each, center=at(each.center))
                     for each in half.patterns)
    return replace(half, axes=tuple(map(moved, half.axes)),
                   offered=tuple(map(moved, half.offered)), patterns=patterns)
