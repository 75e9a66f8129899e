"""The cutter's file."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from sketcher.board.action_table import Action, has_outline
from sketcher.board.board import Board
from sketcher.board.files.cutting_export import export_ordered
from sketcher.board.files.cutting_form import read_cut
from sketcher.board.files.leaving_question import accepted_for_cutting
from sketcher.board.window_port import Host


def export_cut(board: Board, host: Host) -> None:
    """Show the page of a cut, which writes its file; a part with findings only when told to."""
    despite = accepted_for_cutting(board, host)
    if despite is None or not host.ask_cutting(despite, partial(_take, board, host, despite)):
        board.bench.say("Not exported for cutting.")


def _take(
    board: Board, host: Host, despite: frozenset[str], values: Mapping[str, str]
) -> bool:
    """Export by what the page's form holds; return whether a file was written."""
    return export_ordered(board, host, despite, read_cut(board.part, values))


ACTIONS = (
    Action("file.export_cut", "Export for cutting ...", export_cut, "file", ("Ctrl+E",),
           "Shows what will be cut, in order; kerf, lead-ins, tabs and copies; exports a DXF with "
           "true arcs and the unit in its header.", has_outline),
)
