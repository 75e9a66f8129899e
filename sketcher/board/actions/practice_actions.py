"""Practice: a paper to draw from, beside an empty sheet."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.window_port import Host


def practice(board: Board, host: Host) -> None:
    """Show the list of problems."""
    host.show_dialog("practice")


ACTIONS = (
    Action("file.practice", "Practice ...", practice, "file", ("Ctrl+Shift+P",),
           "Sets one of ten problems, or any part, as a paper to draw from: its dimensions are "
           "ticked as they hold, and hints come when asked for."),
)
