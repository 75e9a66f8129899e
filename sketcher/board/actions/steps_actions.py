"""Undo and redo."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.window_port import Host


def undo(board: Board, host: Host) -> None:
    """Take the last step back."""
    board.bench.undo()


def redo(board: Board, host: Host) -> None:
    """Do the step again that was taken back."""
    board.bench.redo()


def can_undo(board: Board) -> bool:
    """Tell whether there is a step to take back."""
    return board.bench.history.can_undo


def can_redo(board: Board) -> bool:
    """Tell whether there is a step to do again."""
    return board.bench.history.can_redo


ACTIONS = (
    Action("edit.undo", "Undo", undo, "edit", ("Ctrl+Z",), "Takes the last step back.", can_undo),
    Action("edit.redo", "Redo", redo, "edit", ("Ctrl+Shift+Z", "Ctrl+Y"),
           "Does the step again that was taken back.", can_redo),
)
