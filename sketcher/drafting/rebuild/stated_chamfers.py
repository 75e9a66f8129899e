"""What ``2x 4 × 45°`` says: the leg of a bevelled corner, its angle, and at how many corners.

The angle is that to the edge from which it is drawn so; at 45° either will do (ISO 129-1, from
memory).
"""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from sketcher.drafting.rebuild.drawn_outline import heading, turned_from
from sketcher.drafting.rebuild.on_paper import OnPaper
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.meet import meet


def bind_bevel(
    paper: OnPaper, ends: tuple[XY, XY], bevel: float, count: int, said_by: str
) -> str:
    """Bind the angle of a chamfer, and the chamfers that are alike.

    Parameters
    ----------
    paper : OnPaper
    ends : tuple of (x, y)
        Between which its leg is dimensioned: its ends, or one and the sharp corner.
    bevel : float
        In degrees.
    count : int
        Number of corners at which it holds.
    said_by : str
        Id of the dimension.

    Returns
    -------
    str
        What is wrong with it; empty where nothing is.
    """
    chamfers = dict(_chamfers(paper))
    mine = next((k for k in chamfers if all(
        min(dist(end, at) for at in _places(paper, k)) < paper.tol for end in ends)), None)
    if mine is None:
        return "stands at no chamfer that is drawn"
    alike = [k for k, line in chamfers.items()
             if abs(line.length - chamfers[mine].length) < paper.tol
             and abs(_apart(paper, k, bevel)[0] - bevel) < 0.5]
    others = [k for k in alike if k != mine]
    if count > 1 and len(alike) != count:
        return f"holds at {count}, but {len(alike)} are drawn of that size"
    for number in (mine, *(others if count > 1 else ())):
        side = _apart(paper, number, bevel)[1]
        paper.redrawn.bind("angle", paper.curves[number], paper.curves[side], value=bevel,
                           said_by=said_by)
        paper.redrawn.bind("equal", paper.curves[mine], paper.curves[number])
    return ""


def _chamfers(paper: OnPaper) -> Iterator[tuple[int, Line]]:
    """Give the edges between two edges."""
    for number, drawn in enumerate(paper.outline.curves):
        if isinstance(drawn.curve, Line) and drawn.ends is not None and all(
                k is not None and isinstance(paper.outline.curves[k].curve, Line)
                for k in _beside(paper, number)):
            yield number, drawn.curve


def _places(paper: OnPaper, number: int) -> list[XY]:
    """Both ends of a chamfer, and the sharp corner that it took."""
    line = paper.outline.curves[number].curve
    assert isinstance(line, Line)
    one, other = (paper.outline.curves[k or 0].curve for k in _beside(paper, number))
    return [line.start, line.end, *(m.point for m in meet(one, other, bounded=False))]


def _beside(paper: OnPaper, number: int) -> list[int | None]:
    return [paper.outline.other(corner, number)
            for corner in paper.outline.curves[number].ends or ()]


def _apart(paper: OnPaper, number: int, bevel: float) -> tuple[float, int]:
    """Return the angle to the edge beside it that is nearer to one, and that edge."""
    found = []
    for side in _beside(paper, number):
        one, other = paper.outline.curves[number].curve, paper.outline.curves[side or 0].curve
        if side is not None and isinstance(one, Line) and isinstance(other, Line):
            apart = turned_from(heading(one), heading(other))
            found.append((abs(apart - bevel), apart, side))
    return min(found)[1:]
