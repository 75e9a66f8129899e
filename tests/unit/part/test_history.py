"""Undo and redo: exact, named, gestures as one step, the saved state known."""

from __future__ import annotations

from sketcher.part.history import History
from sketcher.part.value import Part


def parts(count: int) -> list[Part]:
    return [Part(name=f"n{i}") for i in range(count)]


def test_back_and_forth_gives_the_very_same_parts() -> None:
    a, b, c = parts(3)
    history = History(a)
    assert not history.can_undo
    assert history.push("first", b)
    assert history.push("second", c)
    assert (history.undo_name, history.redo_name) == ("second", None)
    assert history.undo() is b
    assert (history.undo_name, history.redo_name) == ("first", "second")
    assert history.undo() is a
    assert history.undo() is a
    assert history.redo() is b
    assert history.redo() is c
    assert history.redo() is c
    assert not history.can_redo


def test_a_new_step_forgets_what_could_be_redone() -> None:
    a, b, c = parts(3)
    history = History(a)
    history.push("first", b)
    history.undo()
    history.push("other", c)
    assert not history.can_redo
    assert [step.name for step in history.steps] == ["", "other"]


def test_the_same_part_is_no_step() -> None:
    (a,) = parts(1)
    history = History(a)
    assert not history.push("nothing", a)
    assert not history.can_undo


def test_a_gesture_is_one_step() -> None:
    a, b, *moves = parts(500)
    history = History(a)
    history.push("line", b)
    for move in moves:
        history.push("drag", move, merge=("drag", 1))
    assert len(history.steps) == 3
    assert history.part is moves[-1]
    assert history.undo() is b


def test_two_gestures_are_two_steps() -> None:
    a, b, c, d = parts(4)
    history = History(a)
    history.push("drag", b, merge="drag")
    history.end_gesture()
    history.push("drag", c, merge="drag")
    history.push("drag", d, merge="spin")
    assert len(history.steps) == 4


def test_the_saved_state_is_known() -> None:
    a, b, c = parts(3)
    history = History(a)
    assert history.is_saved
    history.push("first", b)
    assert not history.is_saved
    history.mark_saved()
    history.undo()
    assert not history.is_saved
    history.redo()
    assert history.is_saved
    history.undo()
    history.push("other", c)
    history.undo()
    assert not history.is_saved  # the saved state is gone for good
    history.mark_unsaved()
    assert not history.is_saved


def test_a_saved_state_that_a_gesture_goes_on_from_is_no_longer_saved() -> None:
    a, b, c = parts(3)
    history = History(a)
    history.push("drag", b, merge="drag")
    history.mark_saved()
    history.push("drag", c, merge="drag")
    assert not history.is_saved


def test_going_to_a_state() -> None:
    a, b, c = parts(3)
    history = History(a)
    history.push("one", b)
    history.push("two", c)
    assert history.go(0) is a
    assert history.position == 0
    assert history.go(9) is c
