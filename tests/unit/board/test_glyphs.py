"""Signs of bindings: which are shown, and which the pointer finds."""

from __future__ import annotations

import pytest

from sketcher.board.board import Board
from sketcher.board.dimensions import kept_signs
from sketcher.board.dimensions.sign_places import told
from sketcher.board.preview import Pointer
from sketcher.board.toolkit.dimension_picking import dimension_at
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.solve import Drag


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


def test_a_sign_that_the_pointer_calls_up_does_not_take_the_press() -> None:
    board = Board(corner())
    reach = 0.1 * board.bench.settings["reach"]
    glyph = board.bench.derived.glyphs()[0]
    at = Pointer(*glyph.place(0.1), reach)
    board.bench.hover = ("e1",)
    assert dimension_at(board.bench, at) == glyph.binding  # it is shown, and what lies nowhere else
    assert dimension_at(board.bench, at, text_only=True) is None  # but a curve below it comes first
    board.bench.select(("e1",))
    assert dimension_at(board.bench, at, text_only=True) == glyph.binding


def crossing() -> Part:
    """Four lines from one corner with a sign each, in one row of two."""
    draft = Draft(Part())
    for end in ((40, 0), (0, 40), (-40, 0), (0, -40)):
        draft.line("p1" if draft.done().points else (0, 0), end)
    draft.bind("square", ("e1", "e2"))
    draft.bind("square", ("e2", "e3"))
    draft.bind("equal", ("e1", "e4"))
    return draft.done()


@pytest.mark.parametrize("chosen", [None, frozenset({"e1"}), frozenset({"b2"})])
def test_signs_follow_a_gesture_as_they_stand_at_rest(chosen: frozenset[str] | None) -> None:
    board = Board(crossing())
    bench = board.bench
    before = bench.derived.signs(chosen)
    drag = Drag(bench.part, ("p2",))
    for n in range(4):
        bench.gesture.shift(drag.to({"p2": (40.0 + n, 7.0 * n)}))
        moved = bench.derived.signs(chosen)
        # `part` anew, so that nothing which is kept of the gesture is asked
        fresh = Board(bench.part).bench.derived
        assert moved == tuple(sign for sign in fresh.glyphs()
                              if chosen is None or told(bench.part, sign, chosen))
    assert moved != before
    assert len(moved) == len(before) > 0
    bench.gesture.restore()
    assert bench.derived.signs(chosen) == before


def test_no_sign_is_placed_in_a_gesture_that_shows_none(monkeypatch: pytest.MonkeyPatch) -> None:
    board, placed = Board(crossing()), []
    bench = board.bench
    assert bench.derived.signs(frozenset()) == ()
    for name in ("glyphs", "followed"):
        monkeypatch.setattr(kept_signs, name, lambda *given: placed.append(given))
    drag = Drag(bench.part, ("p2",))
    for n in range(4):
        bench.gesture.shift(drag.to({"p2": (40.0 + n, 7.0)}))
        assert bench.derived.signs(frozenset()) == ()
    assert placed == []
