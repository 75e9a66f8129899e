"""Opening a part."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.files.open_and_save import open_part
from sketcher.board.window_port import Host
from sketcher.part.store import SUFFIX


def open_file(board: Board, host: Host) -> None:
    """Ask for a file and open it."""
    path = host.ask_path("Open a part", False, SUFFIX)
    if path is not None:
        open_part(board, host, path)


ACTIONS = (
    Action("file.open", "Open ...", open_file, "file", ("Ctrl+O",), "Opens a part's file."),
)
