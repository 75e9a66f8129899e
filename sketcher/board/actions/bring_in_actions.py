"""Bringing in a foreign drawing."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.window_port import Host


def bring_in(board: Board, host: Host) -> None:
    """Ask for a drawing, and show it with everything that is repaired on it."""
    path = host.ask_path("Bring in a DXF", False, ".dxf")
    if path is not None:
        host.bring_in(path)


ACTIONS = (
    Action("file.bring_in", "Bring in a DXF ...", bring_in, "file", (),
           "Makes a bound part of a foreign drawing: shows each repair, and which you refuse stays "
           "as it is drawn."),
)
