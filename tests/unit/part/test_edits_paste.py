"""Pieces of parts: what is taken out, what stays behind, and how it stands where it is pasted."""

from __future__ import annotations

from pathlib import Path

import pytest

from sketcher.errors import EditError
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.file_text import read, write
from sketcher.part.fragment import fragment
from sketcher.part.store import load
from sketcher.part.value import GridPattern, Part
from sketcher.solve import solve
from tests.demo_parts import SOUND as DEMO_PARTS
from tests.refusals import refused

paste = EDITS["paste"]


def tab() -> Part:
    """A tab of 30 by wall with a hole of 8 at its middle height, repeated twice along it."""
    draft = Draft(Part(parameters={"wall": "20", "spare": "3", "half": "wall/2"}))
    p = [draft.point(at) for at in ((0, 0), (30, 0), (30, 20), (0, 20))]
    for n, name in enumerate(("e1", "e2", "e3", "e4")):
        draft.line(p[n], p[(n + 1) % 4], name=name)
    draft.circle((8, 10), 4.0, name="h1")
    draft.bind("fixed", [p[0]])
    for kind, of in (("level", ["e1"]), ("plumb", ["e2"]), ("level", ["e3"]), ("plumb", ["e4"])):
        draft.bind(kind, of)
    draft.bind("distance", ["e1"], "30")
    draft.bind("distance", ["e2"], "wall")
    draft.bind("diameter", ["h1"], "8", tolerance=(0.1, 0.0))
    draft.bind("offset", ["e1", draft.curves["h1"].center], "half")
    draft.bind("offset", ["e4", draft.curves["h1"].center], "8")
    draft.pattern(GridPattern(("h1",), ("14", "10"), (2, 1)), "g1")
    return draft.done()


def test_a_piece_has_what_is_bound_within_it_and_tells_what_stays() -> None:
    found = fragment(tab(), ("e1", "e2"))
    assert set(found.part.curves) == {"e1", "e2"}
    assert [b.kind for b in found.part.bindings.values()] == [
        "level", "plumb", "distance", "distance"]
    assert dict(found.part.parameters) == {"wall": "20"}  # not those that nothing here names
    left = {tab().bindings[name].kind for name in found.left}
    assert left == {"fixed", "offset"}
    hole = fragment(tab(), ("h1",))
    assert list(hole.part.patterns) == ["g1"]
    with refused("selection", EditError):
        fragment(tab(), ())


def test_a_piece_is_a_part_that_can_be_written_and_solved() -> None:
    piece = fragment(tab(), tab().curves).part
    assert read(write(piece)) == piece
    report = solve(piece).report
    assert (report.converged, report.freedoms, report.doubled) == (True, 2, ())  # it can shift


def test_pasted_beside_itself_it_is_bound_alike_under_new_ids() -> None:
    part = tab()
    edited = paste(part, fragment(part, part.curves).part, (50.0, 5.0))
    after = edited.part
    assert len(after.curves) == 2 * len(part.curves)
    assert not set(edited.made) & set(part.curves)
    assert all(after.curves[n] is part.curves[n] for n in part.curves)
    report = solve(after).report
    assert report.converged
    assert report.freedoms == 2
    assert report.doubled == ()
    hole = next(n for n in edited.made if after.curves[n].kind == "circle")
    assert after.points[after.curves[hole].center] == pytest.approx((58.0, 15.0))
    assert [g.curves for g in after.patterns.values()] == [("h1",), (hole,)]
    assert after.parameters == part.parameters
    wider = EDITS["set_parameter"](after, "wall", "24").part
    at = solve(wider).part.points[after.curves[hole].center]
    low = min(solve(wider).part.points[p][1] for n in edited.made
              for p in after.curves[n].points if after.curves[n].kind == "line")
    assert at[1] - low == pytest.approx(12.0, abs=1e-9)  # half of the new wall: still bound to it


def test_into_a_part_in_inches_values_are_converted() -> None:
    edited = paste(Part(unit="in"), fragment(tab(), tab().curves).part, (0.0, 0.0))
    after = edited.part
    assert after.parameters == {}
    assert "plain numbers in in" in edited.said
    assert "without the pattern g1" in edited.said
    solution = solve(after)
    assert solution.report.converged
    (hole,) = (c for c in solution.part.curves.values() if c.kind == "circle")
    assert hole.radius * 25.4 == pytest.approx(4.0, abs=1e-7)  # values have nine decimals
    long = next(b for b in after.bindings.values() if b.kind == "distance")
    assert float(long.value) == pytest.approx(30.0 / 25.4, abs=1e-9)
    band = next(b.tolerance for b in after.bindings.values() if b.tolerance)
    assert band == pytest.approx((0.1 / 25.4, 0.0))


def test_a_parameter_with_another_meaning_is_written_out() -> None:
    other = Part(parameters={"wall": "5"})
    after = paste(other, fragment(tab(), ("e1", "e2")).part, (0.0, 0.0)).part
    assert dict(after.parameters) == {"wall": "5"}
    assert {b.value for b in after.bindings.values() if b.value} == {"30", "20"}
    fresh = paste(Part(), fragment(tab(), ("e1", "e2")).part, (0.0, 0.0)).part
    assert dict(fresh.parameters) == {"wall": "20"}


def test_nothing_is_pasted_from_an_empty_piece() -> None:
    with refused("clipboard", EditError):
        paste(tab(), Part(), (0.0, 0.0))


@pytest.mark.parametrize("path", DEMO_PARTS, ids=lambda path: path.name.split(".")[0])
def test_the_demo_parts_copied_into_a_new_part_keep_their_shape(path: Path) -> None:
    part = solve(load(path)).part  # files hold the sketch as it was drawn
    piece = fragment(part, part.curves).part
    after = solve(paste(Part(unit=part.unit), piece, (7.0, -3.0)).part)
    assert after.report.converged
    assert after.report.clashes == ()
    for old, new in zip(piece.points.values(), after.part.points.values(), strict=True):
        assert new == pytest.approx((old[0] + 7.0, old[1] - 3.0), abs=1e-6)
