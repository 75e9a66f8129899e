"""Saving a part."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.files.open_and_save import save_part, suggested
from sketcher.board.window_port import Host
from sketcher.part.store import SUFFIX


def save(board: Board, host: Host) -> None:
    """Save to the part's file."""
    save_part(board.bench, host)


def save_as(board: Board, host: Host) -> None:
    """Save to another file."""
    name = board.bench.path.name if board.bench.path is not None else suggested(board.bench)
    path = host.ask_path("Save the part as", True, SUFFIX, name)
    if path is not None:
        save_part(board.bench, host, path)


ACTIONS = (
    Action("file.save", "Save", save, "file", ("Ctrl+S",), "Saves the part to its file."),
    Action("file.save_as", "Save as ...", save_as, "file", ("Ctrl+Shift+S",),
           "Saves the part to another file."),
)
