"""Moving and cloning sets of curves: what the edits that place things have in common."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from sketcher.errors import EditError, SketcherError
from sketcher.geometry.bounds import RELATIVE
from sketcher.geometry.curves import XY
from sketcher.part.edits.draft import Draft
from sketcher.part.part_size import part_size
from sketcher.part.value import ArcCurve, Binding, CircleCurve, Part, PartCurve

Placing = Callable[[XY], XY]


def chosen(draft: Draft, ids: Iterable[str]) -> tuple[list[str], list[str]]:
    """Return the curves among `ids`, and the points that these and `ids` name.

    Raises
    ------
    EditError
        When an id is neither a point nor a curve, or there is none.
    """
    curves: dict[str, None] = {}
    points: dict[str, None] = {}
    for name in ids:
        if name in draft.curves:
            curves[name] = None
            points.update(dict.fromkeys(draft.curves[name].points))
        elif name in draft.points:
            points[name] = None
        else:
            raise EditError(name, "no point or curve with this id", "choose something else")
    if not points:
        raise EditError("selection", "nothing was chosen", "choose points or curves")
    return list(curves), list(points)


def shift(draft: Draft, ids: Iterable[str], placing: Placing, flips: bool = False) -> None:
    """Put points and curves elsewhere; drop the bindings that then hold no longer.

    Parameters
    ----------
    draft : Draft
        The part under construction.
    ids : iterable of str
        Points and curves; other curves that share a point with them stretch.
    placing : callable
        From where a point is to where it goes.
    flips : bool
        The placing is a reflection: arcs turn the other way, sides are read anew.
    """
    curves, points = chosen(draft, ids)
    before = draft.done()
    for name in points:
        draft.move_point(name, placing(draft.points[name]))
    if flips:
        for name in curves:
            draft.put_curve(name, flipped(draft.curves[name]))
        _read_sides_anew(draft, set(points) | set(curves))
    moved = set(points)
    touched = {name for name, c in draft.curves.items() if not moved.isdisjoint(c.points)}
    _drop_broken(draft, before, moved | touched)


def flipped(curve: PartCurve) -> PartCurve:
    """Return a curve as its reflection turns: an arc the other way round."""
    if isinstance(curve, ArcCurve):
        return replace(curve, turn="cw" if curve.turn == "ccw" else "ccw")
    return curve


def _read_sides_anew(draft: Draft, moved: set[str]) -> None:
    """Settle the sides of bindings that lie wholly in what was reflected."""
    wholly = moved | {n for n, c in draft.curves.items() if moved >= set(c.points)}
    for key, binding in list(draft.bindings.items()):
        if binding.side is not None and wholly.issuperset(binding.of):
            draft.change_binding(key, side=None)
    from sketcher.part.kinds import settle_sides

    part = draft.done()
    try:
        part = settle_sides(part)
    except SketcherError:
        return
    for key, binding in part.bindings.items():
        if binding is not draft.bindings[key]:
            draft.change_binding(key, side=binding.side)


def _drop_broken(draft: Draft, before: Part, touched: set[str]) -> None:
    after = draft.done()
    tolerance = RELATIVE * part_size(after)
    for key, binding in after.bindings.items():
        if not binding.drives or touched.isdisjoint(binding.of):
            continue
        was, now = _off(before, before.bindings[key]), _off(after, binding)
        if now > was + tolerance:
            draft.drop(key)


def _off(part: Part, binding: Binding) -> float:
    from sketcher.part.kinds import residual

    try:
        return abs(residual(part, binding))
    except SketcherError:
        return 0.0


def clone(
    draft: Draft,
    ids: Iterable[str],
    placing: Placing,
    flips: bool = False,
    shared: Iterable[str] = (),
) -> Mapping[str, str]:
    """Add copies of points and curves; return the id of each copy by the id of its source.

    Points among `shared` stand for themselves. Bindings are not copied.
    """
    curves, points = chosen(draft, ids)
    shared = set(shared)
    copies = {
        name: name if name in shared else draft.point(placing(draft.points[name]))
        for name in points
    }
    for name in curves:
        copies[name] = draft.curve(over(draft.curves[name], copies, flips))
    return copies


def over(curve: PartCurve, points: Mapping[str, str], flips: bool) -> PartCurve:
    """Return a curve value over other points."""
    curve = flipped(curve) if flips else curve
    if isinstance(curve, CircleCurve):
        return replace(curve, center=points[curve.center])
    ends = (points[curve.ends[0]], points[curve.ends[1]])
    if isinstance(curve, ArcCurve):
        return replace(curve, ends=ends, center=points[curve.center])
    return replace(curve, ends=ends)


def copy_bindings(draft: Draft, copies: Mapping[str, str]) -> None:
    """Bind copies among themselves as their sources are; what is fixed is not copied."""
    for binding in list(draft.bindings.values()):
        if binding.kind != "fixed" and copies.keys() >= set(binding.of):
            of = tuple(copies[name] for name in binding.of)
            if of != binding.of:
                draft.binding(replace(binding, of=of))
