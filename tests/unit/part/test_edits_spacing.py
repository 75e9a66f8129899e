"""The numbers of a pattern: listed, changed one by one, refused where they are none."""

from __future__ import annotations

import pytest

from sketcher.errors import EditError, QuantityError, SketcherError
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.spacings import spacings, whole_number
from sketcher.part.value import GridPattern, Part, PolarPattern
from sketcher.part.whole import whole
from tests.refusals import refused


def drilled() -> Part:
    draft = Draft(Part(parameters={"pitch": "12"}))
    hub = draft.point((0, 0))
    hole = draft.circle((20, 0), 2.0)
    draft.pattern(GridPattern((hole,), ("pitch", "5"), (3, 2)))
    draft.pattern(PolarPattern((hole,), hub, 4, "90"))
    return draft.done()


def test_every_number_of_a_pattern_is_listed_as_typed() -> None:
    found = {s.id: (s.text, s.quantity) for s in spacings(drilled())}
    assert found == {
        "g1.step1": ("pitch", "length"), "g1.step2": ("5", "length"),
        "g1.columns": ("3", "number"), "g1.rows": ("2", "number"), "g1.angle": ("0", "angle"),
        "r1.count": ("4", "number"), "r1.span": ("90", "angle"),
    }


@pytest.mark.parametrize(
    ("name", "text"),
    [("g1.step1", "2*pitch"), ("g1.step2", "7.5"), ("g1.columns", "4"), ("g1.rows", "1"),
     ("g1.angle", "30"), ("r1.count", "6"), ("r1.span", "360")],
)
def test_one_number_changes_and_the_others_stay(name: str, text: str) -> None:
    part = drilled()
    edited = EDITS["set_spacing"](part, name, text)
    before, after = ({s.id: s.text for s in spacings(p)} for p in (part, edited.part))
    assert after == before | {name: text}
    assert text in edited.said
    assert EDITS["set_spacing"](edited.part, name, text).part is edited.part


def test_the_instances_follow() -> None:
    part = EDITS["set_spacing"](drilled(), "g1.step1", "pitch + 3").part
    places = {piece.id: piece.curve.center for piece in whole(part)}  # type: ignore[union-attr]
    assert places["h1#1"] == (35.0, 0.0)


@pytest.mark.parametrize(
    ("name", "text", "error", "place"),
    [("g1.columns", "2.5", EditError, "columns"), ("r1.count", "many", EditError, "count"),
     ("g1.rows", "0", EditError, "rows"), ("g9.step1", "4", EditError, "g9.step1"),
     ("b1", "4", EditError, "b1"), ("g1.step1", "4 *", QuantityError, "patterns.g1.step[0]"),
     ("g1.step1", "nothing", QuantityError, "patterns.g1.step[0]")],
)
def test_what_is_no_number_is_refused(
    name: str, text: str, error: type[SketcherError], place: str
) -> None:
    with refused(place, error):
        EDITS["set_spacing"](drilled(), name, text)


def test_a_whole_number_is_plain_digits() -> None:
    assert whole_number(" 12 ", "count") == 12
    for text in ("\N{SUPERSCRIPT TWO}", "-1", "10001", "1e2", ""):
        with refused("count", EditError):
            whole_number(text, "count")
