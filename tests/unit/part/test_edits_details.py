"""What is kept about detail views: changed, taken back, and following what it is kept for."""

from __future__ import annotations

import pytest

from sketcher.errors import SketcherError
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.rename import rename
from sketcher.part.file_text import read, write
from tests.plates import bound

place_detail = EDITS["place_detail"]


def test_a_detail_is_placed_by_what_it_is_for_and_taken_back() -> None:
    part = place_detail(bound(), ("nothing", "pe2", "pe1"), side="left").part
    assert {k: dict(v) for k, v in part.drawing.details.items()} == {"pe2": {"side": "left"}}
    # The one that has settings keeps them, whatever comes first.
    part = place_detail(part, ("pe1", "pe2"), scale="10:1").part
    assert dict(part.drawing.details["pe2"]) == {"side": "left", "scale": "10:1"}
    part = place_detail(part, ("pe2",), side=None, scale=None).part
    assert dict(part.drawing.details) == {}


def test_what_is_kept_follows_names_and_goes_with_the_curve() -> None:
    part = place_detail(bound(), ("pe2",), off=True).part
    assert dict(rename(part, "pe2", "top").part.drawing.details["top"]) == {"off": True}
    draft = Draft(part)
    draft.remove("pe2")
    assert dict(draft.done().drawing.details) == {}


def test_it_is_written_and_read() -> None:
    part = place_detail(bound(), ("pe2",), side="below", scale="20:1").part
    assert read(write(part)).drawing.details == part.drawing.details


@pytest.mark.parametrize(("of", "settings"), [
    (("x9",), {"side": "left"}), (("pe2",), {"side": "behind"}), (("pe2",), {"scale": 3})])
def test_what_it_cannot_be_is_refused(of, settings) -> None:
    with pytest.raises(SketcherError, match=r"x9|side|scale"):
        place_detail(bound(), of, **settings)
