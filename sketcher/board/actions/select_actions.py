"""Selecting by what things are."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.window_port import Host
from sketcher.inspect.words import plural


def select_all(board: Board, host: Host) -> None:
    """Select every curve; while a value is typed, all of its text."""
    if not board.typing.select_all():
        board.bench.select(board.part.curves)


def select_loose(board: Board, host: Host) -> None:
    """Select every curve that can still move."""
    names = [name for name, state in board.report.states.items() if state == "loose"]
    board.bench.select(names)
    curves, freedoms = plural(len(names), "loose curve"), plural(board.report.freedoms, "freedom")
    board.bench.say(f"{curves}, {freedoms} left." if names else "Nothing is loose.")


def select_trouble(board: Board, host: Host) -> None:
    """Select every binding that clashes or is redundant."""
    troubled = board.report.troubled
    clashing = [name for name in board.part.bindings if name in troubled]
    board.bench.select((*clashing, *board.report.doubled))
    if not board.bench.selection:
        board.bench.say("No binding clashes, none is redundant.")


def has_part(board: Board) -> bool:
    """Tell whether anything is drawn."""
    return bool(board.part.curves)


def has_all(board: Board) -> bool:
    """Tell whether there is anything to select."""
    return has_part(board) or board.typing.is_open


ACTIONS = (
    Action("edit.select_all", "Select all", select_all, "edit", ("Ctrl+A",),
           "Selects every curve of the half; of a value that is typed, its text.", has_all),
    Action("edit.select_loose", "Select what is loose", select_loose, "edit", ("Ctrl+Shift+L",),
           "Selects the curves that can still move.", has_part),
    Action("edit.select_trouble", "Select what clashes", select_trouble, "edit",
           ("Ctrl+Shift+K",), "Selects the bindings that clash or are redundant.", has_part),
)
