"""What stands on no dimension and is not seen is said: by a note with letters, or by a dimension.

Whether it has to be is asked of the equations: without the condition, and with all that a drawing
shows of itself, the part is loose.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sketcher.drafting.sheet import pages
from sketcher.drafting.unsaid import NOTHING, unsaid
from sketcher.exchange.svg import svg_text
from sketcher.part import store
from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part
from sketcher.shipped import shipped
from sketcher.solve import solve
from tests.called_out import board, callouts
from tests.every_kind import SPECIMENS, Specimen, plate
from tests.sheet_reader import read_svg


def demo(name: str) -> Part:
    return solve(store.load(shipped("demo_parts", f"{name}.profile.json"))).part


def written(part: Part, folder: Path) -> list[str]:
    """Return the notes on the written sheet, numbers left out."""
    (folder / "sheet.svg").write_text(svg_text(pages(part)[0]), encoding="utf-8")
    return [t.text for t in read_svg(folder / "sheet.svg").lettering if t.source == "sheet:notes"]


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_the_edge_of_the_shift_arm_is_said_to_be_parallel_to_its_slot(
    practice: str, tmp_path: Path
) -> None:
    part = demo("shift-arm")
    part = part.having(drawing=replace(part.drawing, practice=practice))
    assert "edge a parallel to slot b." in [t.lower() for t in written(part, tmp_path)]
    letters = [d for d in pages(part)[0].dimensions if d.form == "label"]
    assert {d.text for d in letters} == {"A", "B"}


@pytest.mark.parametrize("name", ["gate-strap", "pump-flange", "roof-gusset", "shelf-bracket"])
def test_what_is_drawn_level_square_or_tangent_needs_no_word(name: str) -> None:
    assert unsaid(demo(name)) == NOTHING


def slanted(*more: tuple[str, tuple[str, ...]]) -> Part:
    """Two edges that meet at a slant, and two others, all but what `more` says bound."""
    draft = Draft(Part())
    corners = [draft.point(at) for at in ((0, 0), (60, 0), (90, 40), (30, 40))]
    for one, other in zip(corners, (*corners[1:], corners[0]), strict=True):
        draft.line(one, other)
    draft.bind("fixed", ("p1",))
    draft.bind("level", ("e1",))
    draft.bind("level", ("e3",))
    draft.bind("distance", ("e1",), "60")
    draft.bind("rise", ("p2", "p3"), "40")
    draft.bind("run", ("p2", "p3"), "30")
    for kind, of in more:
        draft.bind(kind, of)
    return solve(draft.done()).part


def test_edges_parallel_at_a_slant_are_said_to_be(tmp_path: Path) -> None:
    part = slanted(("parallel", ("e2", "e4")))
    assert unsaid(part).notes == ("Edge A parallel to edge B.",)
    assert unsaid(part).letters == {"A": "e2", "B": "e4"}
    assert "Edge A parallel to edge B." in written(part, tmp_path)


def test_level_edges_are_seen_to_be_parallel() -> None:
    part = slanted(("parallel", ("e2", "e4")), ("parallel", ("e1", "e3")))
    assert len(unsaid(part).notes) == 1


def test_equal_edges_have_the_length_of_each(tmp_path: Path) -> None:
    part = slanted(("equal", ("e1", "e3")))
    assert callouts(slanted(("parallel", ("e2", "e4"))), tmp_path)["60"] == 1
    assert unsaid(part).notes == ()
    assert callouts(part, tmp_path)["60"] == 2


def test_what_follows_from_dimensions_is_not_said_again() -> None:
    part = slanted(("equal", ("e1", "e3")), ("parallel", ("e2", "e4")))
    assert len(unsaid(part).dimensions) + len(unsaid(part).notes) == 1


def test_a_notch_about_a_place_on_an_edge_says_so(tmp_path: Path) -> None:
    draft = board()
    draft.circle((40.0, 20.0), 5.0)
    draft.bind("on", (draft.curves["h1"].center, "e4"))  # the circle's center, off the drawn edge
    draft.move_point(draft.curves["h1"].center, (0.0, 95.0))
    for kind, of, value in (("fixed", ("p1",), None), ("level", ("e1",), None),
                            ("plumb", ("e4",), None)):
        draft.bind(kind, of, value)
    part = draft.done()
    assert unsaid(part).notes == ("Hole A on edge B.",)


@pytest.mark.parametrize("specimen", [s for s in SPECIMENS if s.value is None],
                         ids=lambda s: f"{s.kind} {' '.join(s.of)}")
def test_every_condition_shows_itself_or_is_said(specimen: Specimen) -> None:
    part = plate(specimen)
    binding = part.bindings["b"]
    found = unsaid(part)
    shown = KINDS[binding.kind].shows_itself(part, binding.of)
    assert bool(found.notes or found.dimensions) is not shown
