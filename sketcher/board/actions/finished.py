"""The finished drawing: look at it, set it, print it."""

from __future__ import annotations

from sketcher.board.action import Action
from sketcher.board.actions.export_sheet import has_outline
from sketcher.board.board import Board
from sketcher.board.host import Host


def show(board: Board, host: Host) -> None:
    """Show the pages with their settings."""
    host.show_dialog("drawing")


def print_it(board: Board, host: Host) -> None:
    """Show the pages as the printer will have them."""
    host.show_dialog("print")


ACTIONS = (
    Action("file.drawing", "Finished drawing ...", show, "file", ("Ctrl+D",),
           "Shows the drawing with its center lines, and sets practice, sheet, scale and title "
           "block.", has_outline),
    Action("file.print", "Print the drawing ...", print_it, "file", ("Ctrl+P",),
           "Shows the pages as the printer will have them, true to scale, and prints them.",
           has_outline),
)
