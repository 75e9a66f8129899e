"""One thing in place of another: what its bindings say from then on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from sketcher.part.edits.draft import Draft
from sketcher.part.splice import point_in_use
from sketcher.part.value import CircleCurve, LineCurve, PartCurve, PolarPattern


def hand_over(draft: Draft, renamed: Mapping[str, str]) -> None:
    """Put other operands into the bindings of what goes; drop what then says nothing new.

    Parameters
    ----------
    draft : Draft
        The part under construction.
    renamed : mapping of str to str
        Id that goes to the id in its place.
    """
    said = {(b.kind, frozenset(b.of), b.value) for b in draft.bindings.values()}
    for key, binding in list(draft.bindings.items()):
        if renamed.keys().isdisjoint(binding.of):
            continue
        of = tuple(renamed.get(name, name) for name in binding.of)
        if len(set(of)) < len(of) or (binding.kind, frozenset(of), binding.value) in said:
            draft.drop(key)
        else:
            # The one in its place may run the other way: the side is read anew.
            draft.change_binding(key, of=of, side=None)
            said.add((binding.kind, frozenset(of), binding.value))


def merge_points(draft: Draft, renamed: Mapping[str, str]) -> None:
    """Let curves, patterns and bindings name other points; curves that lose their length go."""
    short = []
    for name, curve in list(draft.curves.items()):
        if renamed.keys().isdisjoint(curve.points):
            continue
        over = repointed(curve, renamed)
        if len(set(over.points)) < len(over.points):
            short.append(name)
        else:
            draft.put_curve(name, over)
    for name, pattern in list(draft.patterns.items()):
        if isinstance(pattern, PolarPattern) and pattern.center in renamed:
            draft.change_pattern(name, replace(pattern, center=renamed[pattern.center]))
    hand_over(draft, renamed)
    loose = {point for name in short for point in draft.curves[name].points}
    for name in short:
        draft.take_curve(name)
    drop_ends_on_own(draft)
    kept = {point for point in loose if point_in_use(draft, point)} | set(renamed.values())
    draft.remove(*((loose | renamed.keys()) - kept))


def drop_ends_on_own(draft: Draft) -> None:
    """Drop what binds an end of a curve on that curve."""
    for key, binding in list(draft.bindings.items()):
        curve = draft.curves.get(binding.of[-1])
        if binding.kind == "on" and curve is not None and not isinstance(curve, CircleCurve) \
                and binding.of[0] in curve.ends:
            draft.drop(key)


def repointed(curve: PartCurve, renamed: Mapping[str, str]) -> PartCurve:
    """Return a curve upon other points, by the ids of those before."""
    if isinstance(curve, CircleCurve):
        return replace(curve, center=renamed.get(curve.center, curve.center))
    ends = (renamed.get(curve.ends[0], curve.ends[0]), renamed.get(curve.ends[1], curve.ends[1]))
    if isinstance(curve, LineCurve):
        return replace(curve, ends=ends)
    return replace(curve, ends=ends, center=renamed.get(curve.center, curve.center))
