"""A corner that a fillet or a chamfer took away, kept as a layout point on both curves."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.errors import EditError
from sketcher.geometry.curves import XY, Circle, Curve
from sketcher.geometry.evaluate import joint_angle
from sketcher.part.edits.draft import Draft
from sketcher.part.part_size import part_size
from sketcher.part.splice import changed_end, point_in_use, put_end, tie

SMOOTH = 1e-6
"""Angle in radians below which a joint has no corner that could be cut."""

CLOSE = 1e-7
"""Share of the draft's size within which an end is the corner."""


def check_sharp(names: Sequence[str], curves: Sequence[Curve], at: XY | None) -> None:
    """Raise an EditError where two curves run on into each other at the place of their joint.

    `at` is the end that they share, or None where they share none.
    """
    if at is not None and joint_angle(curves[0], curves[1], at) < SMOOTH:
        raise EditError(", ".join(names), "run on into each other without a corner",
                        "choose two curves that meet at an angle")


def cut_corner(
    draft: Draft,
    names: Sequence[str],
    before: Sequence[Curve],
    after: Sequence[Curve],
    contacts: Sequence[XY],
    corner: XY | None,
) -> tuple[tuple[str, str], str | None]:
    """Let two curves end at new points; return these and the point of the lost corner.

    Parameters
    ----------
    draft : Draft
        The part under construction.
    names, before, after, contacts : sequences of two
        The curves, their geometry as it was and trimmed, and where each now ends.
    corner : tuple of float or None
        Where the curves met.
    """
    points = (draft.point(contacts[0]), draft.point(contacts[1]))
    olds: list[str] = []
    for name, was, now, point in zip(names, before, after, points, strict=True):
        index = changed_end(was, now)
        if index is not None:
            olds.append(put_end(draft, name, index, point, keep=True))
        elif isinstance(was, Circle):
            tie(draft, "on", (point, name))
        else:
            raise EditError(name, "would stay as it is", "give another size")
    lost = None
    for old in dict.fromkeys(olds):
        if old not in draft.points or corner is None or not _at(draft, old, corner):
            _forget_unnamed(draft, old)
        elif lost is None or not point_in_use(draft, old):
            lost = old
    if lost is not None:
        for name in names:
            hold(draft, lost, name)
    drop_tangency(draft, *names)
    return points, lost


def hold(draft: Draft, point: str, curve: str) -> None:
    """Bind a point on a curve, unless it is its end or is bound already."""
    bound = any(b.kind == "on" and b.of == (point, curve) for b in draft.bindings.values())
    if not bound and point not in draft.curves[curve].points:
        tie(draft, "on", (point, curve))


def drop_tangency(draft: Draft, a: str, b: str) -> None:
    """Drop a tangency of two curves that no longer meet: something stands between them."""
    for key, binding in list(draft.bindings.items()):
        if binding.kind == "tangent" and set(binding.of) == {a, b}:
            draft.drop(key)


def lost_corner(draft: Draft, a: str, b: str) -> str | None:
    """Return the free point that is bound on two curves, kept from a corner that was cut."""
    on = {
        name: {x.of[0] for x in draft.bindings.values() if x.kind == "on" and x.of[1] == name}
        for name in (a, b)
    }
    for point in draft.points:
        if point in on[a] and point in on[b] and not point_in_use(draft, point):
            return point
    return None


def _forget_unnamed(draft: Draft, point: str) -> None:
    """Remove a point that was kept although it is no corner and only lies on its curve."""
    if point not in draft.points or point_in_use(draft, point):
        return
    naming = [b.kind for b in draft.bindings.values() if point in b.of]
    if naming == ["on"] or not naming:
        dropped = list(draft.dropped)
        draft.remove(point)
        draft.dropped[:] = dropped  # its "on" was made a moment ago


def _at(draft: Draft, point: str, place: XY) -> bool:
    reach = CLOSE * part_size(draft)
    x, y = draft.points[point]
    return abs(x - place[0]) <= reach and abs(y - place[1]) <= reach
