"""Edits that make one thing of two: points merged, twins absorbed, overlapping pieces united."""

from __future__ import annotations

from math import cos, radians, sin

import pytest

from sketcher.errors import EditError
from sketcher.geometry.curves import Arc, Line
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.file_text import read, write
from sketcher.part.value import Part, PolarPattern
from sketcher.part.whole import half
from tests.refusals import refused


def on(degrees: float, radius: float = 10.0) -> tuple[float, float]:
    return radius * cos(radians(degrees)), radius * sin(radians(degrees))


def test_merged_points_are_one_and_short_curves_go() -> None:
    draft = Draft(Part())
    p, q, r, s = (draft.point(at) for at in ((0, 0), (10, 0), (10.1, 0), (20, 0)))
    for ends in ((p, q), (q, r), (r, s)):
        draft.line(*ends)
    draft.bind("distance", (q, r), "0.1")
    draft.bind("level", (p, q))
    draft.bind("level", (p, r))
    draft.bind("on", (r, "e1"))
    hub = draft.circle(r, 2.0)
    draft.pattern(PolarPattern((hub,), r, 3))
    edited = EDITS["merge"](draft.done(), q, r, at=(10.05, 0.0))
    part = edited.part
    assert part.curves.keys() == {"e1", "e3", hub}
    assert part.points == {p: (0, 0), q: (10.05, 0), s: (20, 0)}
    assert part.patterns["r1"].center == q  # type: ignore[union-attr]
    assert set(edited.dropped) == {"b1", "b3", "b4"}
    assert read(write(part)) == part


def test_merging_refuses() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (1, 0))
    for place, *points in (("points",), ("points", "p1"), ("points", "p1", "p1"),
                           ("p9", "p1", "p9"), ("p1, p2", "p1", "p2")):
        with refused(place, EditError):
            EDITS["merge"](draft.done(), *points)


def test_absorbing_takes_neighbours_and_bindings_over() -> None:
    draft = Draft(Part())
    draft.arc(on(0), on(90), (0, 0), name="keep")
    draft.arc(on(90), on(0), (0, 0), "cw", name="gone")
    draft.line(draft.curves["gone"].points[0], (0, 20), name="next")
    draft.bind("tangent", ("next", "gone"))
    draft.bind("radius", ("gone",), "10")
    edited = EDITS["absorb"](draft.done(), "keep", "gone")
    kept, following = edited.part.curves["keep"], edited.part.curves["next"]
    assert set(edited.part.curves) == {"keep", "next"}
    assert set(kept.points[:2]) & set(following.points)
    assert [b.of for b in edited.part.bindings.values()] == [("next", "keep"), ("keep",)]
    assert len(edited.part.points) == 4
    with refused("keep, next", EditError):
        EDITS["absorb"](draft.done(), "keep", "next")


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("before", [False, True])
def test_united_lines_cover_both(turned: bool, before: bool) -> None:
    draft = Draft(Part())
    draft.line((0, 0), (10, 0), name="keep")
    span = ((-5.0, 0.0), (4.0, 0.0)) if before else ((6.0, 0.0), (15.0, 0.0))
    draft.line(*(reversed(span) if turned else span), name="gone")
    draft.bind("distance", ("keep",), "10")
    edited = EDITS["unite"](draft.done(), "keep", "gone")
    line = half(edited.part)["keep"]
    assert isinstance(line, Line)
    assert {line.start, line.end} == ({(-5, 0), (10, 0)} if before else {(0, 0), (15, 0)})
    # The length goes on measuring between the places that it had; both stay.
    (length,) = (b for b in edited.part.bindings.values() if b.kind == "distance")
    assert {edited.part.points[p] for p in length.of} == {(0, 0), (10, 0)}
    assert read(write(edited.part)) == edited.part


@pytest.mark.parametrize("turn", ["ccw", "cw"])
def test_united_arcs_cover_both(turn: str) -> None:
    draft = Draft(Part())
    draft.arc(on(10), on(100), (0, 0), name="keep")
    ends = (on(80), on(170)) if turn == "ccw" else (on(170), on(80))
    draft.arc(*ends, draft.curves["keep"].points[2], turn, name="gone")
    edited = EDITS["unite"](draft.done(), "keep", "gone")
    arc = half(edited.part)["keep"]
    assert isinstance(arc, Arc)
    assert (arc.start, arc.end) == (pytest.approx(on(10)), pytest.approx(on(170)))
    assert len(edited.part.points) == 3


def test_uniting_refuses() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (10, 0), name="a")
    draft.line((12, 0), (20, 0), name="apart")
    draft.line((5, -5), (5, 5), name="across")
    draft.circle((0, 0), 10.0, name="round")
    draft.arc(on(0), on(200), (0, 0), name="arc")
    draft.arc(on(190), on(10), (0, 0), name="rest")
    for pair in (("a", "apart"), ("a", "across"), ("round", "arc"), ("arc", "rest"), ("a", "a")):
        with refused("a" if pair == ("a", "a") else ", ".join(pair), EditError):
            EDITS["unite"](draft.done(), *pair)
