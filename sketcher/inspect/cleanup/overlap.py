"""Curves that overlap over a part of their length."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.geometry.curve_table import CurveTable, pairs
from sketcher.geometry.evaluate import midpoint
from sketcher.geometry.meet import overlap
from sketcher.geometry.meet_many import same_carrier
from sketcher.inspect.cleanup.doubled import twins
from sketcher.inspect.mend import Defect, Mend, MendStep
from sketcher.inspect.survey import Survey
from sketcher.inspect.words import length


def find(survey: Survey) -> Iterator[Defect]:
    """Yield pairs that share a piece of line or circle, twins left to the mend of their own."""
    same = {frozenset((a.id, b.id)) for a, b in twins(survey)}
    drawn = [k for k, piece in enumerate(survey.pieces) if piece.drawn]
    if len(drawn) < 2:
        return
    table = CurveTable([survey.curves[k] for k in drawn])
    i, j = pairs(table.boxes, survey.tol)
    along = same_carrier(table, i, j, survey.tol)
    for a, b in sorted(zip(i[along].tolist(), j[along].tolist(), strict=True)):
        one, other = drawn[a], drawn[b]
        ids = survey.pieces[one].id, survey.pieces[other].id
        shared = overlap(survey.curves[one], survey.curves[other], survey.tol)
        if shared and frozenset(ids) not in same:
            size = sum(piece.length for piece in shared)
            go, step, offer = _proposal(survey, one, other)
            keep = ids[0] if go == ids[1] else ids[1]
            text = f"{go} and {keep} run over each other for {length(size, survey.part.unit)}"
            yield Defect("overlap", (go, keep), midpoint(shared[0]), size, text, step, offer)


def _proposal(survey: Survey, one: int, other: int) -> tuple[str, MendStep | None, str]:
    """Return the curve that would change or go, and how."""
    names = survey.pieces[one].id, survey.pieces[other].id
    for go, stays in ((other, one), (one, other)):
        if _within(survey, go, stays) and not _holds_on(survey, go, stays):
            name, keep = survey.pieces[go].id, survey.pieces[stays].id
            return name, MendStep("delete", (name,)), f"Delete {name}, {keep} covers it"
    loose = {k for k, _ in survey.loose}
    for go, stays in ((other, one), (one, other)):
        if go in loose and stays not in loose and not _inner_ends_used(survey, go, stays):
            name = survey.pieces[go].id
            return name, MendStep("delete", (name,)), f"Delete {name}, which ends in the open"
    step = survey.first_that_works(MendStep("unite", names))
    if step is not None and not _inner_ends_used(survey, one, other) \
            and not _inner_ends_used(survey, other, one):
        return names[1], step, f"Make one curve of {names[0]} and {names[1]}"
    return names[1], None, ""


def _within(survey: Survey, go: int, stays: int) -> bool:
    """Tell whether a curve lies on another with all of its length."""
    shared = overlap(survey.curves[go], survey.curves[stays], survey.tol)
    return sum(piece.length for piece in shared) >= survey.curves[go].length - survey.tol


def _holds_on(survey: Survey, go: int, stays: int) -> bool:
    """Tell whether third curves end at both ends of a curve: then a loop may run over it."""
    ends = [n for n in survey.net.ends[go] if n >= 0]
    used = [n for n in ends if any(k not in (go, stays) for k in survey.net.at[n])]
    return len(ends) == 2 and len(used) == 2


def _inner_ends_used(survey: Survey, go: int, stays: int) -> bool:
    """Tell whether a third curve ends where an end of one lies inside the other."""
    outer = set(survey.net.ends[stays])
    shared = overlap(survey.curves[stays], survey.curves[go], survey.tol)
    for node in survey.net.ends[go]:
        if node < 0 or node in outer:
            continue
        at = survey.net.points[node]
        inside = any(abs(at[0] - x) + abs(at[1] - y) <= 4.0 * survey.tol
                     for piece in shared for x, y in _ends(piece))
        if inside and any(k not in (go, stays) for k in survey.net.at[node]):
            return True
    return False


def _ends(curve: object) -> tuple[tuple[float, float], ...]:
    return (curve.start, curve.end) if hasattr(curve, "start") and hasattr(curve, "end") else ()


MEND = Mend("overlap", "overlapping", 2, find)
