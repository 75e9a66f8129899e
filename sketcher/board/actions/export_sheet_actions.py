"""The finished drawing as a file."""

from __future__ import annotations

from sketcher.board.action_table import Action, has_outline
from sketcher.board.board import Board
from sketcher.board.files.export_job import export
from sketcher.board.files.leaving_question import accepted_as_made, accepted_for_paper
from sketcher.board.files.open_and_save import suggested
from sketcher.board.files.replace_question import asked_place
from sketcher.board.window_port import Host

FORMS = {
    "PDF, true to scale": ".pdf", "SVG": ".svg", "PNG": ".png", "DXF drawing": ".dxf",
}


def export_sheet(board: Board, host: Host) -> None:
    """Write the dimensioned sheet with its center lines and title block."""
    from sketcher.exchange.outputs import DRAWING
    from sketcher.exchange.sheet_file import write_sheet

    stamp = accepted_for_paper(board, host)
    if stamp is None:
        board.bench.say("No sheet exported.")
        return
    how = host.ask_choice("Export the sheet", "Export the drawing as", tuple(FORMS))
    if how is None:
        return
    suffix = FORMS[how]
    place = asked_place(board.bench, host, "Export the sheet", DRAWING, suffix,
                        suggested(board.bench, suffix))
    if place is None:
        return
    path, outputs = place
    sheet = export(board.bench.worker, outputs, "Drawing the sheet", write_sheet, board.part, path,
                   None, stamp, True, accepted=lambda made: accepted_as_made(host, made.lacks))
    if sheet is None:
        board.bench.say("No sheet exported.")
        return
    board.bench.notices.add("exported")
    written = f"{', '.join(file.name for file in sheet.files)} exported"
    if stamp:
        written = f"{written}, stamped {', '.join(stamp)}"
    if sheet.caution:
        board.bench.say(f"{written}, but there is {sheet.caution}.", "note")
    else:
        board.bench.say(f"{written}.", "done")


ACTIONS = (
    Action("file.export_sheet", "Export the sheet ...", export_sheet, "file", ("Ctrl+Shift+E",),
           "Exports the dimensioned drawing with center lines and title block.", has_outline),
)
