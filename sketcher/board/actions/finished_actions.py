"""The finished drawing: look at it, set it, print it; the record of what was measured."""

from __future__ import annotations

from sketcher.board.action_table import Action, has_outline
from sketcher.board.board import Board
from sketcher.board.files.leaving_question import accepted_for_paper
from sketcher.board.window_port import Host
from sketcher.part.kinds import KINDS


def has_dimensions(board: Board) -> bool:
    """Tell whether there is anything to measure."""
    return any(KINDS[b.kind].quantity is not None for b in board.part.bindings.values())


def show(board: Board, host: Host) -> None:
    """Show the pages with their settings."""
    host.show_dialog("drawing")


def print_it(board: Board, host: Host) -> None:
    """Show the pages as the printer will have them."""
    if accepted_for_paper(board, host) is None:
        board.bench.say("Not printed.")
        return
    host.show_dialog("print")


def record_it(board: Board, host: Host) -> None:
    """Show the inspection record."""
    host.show_dialog("record")


ACTIONS = (
    Action("file.drawing", "Finished drawing ...", show, "file", ("Ctrl+D",),
           "Shows the drawing with its center lines, and sets standard, sheet, scale and title "
           "block.", has_outline),
    Action("file.print", "Print the drawing ...", print_it, "file", ("Ctrl+P",),
           "Shows the pages as the printer will have them, true to scale, and prints them.",
           has_outline),
    Action("file.record", "Inspection record ...", record_it, "file", ("Ctrl+Shift+I",),
           "Lists every dimension with its limits and takes what was measured: pass or fail.",
           has_dimensions),
)
