"""A new part."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.files.open_and_save import new_part
from sketcher.board.window_port import Host


def new_mm(board: Board, host: Host) -> None:
    """Begin a part in millimetres."""
    new_part(board, host, "mm")


def new_in(board: Board, host: Host) -> None:
    """Begin a part in inches."""
    new_part(board, host, "in")


ACTIONS = (
    Action("file.new_mm", "New part in millimetres", new_mm, "file", ("Ctrl+N",),
           "Begins an empty part in millimetres."),
    Action("file.new_in", "New part in inches", new_in, "file", ("Ctrl+Shift+N",),
           "Begins an empty part in inches; fractions such as 1 5/8 can be typed."),
)
