"""Delete points, curves, bindings and patterns, and heal the gap where asked."""

from __future__ import annotations

from sketcher.errors import GeometryError
from sketcher.geometry.corner_blends import corner_of
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.lost_corner import lost_corner
from sketcher.part.splice import curve_of, finished, meets_at, put_end, tie
from sketcher.part.value import CircleCurve, Part


def delete(part: Part, *ids: str, heal: bool = False) -> Edited:
    """Delete things, and what cannot stand without them.

    Parameters
    ----------
    part : Part
        The part.
    *ids : str
        Points, curves, bindings, patterns. A point takes along the curves through it.
    heal : bool
        Where a deleted line or arc stood between two curves, or between one and the axis of a
        mirror, let these meet in a sharp corner: the one that a fillet or a chamfer took away, or
        where they would meet. Where they would not, the gap stays, and `said` tells it.

    Raises
    ------
    EditError
        When nothing has one of the ids.
    """
    draft = Draft(part)
    left, open_gaps = list(dict.fromkeys(ids)), []
    for name in [name for name in left if heal and name in draft.curves]:
        between = _neighbours(draft, name, ids)
        on_axis = _neighbour_on_axis(draft, name, ids) if between is None else None
        if (between is not None and _healed(draft, name, *between)) or (
                on_axis is not None and _healed_on_axis(draft, name, *on_axis)):
            left.remove(name)
        else:
            open_gaps.append(name)
    # A binding that was named too may have gone with its curve.
    draft.remove(*(name for name in left if name not in draft.dropped))
    said = f"deleted {', '.join(ids)}"
    if open_gaps:
        said += f"; no corner where {', '.join(open_gaps)} was"
    return finished(draft, said)


def _neighbours(draft: Draft, name: str, going: tuple[str, ...]) -> tuple[str, str] | None:
    """Return the two curves between which a curve stands, each alone at its end."""
    curve = draft.curves[name]
    if isinstance(curve, CircleCurve):
        return None
    found = []
    for end in curve.ends:
        at_end = [
            other for other, value in draft.curves.items()
            if other != name and not isinstance(value, CircleCurve) and end in value.ends
        ]
        if len(at_end) != 1 or at_end[0] in going:
            return None
        found += at_end
    return None if found[0] == found[1] else (found[0], found[1])


def _healed(draft: Draft, name: str, a: str, b: str) -> bool:
    """Replace a curve by a corner of its neighbours; tell whether they meet."""
    curve = draft.curves[name]
    assert not isinstance(curve, CircleCurve)
    corner = lost_corner(draft, a, b)
    if corner is None:
        place = draft.points[curve.ends[0]]
        try:
            at = corner_of(curve_of(draft, a), curve_of(draft, b), place)
        except GeometryError:
            return False
        corner = draft.point(at)
    ends = set(curve.ends)
    for key, binding in list(draft.bindings.items()):
        of = set(binding.of)
        if corner in of and of & ends and of <= ends | {corner}:
            draft.drop(key)  # the leg of a chamfer
        elif binding.kind == "on" and binding.of in ((corner, a), (corner, b)):
            draft.remove(key)
    draft.remove(name)
    for neighbour, old in zip((a, b), curve.ends, strict=True):
        index = draft.curves[neighbour].points.index(old)
        put_end(draft, neighbour, index, corner)
    return True


def _neighbour_on_axis(draft: Draft, name: str, going: tuple[str, ...]) -> tuple[str, str] | None:
    """Return the curve and the axis of a mirror between which a curve stands alone."""
    curve = draft.curves[name]
    if isinstance(curve, CircleCurve):
        return None
    beside, axis = None, None
    for end in curve.ends:
        at_end = [n for n, c in draft.curves.items()
                  if n != name and not isinstance(c, CircleCurve) and end in c.ends]
        if len(at_end) == 1 and at_end[0] not in going:
            beside = at_end[0]
        elif not at_end:
            axis = next((m.axis for m in draft.mirrors if meets_at(draft, m.axis, end)), None)
    return None if beside is None or axis is None or beside == axis else (beside, axis)


def _healed_on_axis(draft: Draft, name: str, beside: str, axis: str) -> bool:
    """Replace a curve by the corner of its neighbour and the axis; tell whether they meet."""
    curve = draft.curves[name]
    assert not isinstance(curve, CircleCurve)
    corner = lost_corner(draft, beside, axis)
    if corner is None:
        near = draft.points[curve.ends[0]]
        try:
            at = corner_of(curve_of(draft, beside), curve_of(draft, axis), near)
        except GeometryError:
            return False
        corner = draft.point(at)
        tie(draft, "on", (corner, axis))
    for key, binding in list(draft.bindings.items()):
        if binding.kind == "on" and binding.of == (corner, beside):
            draft.remove(key)
    (old,) = set(curve.ends) & set(draft.curves[beside].points[:2])
    draft.remove(name)
    put_end(draft, beside, draft.curves[beside].points.index(old), corner)
    return True
