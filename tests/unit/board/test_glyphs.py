"""Signs of bindings: which are shown, and which the pointer finds."""

from __future__ import annotations

from sketcher.board.board import Board
from sketcher.board.dimensions.sign_places import told
from sketcher.board.preview import Pointer
from sketcher.board.toolkit.dimension_picking import dimension_at
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part


def corner() -> Part:
    draft = Draft(Part())
    draft.line((0, 0), (40, 0))
    draft.line("p2", (40, 30))
    draft.bind("level", ("e1",))
    draft.bind("plumb", ("e2",))
    return draft.done()


def test_signs_are_told_of_what_is_chosen() -> None:
    part = corner()
    level, plumb = Board(part).bench.derived.glyphs()
    assert not told(part, level, ())
    assert told(part, level, ("e1",))
    assert not told(part, level, ("e2",))
    assert told(part, plumb, ("b2",))


def test_signs_of_trouble_are_always_told() -> None:
    draft = Draft(corner())
    draft.bind("square", ("e1", "e2"))
    board = Board(draft.done())
    shown = {g.binding for g in board.bench.derived.glyphs() if told(board.part, g, ())}
    assert shown == set(board.report.doubled) != set()


def test_the_pointer_finds_only_signs_that_are_shown() -> None:
    board = Board(corner())
    glyph = board.bench.derived.glyphs()[0]
    at = Pointer(*glyph.place(0.1), 0.1 * board.bench.settings["reach"])
    assert dimension_at(board.bench, at) is None
    board.bench.set_setting("show_bindings", True)
    assert dimension_at(board.bench, at) == glyph.binding
    board.bench.set_setting("show_bindings", False)
    board.bench.select(("e1",))
    assert dimension_at(board.bench, at) == glyph.binding
