"""Where the cut of a contour may begin, and the contour from there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import piece, point_at, tangent_at
from sketcher.shop.cut_plan import CutContour

ALONG = (1 / 2, 1 / 3, 2 / 3, 1 / 6, 5 / 6, 1 / 12, 11 / 12)
"""Places along a curve in the order of the trials: the middle, then either side of it."""

FINE = (*((k + 0.5) / 32 for k in range(32)), 0.002, 0.998)
"""Places that are tried at last, along a curve and round a circle."""

ROUND = (0.0, 1 / 2, 1 / 4, 3 / 4, 1 / 8, 3 / 8, 5 / 8, 7 / 8)
"""Places round a circle; the first is where a circle begins anyhow."""

MOST_CURVES = 60
"""The longest curves of a contour that are tried; a drawn contour seldom has as many."""


@dataclass(frozen=True, slots=True)
class Beginning:
    """A place on a contour: the number of the curve, its parameter there, and what holds there.

    Parameters
    ----------
    number : int
        Of the curve.
    parameter : float
        Along it, above 0 and below 1; from 0 on a circle.
    at : (x, y)
    along : (x, y)
        Unit direction of the cut; the scrap is on its left.
    bend : float
        Radius of an arc whose center lies in the scrap, 0 for all else: a lead has to turn tighter.
    """

    number: int
    parameter: float
    at: XY
    along: XY
    bend: float


def beginnings(contour: CutContour, fine: bool = False) -> Iterator[Beginning]:
    """Yield where to begin in the order of the trials: straights first, the longest before others.

    On the middle of a long straight a mark of the lead is dressed with least harm, and no corner
    takes its heat (common practice, no source). With `fine` many more places are yielded.
    """
    circle = contour.circle
    if circle is not None:
        yield from (_round_place(circle, t, contour.hole)
                    for t in (FINE if fine else ROUND))
        return
    order = sorted(range(len(contour.curves)),
                   key=lambda k: (not isinstance(contour.curves[k], Line),
                                  -round(contour.curves[k].length, 9), k))
    for k in order[:MOST_CURVES]:
        curve = contour.curves[k]
        for t in FINE if fine else ALONG:
            bend = curve.radius if isinstance(curve, Arc) and curve.ccw else 0.0
            yield Beginning(k, t, point_at(curve, t), tangent_at(curve, t), bend)


def _round_place(circle: Circle, t: float, hole: bool) -> Beginning:
    x, y = tangent_at(circle, t)
    along = (x, y) if hole else (-x, -y)
    return Beginning(0, t, point_at(circle, t), along, circle.radius if hole else 0.0)


def begun_at(contour: CutContour, beginning: Beginning) -> CutContour:
    """Return the contour from another place on; the curve that holds the place is split in two.

    A circle becomes two half turns: it would begin at its right, wherever it were turned.
    """
    circle = contour.circle
    if circle is not None:
        return replace(contour, ids=contour.ids[:1] * 2,
                       curves=_half_turns(circle, beginning, contour.hole))
    k, t = beginning.number, beginning.parameter
    curve, ids = contour.curves[k], contour.id_of_each
    curves = (piece(curve, t, 1.0), *contour.curves[k + 1:], *contour.curves[:k],
              piece(curve, 0.0, t))
    return replace(contour, curves=curves, ids=(*ids[k:], *ids[:k + 1]))


def _half_turns(circle: Circle, beginning: Beginning, ccw: bool) -> tuple[Curve, Curve]:
    opposite = point_at(circle, (beginning.parameter + 0.5) % 1.0)
    return (Arc(circle.center, beginning.at, opposite, ccw),
            Arc(circle.center, opposite, beginning.at, ccw))
