"""Holes that are not cut: marked for the drill, or left to who drills by the list of holes."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.errors import ExportError
from sketcher.inspect.drilled_holes import DrilledHoles
from sketcher.inspect.words import bare_length, plural, some
from sketcher.part.image_id import read_image_id
from sketcher.part.value import Part
from sketcher.shop.cut_plan import MOST_NAMED, CutContour, CutMark, CutSettings


def without_small_holes(
    part: Part, contours: Sequence[CutContour], settings: CutSettings
) -> tuple[tuple[CutContour, ...], tuple[CutMark, ...], tuple[str, ...]]:
    """Return the contours that are cut, the marks in place of others, and what is told of them.

    Parameters
    ----------
    part : Part
    contours : sequence of CutContour
        Nominal ones; a hole in arcs is one circle already.
    settings : CutSettings
        `small_holes` says what becomes of holes that `process` does not cut well; where it says
        nothing they are marked, and without a process all are cut.

    Raises
    ------
    ExportError
        When holes are to be marked or left and no process says which.
    """
    choice = settings.small_holes or ("mark" if settings.process else "cut")
    if choice == "cut":
        return tuple(contours), (), ()
    if settings.process is None:
        raise ExportError(part.name, f"no process says which holes are small enough to {choice}",
                          "name laser or plasma, or cut all holes")
    rule = DrilledHoles(part, settings.process, settings.kerf)
    kept, marks = [], []
    for contour in contours:
        circle = contour.circle
        why = "" if circle is None or not contour.hole else rule.why(
            {read_image_id(name).source for name in contour.ids}, 2.0 * circle.radius)
        if not why or circle is None:
            kept.append(contour)
        else:
            marks.append(CutMark(contour.ids[0], circle.center, 2.0 * circle.radius, why))
    told = tuple(_told(marks, choice == "mark", part.unit))
    return tuple(kept), tuple(marks) if choice == "mark" else (), told


def _told(marks: Sequence[CutMark], marked: bool, unit: str) -> list[str]:
    """Return a line for each reason: how many holes are not cut for it, and which."""
    reasons: dict[tuple[float, str], list[str]] = {}
    for mark in marks:
        reasons.setdefault((round(mark.diameter, 9), mark.why), []).append(mark.id)
    done = "marked for drilling" if marked else "left out: neither cut nor marked"
    return [f"{plural(len(names), 'hole')} Ø{bare_length(size, unit)} {done}, {why}: "
            f"{some(names, MOST_NAMED)}" for (size, why), names in reasons.items()]
