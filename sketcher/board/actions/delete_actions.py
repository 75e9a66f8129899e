"""Deleting."""

from __future__ import annotations

from sketcher.board.action_table import Action, has_curves, has_selection
from sketcher.board.board import Board
from sketcher.board.window_port import Host
from sketcher.part.edits.delete import delete as deleted


def delete(board: Board, host: Host) -> None:
    """Delete what is selected, and what cannot stand without it."""
    names = tuple(board.bench.selection)
    board.bench.do(f"Delete {_few(names)}", lambda part: deleted(part, *names))


def delete_heal(board: Board, host: Host) -> None:
    """Delete curves and let their neighbours meet in a corner."""
    names = tuple(board.bench.selection)
    board.bench.do(f"Delete and close {_few(names)}", lambda part: deleted(part, *names, heal=True))


def _few(names: tuple[str, ...]) -> str:
    return ", ".join(names) if len(names) <= 3 else f"{len(names)} things"


ACTIONS = (
    Action("edit.delete", "Delete", delete, "edit", ("Delete",),
           "Deletes what is selected, and the bindings that cannot stand without it.",
           has_selection),
    Action("edit.delete_heal", "Delete and close the gap", delete_heal, "edit",
           ("Shift+Delete",), "Deletes a curve and lets its neighbours meet in a corner.",
           has_curves),
)
