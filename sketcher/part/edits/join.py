"""Make one curve of two that continue each other."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.geometry.curves import Arc, Curve, Line
from sketcher.geometry.meet import same_carrier
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.part_size import part_size
from sketcher.part.renaming import hand_over
from sketcher.part.splice import CLOSE, finished, leave, lengths_to_points, two_curves
from sketcher.part.value import ArcCurve, CircleCurve, Part


def join(part: Part, a: str, b: str) -> Edited:
    """Join two lines in line, or two arcs of one circle, that share an end.

    The first keeps its id and takes over the bindings of the second; those that would say the same
    twice or bind the curve to itself are dropped. The shared point stays as a layout point on the
    curve where a dimension names it.

    Parameters
    ----------
    part : Part
        The part.
    a, b : str
        Ids of the two curves.

    Raises
    ------
    EditError
        When they share no end or do not continue each other.
    """
    draft = Draft(part)
    curves = two_curves(draft, a, b)
    one, two = draft.curves[a], draft.curves[b]
    if isinstance(one, CircleCurve) or isinstance(two, CircleCurve):
        raise EditError(f"{a}, {b}", "a circle has no ends", "choose lines or arcs")
    shared = set(one.ends) & set(two.ends)
    if not shared:
        raise EditError(f"{a}, {b}", "share no end", "bring them to a corner first")
    if len(shared) > 1:
        raise EditError(f"{a}, {b}", "together are a full circle", "draw a circle instead")
    if not _continue(draft, *curves):
        raise EditError(f"{a}, {b}", "do not continue each other",
                        "join lines in line, or arcs of one circle")
    (middle,) = shared
    lengths_to_points(draft, a)
    lengths_to_points(draft, b)
    far = two.ends[1] if two.ends[0] == middle else two.ends[0]
    ends = (one.ends[0], far) if one.ends[1] == middle else (far, one.ends[1])
    draft.change_curve(a, ends=ends)
    renamed = {b: a}
    if isinstance(one, ArcCurve) and isinstance(two, ArcCurve) and one.center != two.center:
        renamed[two.center] = one.center
    hand_over(draft, renamed)
    draft.take_curve(b)
    leave(draft, middle, a)
    for point in two.points[2:]:
        if point in renamed:
            draft.remove(point)
    return finished(draft, f"{b} is part of {a}", a)


def _continue(draft: Draft, a: Curve, b: Curve) -> bool:
    tolerance = CLOSE * part_size(draft)
    if isinstance(a, Line) and isinstance(b, Line):
        ends = {a.start, a.end} & {b.start, b.end}
        outward = 0.0
        for at in ends:
            ax, ay = (p - q for p, q in zip(a.end if at == a.start else a.start, at, strict=True))
            bx, by = (p - q for p, q in zip(b.end if at == b.start else b.start, at, strict=True))
            outward = ax * bx + ay * by
        return same_carrier(a, b, tolerance) and outward < 0.0
    if isinstance(a, Arc) and isinstance(b, Arc):
        # One may begin where the other ends only if both run on in one sense.
        runs_on = a.end == b.start or a.start == b.end
        return same_carrier(a, b, tolerance) and (a.ccw == b.ccw) == runs_on
    return False
