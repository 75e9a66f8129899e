"""What the shape tools share: ends that move along a curve, and the bindings that follow them.

The rule: a dimension keeps the meaning that the paper gave it. Where an end moves along its curve,
the place that it left stays as a layout point on the curve as long as a dimension names it, and
the length of the line becomes the distance between the two places that it was.

A line's own length is such a dimension. A lost corner stays on both curves (`lost_corner`), so that
deleting the fillet with healing gives the part back exactly.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sketcher.errors import EditError, SketcherError
from sketcher.geometry.curves import XY, Arc, Circle, Curve
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import KINDS
from sketcher.part.value import CircleCurve, LineCurve, Part, PolarPattern, Turn
from sketcher.part.wanted import parameter_values
from sketcher.part.whole import curve_at
from sketcher.quantity.format import exact
from sketcher.quantity.written import evaluate_written

INCIDENCES = ("on", "in line")
CLOSE = 1e-6
"""Share of the size within which two curves lie on one carrier or cover one place: wider than what
the solver leaves, for a person asks for it."""


def curve_of(draft: Draft, name: str) -> Curve:
    """Return the geometry of a curve as the draft stands.

    Raises
    ------
    EditError
        When there is no such curve.
    """
    if name not in draft.curves:
        raise EditError(name, "no curve with this id", "choose a line, an arc or a circle")
    return curve_at(draft.points, draft.curves[name])


def two_curves(draft: Draft, a: str, b: str) -> tuple[Curve, Curve]:
    """Return the geometry of two different curves."""
    if a == b:
        raise EditError(a, "one curve was chosen twice", "choose two curves")
    return curve_of(draft, a), curve_of(draft, b)


def tie(draft: Draft, kind: str, ids: Iterable[str], value: str | None = None) -> str:
    """Add a binding whose operands and side are settled from the geometry; return its id."""
    from sketcher.part.kinds import bind

    return draft.binding(bind(draft.done(), kind, tuple(ids), value))


def settled(draft: Draft) -> Part:
    """Return the draft's part with sides settled where they are open."""
    from sketcher.part.kinds import settle_sides

    part = draft.done()
    try:
        return settle_sides(part)
    except SketcherError:
        return part  # the solver settles them, or tells why it cannot


def finished(draft: Draft, said: str, *made: str) -> Edited:
    """Return the outcome of an edit."""
    dropped = tuple(dict.fromkeys(draft.dropped))
    if dropped:
        said += f"; dropped {draft.dropped_words()}"
    return Edited(settled(draft), said, dropped, made)


def put_end(draft: Draft, name: str, index: int, point: str, keep: bool = False) -> str:
    """Let a curve end at another point of its own carrier; return the end that it had.

    Parameters
    ----------
    draft : Draft
        The part under construction.
    name : str
        Line or arc.
    index : int
        0 for its first end, 1 for its second.
    point : str
        The new end, a point of the draft on the curve or its continuation.
    keep : bool
        Keep the old end as a layout point on the curve even when nothing names it.
    """
    curve = draft.curves[name]
    if isinstance(curve, CircleCurve):
        raise EditError(name, "a circle has no ends", "choose a line or an arc")
    old = curve.ends[index]
    if old == point:
        return old
    lengths_to_points(draft, name)
    ends = (point, curve.ends[1]) if index == 0 else (curve.ends[0], point)
    draft.change_curve(name, ends=ends)
    drop_implied(draft, name)
    leave(draft, old, name, keep)
    return old


def drop_implied(draft: Draft, name: str) -> None:
    """Drop what binds the ends of a curve on that curve."""
    ends = draft.curves[name].points[:2]
    for key, binding in list(draft.bindings.items()):
        if binding.kind == "on" and binding.of[1] == name and binding.of[0] in ends:
            draft.drop(key)


def lengths_to_points(draft: Draft, name: str) -> None:
    """Let what measures a line's length measure between its two ends as they are now."""
    curve = draft.curves[name]
    for key, binding in list(draft.bindings.items()):
        if name not in binding.of:
            continue
        if KINDS[binding.kind].extent and isinstance(curve, LineCurve):
            draft.change_binding(key, of=curve.ends)
        elif binding.kind == "middle" and isinstance(curve, LineCurve):
            if binding.of[0] in curve.ends:  # an end amid its own line: never true, now not said
                draft.drop(key)
            else:
                draft.change_binding(key, of=(binding.of[0], *curve.ends))
        elif (binding.kind == "equal" and isinstance(curve, LineCurve)) or (
            binding.kind == "reflected" and name in binding.of[:2]
        ):
            draft.drop(key)


def leave(draft: Draft, point: str, curve: str, keep: bool = False) -> None:
    """Settle what becomes of a point that a curve no longer ends at.

    A point that other curves use stays as it is. One that a dimension names stays as a layout point
    on the curve; any other is removed.
    """
    if point_in_use(draft, point):
        return
    naming = [key for key, binding in draft.bindings.items() if point in binding.of]
    wanted = keep or any(draft.bindings[key].kind not in INCIDENCES for key in naming)
    if not wanted:
        draft.remove(point)
        return
    if not any(draft.bindings[key].of == (point, curve) for key in naming):
        tie(draft, "on", (point, curve))


def point_in_use(draft: Draft, point: str) -> bool:
    """Tell whether a curve or the center of a pattern names a point."""
    return any(point in curve.points for curve in draft.curves.values()) or any(
        isinstance(pattern, PolarPattern) and pattern.center == point
        for pattern in draft.patterns.values()
    )


def changed_end(before: Curve, after: Curve) -> int | None:
    """Return which end of a curve was trimmed: 0, 1, or None for neither."""
    if isinstance(before, Circle) or isinstance(after, Circle):
        return None
    if before.start != after.start:
        return 0
    return 1 if before.end != after.end else None


def follow_groups(draft: Draft, new: str, *like: str) -> None:
    """Let a new curve belong to every mirror and pattern to which all of `like` belong."""
    mirrors = [
        mirror
        if mirror.curves == "outline" or not set(like) <= set(mirror.curves)
        else replace(mirror, curves=(*mirror.curves, new))
        for mirror in draft.mirrors
    ]
    if mirrors != list(draft.mirrors):
        draft.set_mirrors(mirrors)
    for name, pattern in list(draft.patterns.items()):
        if set(like) <= set(pattern.curves):
            draft.change_pattern(name, replace(pattern, curves=(*pattern.curves, new)))


def carried_over(draft: Draft, source: str, target: str, point: str) -> None:
    """Hand tangencies at a point over from one curve to another that ends there now."""
    for key, binding in list(draft.bindings.items()):
        if binding.kind != "tangent" or source not in binding.of:
            continue
        other = binding.of[0] if binding.of[1] == source else binding.of[1]
        if meets_at(draft, other, point):
            of = tuple(target if name == source else name for name in binding.of)
            draft.change_binding(key, of=of)


def meets_at(draft: Draft, curve: str, point: str) -> bool:
    """Tell whether a point is an end of a curve or bound on it."""
    value = draft.curves[curve]
    if not isinstance(value, CircleCurve) and point in value.ends:
        return True
    return any(b.kind == "on" and b.of == (point, curve) for b in draft.bindings.values())


def point_at_end(draft: Draft, curves: Iterable[str], at: XY, tolerance: float) -> str | None:
    """Return an end of one of the curves that lies at a place, or None."""
    for name in curves:
        curve = draft.curves[name]
        if isinstance(curve, CircleCurve):
            continue
        for end in curve.ends:
            x, y = draft.points[end]
            if abs(x - at[0]) <= tolerance and abs(y - at[1]) <= tolerance:
                return end
    return None


def amount(part: Part, text: str | float, quantity: str, place: str) -> tuple[float, str]:
    """Return a value that was given as an expression or as a number, and its text.

    Raises
    ------
    QuantityError
        When it cannot be evaluated.
    """
    if not isinstance(text, str):
        return float(text), exact(text)
    return evaluate_written(text, quantity, part.unit, parameter_values(part), place), text.strip()


def turn_of(arc: Arc) -> Turn:
    """Return the turn of an arc from its start to its end as files write it."""
    return "ccw" if arc.ccw else "cw"
