"""How the part is constructed, shown on the sheet."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.window_port import Host


def show_construction(board: Board, host: Host) -> None:
    """Play the construction of the part, or leave it."""
    host.show_dialog("construction")


def has_geometry(board: Board) -> bool:
    """Tell whether anything is drawn, or a step is just drawn by hand."""
    return bool(board.part.curves) or board.bench.give_back is not None


ACTIONS = (
    Action("view.construction", "Construction", show_construction, "view", (),
           "Plays on the sheet how the part is drawn with compass and straightedge, step by step.",
           has_geometry),
)
