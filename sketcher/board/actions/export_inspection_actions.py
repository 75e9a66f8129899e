"""The inspection as a file."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.files.open_and_save import suggested
from sketcher.board.files.replace_question import asked_place
from sketcher.board.job import Job
from sketcher.board.window_port import Host

PAGE, TABLE = "page for reading (HTML)", "table for a spreadsheet (CSV)"


def export_inspection(board: Board, host: Host) -> None:
    """Write every dimension, joint and finding into a file."""
    from sketcher.exchange.outputs import REPORT
    from sketcher.inspect.export import as_csv, as_html

    how = host.ask_choice("Export the inspection", "Export it as", (PAGE, TABLE))
    if how is None:
        return
    suffix = ".html" if how == PAGE else ".csv"
    place = asked_place(board.bench, host, "Export the inspection", REPORT, suffix,
                        suggested(board.bench, suffix))
    if place is None:
        return
    path, outputs = place
    text = board.bench.worker.finish(Job("Advice for cutters", as_html if how == PAGE else as_csv,
                                   (board.bench.derived.inspection(),), board.bench.derived.quick))
    outputs.put(path, text.encode("utf-8"))
    outputs.write()
    board.bench.notices.add("exported")
    board.bench.say(f"{path.name} exported.", "done")


ACTIONS = (
    Action("file.export_inspection", "Export the inspection ...", export_inspection, "file", (),
           "Exports every dimension with its residual, every joint and every finding."),
)
