"""Leaving."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.window_port import Host


def close(board: Board, host: Host) -> None:
    """Close the window; the window asks about work that is in no file."""
    host.close()


def start_page(board: Board, host: Host) -> None:
    """Show the start page."""
    host.show_dialog("start")


ACTIONS = (
    Action("file.start", "Start page", start_page, "file", (),
           "Shows the demo parts, the recent files and the buttons for a new part."),
    Action("file.quit", "Quit", close, "file", ("Ctrl+Q",),
           "Closes the window; asks first where work is in no file."),
)
