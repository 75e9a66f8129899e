"""The cutter's file."""

from __future__ import annotations

from sketcher.board.action_table import Action, has_outline
from sketcher.board.board import Board
from sketcher.board.files.export_job import export
from sketcher.board.files.leaving_question import accepted_for_cutting
from sketcher.board.files.open_and_save import suggested
from sketcher.board.files.replace_question import planned
from sketcher.board.window_port import Host

CLOSED, PIECES = "closed contours", "single lines, arcs and circles"


def export_cut(board: Board, host: Host) -> None:
    """Write closed loops for a laser or plasma cutter; a part with findings only when told to."""
    from sketcher.exchange.dxf_cut import CAUTIONS, write_cut
    from sketcher.exchange.outputs import CUTTING

    inspection = board.bench.derived.inspection()
    despite = accepted_for_cutting(board, host)
    if despite is None:
        board.bench.say("Not cut.")
        return
    how = host.ask_choice("Export for cutting", "Export the contours as", (CLOSED, PIECES))
    if how is None:
        return
    path = host.ask_path("Export for cutting", True, ".dxf", suggested(board.bench, ".dxf"))
    if path is None:
        return
    outputs = planned(board.bench, host, "Export for cutting", path, CUTTING)
    if outputs is None:
        return
    export(board.bench.worker, outputs, "Exporting the cut", write_cut,
           inspection, path, how == PIECES, despite)
    known = f", despite {', '.join(sorted(despite))}" if despite else ""
    board.bench.say(f"{path.name} exported: closed contours in {board.part.unit}, "
                    f"inside first{known}.", "done")
    board.bench.notices.add("exported")
    host.tell("Before you cut", "\n\n".join(CAUTIONS))


ACTIONS = (
    Action("file.export_cut", "Export for cutting ...", export_cut, "file", ("Ctrl+E",),
           "Exports a DXF with closed contours, true arcs and the unit in its header.",
           has_outline),
)
