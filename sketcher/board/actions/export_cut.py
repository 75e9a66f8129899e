"""The cutter's file."""

from __future__ import annotations

from sketcher.board.action import Action
from sketcher.board.board import Board
from sketcher.board.filing import suggested
from sketcher.board.host import Host

CLOSED, PIECES = "closed contours", "single lines, arcs and circles"


def export_cut(board: Board, host: Host) -> None:
    """Write closed loops for a laser or plasma cutter; a part that is not sound is refused."""
    from sketcher.exchange.dxf_cut import CAUTIONS, cut_order, write_cut

    inspection = board.inspection()
    cut_order(inspection)  # refuses before anything is asked
    how = host.ask_choice("Export for cutting", "Write the contours as", (CLOSED, PIECES))
    if how is None:
        return
    path = host.ask_path("Export for cutting", True, ".dxf", suggested(board, ".dxf"))
    if path is None:
        return
    write_cut(inspection, path, how == PIECES)
    board.say(f"{path.name} written: closed contours in {board.part.unit}, inside first.", "done")
    host.tell("Before you cut", "\n\n".join(CAUTIONS))


def has_outline(board: Board) -> bool:
    """Tell whether there is anything to cut."""
    return any(curve.role == "outline" for curve in board.part.curves.values())


ACTIONS = (
    Action("file.export_cut", "Export for cutting ...", export_cut, "file", ("Ctrl+E",),
           "Writes a DXF with closed contours, true arcs and the unit in its header.", has_outline),
)
