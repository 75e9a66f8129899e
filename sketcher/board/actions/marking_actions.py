"""Marking the hand-ins of a class."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.window_port import Host


def mark_class(board: Board, host: Host) -> None:
    """Show the page on which a class is marked."""
    host.show_dialog("marking")


ACTIONS = (
    Action("file.mark_class", "Mark a class ...", mark_class, "file", ("Ctrl+Shift+M",),
           "Compares a folder of hand-ins with a key, and tells each wrong value once: shown on "
           "each drawing, to be accepted, changed or waived."),
)
