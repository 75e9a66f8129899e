"""Outline that belongs to no closed loop, in a part of which the rest is closed."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.geometry.loops import find_loops
from sketcher.inspect.cleanup import doubled, gap, overlap, stub
from sketcher.inspect.mend import Defect, Mend, MendStep, MendWay
from sketcher.inspect.survey import Survey
from sketcher.inspect.words import length, listed
from sketcher.part.whole import middle


def find(survey: Survey) -> Iterator[Defect]:
    """Yield what hangs together and is in no loop; nothing while no outline is closed yet.

    Somebody is still drawing then. What another mend would cure is left to that.
    """
    loops = find_loops([(piece.id, piece.curve) for piece in survey.pieces], survey.tol)
    # A lone circle is more often a hole drawn first than the whole outside.
    if not loops.strays or not any(len(loop.curves) > 1 or loop.depth for loop in loops.loops):
        return
    told = {name for each in (doubled, overlap, gap, stub) for defect in each.find(survey)
            if defect.step is not None for name in defect.ids}
    waiting = [k for k, piece in enumerate(survey.pieces)
               if piece.drawn and piece.id in loops.strays and piece.id not in told]
    while waiting:
        group = _connected(survey, waiting)
        waiting = [k for k in waiting if k not in group]
        pieces = [survey.pieces[k] for k in group]
        names = tuple(piece.id for piece in pieces)
        size = sum(piece.curve.length for piece in pieces)
        verb = "is" if len(names) == 1 else "are"
        yield Defect(
            "stray", names, middle(pieces[0].curve), size,
            f"{listed(names)} {verb} in no closed loop ({length(size, survey.part.unit)})",
            MendStep("delete", names), f"Delete {listed(names)}", sure=False,
            other=MendWay(MendStep("set_role", (names, "layout")), f"Make {listed(names)} layout"))


def _connected(survey: Survey, among: list[int]) -> list[int]:
    """Return the first of some pieces and all that hang together with it."""
    found, waiting = {among[0]}, [among[0]]
    while waiting:
        ends = {node for node in survey.net.ends[waiting.pop()] if node >= 0}
        fresh = {k for k in among if k not in found and ends & set(survey.net.ends[k])}
        found |= fresh
        waiting += fresh
    return sorted(found)


MEND = Mend("stray", "in no loop", 7, find)
