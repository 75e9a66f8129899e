"""Rules of the sheet (ISO 7200, 3098-1, 128-2, all from memory): block, lettering, widths."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketcher.exchange.dxf_content import FileEntity, FileWords
from sketcher.geometry.curves import Line
from sketcher.marking.hand_in import HandCurve
from sketcher.marking.marking_rule import Mistake, Undecided
from tests.unit.marking.sheet_hand_ins import found_by, laid, plain, sheet_dimensions

STRAP = "gate-strap"
ENTRIES = (("Title", "Gate strap"), ("Drawn by", "J. Doe"), ("Date", "5.3.2024"), ("Scale", "1:1"))
FRAME = HandCurve(Line((-120.0, -150.0), (120.0, -150.0)), 800, "sheet")


def block(*entries: tuple[str, str]) -> tuple[FileWords, ...]:
    """A title block: labels 60 mm apart, what is written 6 mm below each."""
    return tuple(FileWords(text, (-120.0 + 60.0 * k, y), number=801 + k, height=2.5)
                 for k, entry in enumerate(entries)
                 for text, y in zip(entry, (-130.0, -136.0), strict=True) if text)


def lacking(words: tuple[FileWords, ...], *curves: HandCurve) -> list[str] | Undecided:
    drawn = plain(STRAP).hand_in.curves
    found = found_by("title-block", laid(STRAP, (), words=words, curves=(*drawn, *curves)))
    return found if isinstance(found, Undecided) else [each.wanted for each in found]


def test_a_full_title_block_lacks_nothing() -> None:
    assert lacking(block(*ENTRIES)) == []
    beside = tuple(FileWords(f"{label.upper()}: {value}", (0.0, -130.0 - 8.0 * k))
                   for k, (label, value) in enumerate(ENTRIES))
    assert lacking(beside) == []
    german = block(("Benennung", "Gate strap"), ("Gez.", "J. Doe"), ("Datum", "5.3.2024"),
                   ("Maßstab", "1:1"))
    assert lacking(german) == []


@pytest.mark.parametrize(("number", "name"), list(enumerate(
    ("title", "name", "date", "scale"))))
def test_an_empty_or_absent_entry_is_found(number: int, name: str) -> None:
    empty = tuple((label, "" if k == number else value)
                  for k, (label, value) in enumerate(ENTRIES))
    assert lacking(block(*empty)) == [name]
    absent = tuple(each for k, each in enumerate(ENTRIES) if k != number)
    assert lacking(block(*absent)) == [name]


def test_what_stands_in_another_entry_is_not_counted_twice() -> None:
    """Who checked it did not draw it, though the name stands nearer to no other label of ours."""
    words = block(ENTRIES[0], ("Drawn by", ""), ("Checked by", "A. Other"), *ENTRIES[2:])
    assert lacking(words) == ["name"]


def test_a_plain_drawing_and_a_block_without_labels_are_not_judged() -> None:
    assert lacking(()) == Undecided("has no border and no title block")
    assert isinstance(lacking((FileWords("Gate strap", (0.0, -130.0)),), FRAME), Undecided)
    for rule in ("lettering", "line-widths"):
        assert found_by(rule, plain(STRAP)) == Undecided("has no border and no title block")


def lettered(*heights: float) -> tuple[Mistake, ...]:
    """What is found where dimensions have these heights in turn."""
    dimensions = tuple(replace(each, text_height=heights[n % len(heights)])
                       for n, each in enumerate(sheet_dimensions(STRAP)))
    found = found_by("lettering", laid(STRAP, dimensions))
    assert not isinstance(found, Undecided)
    return found


@pytest.mark.parametrize(("height", "wrong"), [(2.4, True), (2.5, False), (3.5, False)])
def test_lettering_is_tall_enough(height: float, wrong: bool) -> None:
    count = len(sheet_dimensions(STRAP))
    assert [(each.wanted, each.count) for each in lettered(height)] == (
        [("2.5 mm", count)] if wrong else [])


def test_dimensions_have_one_height() -> None:
    assert lettered(3.5, 3.52) == ()
    assert [each.text for each in lettered(3.5, 3.5, 5.0)] == [
        "dimensions are lettered in several heights"]


@pytest.mark.parametrize(("edges", "thin", "wrong"), [
    (0.5, 0.25, False), (0.35, 0.25, False), (0.3, 0.25, True), (0.25, 0.25, True)])
def test_edges_are_wider_than_thin_lines(edges: float, thin: float, wrong: bool) -> None:
    dimensions = sheet_dimensions(STRAP)
    entities = {each.entity: FileEntity(each.entity, "LINE", width=edges)
                for each in plain(STRAP).hand_in.curves}
    entities |= {each.number: FileEntity(each.number, "DIMENSION", width=thin)
                 for each in dimensions}
    found = found_by("line-widths", laid(STRAP, dimensions, entities=entities))
    assert not isinstance(found, Undecided)
    assert [each.wanted for each in found] == (["0.5 mm"] if wrong else [])


def test_widths_that_the_file_leaves_to_the_viewer_are_not_judged() -> None:
    entities = {each.entity: FileEntity(each.entity, "LINE")
                for each in plain(STRAP).hand_in.curves}
    found = found_by("line-widths", laid(STRAP, sheet_dimensions(STRAP), entities=entities))
    assert found == Undecided("does not say how wide its lines are")
