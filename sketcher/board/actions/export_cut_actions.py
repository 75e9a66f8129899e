"""The cutter's file."""

from __future__ import annotations

from sketcher.board.action_table import Action, has_outline
from sketcher.board.board import Board
from sketcher.board.files.cutting_question import goes_to_cutter
from sketcher.board.files.export_job import export
from sketcher.board.files.leaving_question import accepted_for_cutting
from sketcher.board.files.open_and_save import suggested
from sketcher.board.files.replace_question import planned
from sketcher.board.window_port import Host
from sketcher.quantity.units import UNIT_NAMES

TITLE = "Export a DXF for cutting"
CLOSED, PIECES = "closed contours", "single lines, arcs and circles"


def export_cut(board: Board, host: Host) -> None:
    """Write closed loops for a laser or plasma cutter; a part with findings only when told to."""
    from sketcher.exchange.dxf_cut import write_cut
    from sketcher.exchange.outputs import CUTTING

    inspection = board.bench.derived.inspection()
    despite = accepted_for_cutting(board, host)
    if despite is None or not goes_to_cutter(board, host, TITLE):
        board.bench.say("Not exported for cutting.")
        return
    how = host.ask_choice(TITLE, "Contours in the DXF", (CLOSED, PIECES))
    if how is None:
        return
    path = host.ask_path(TITLE, True, ".dxf", suggested(board.bench, ".dxf"))
    if path is None:
        return
    outputs = planned(board.bench, host, TITLE, path, CUTTING)
    if outputs is None:
        return
    export(board.bench.worker, outputs, "Exporting the cut", write_cut,
           inspection, path, how == PIECES, despite)
    known = f", despite {', '.join(sorted(despite))}" if despite else ""
    board.bench.say(f"{path.name} exported, in {UNIT_NAMES[board.part.unit]}: {how}, "
                    f"inside first{known}.", "done")
    board.bench.notices.add("exported")


ACTIONS = (
    Action("file.export_cut", "Export for cutting ...", export_cut, "file", ("Ctrl+E",),
           "Exports a DXF with closed contours, true arcs and the unit in its header.",
           has_outline),
)
