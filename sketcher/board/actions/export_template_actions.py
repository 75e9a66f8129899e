"""The part at full size on paper, to be laid on the blank."""

from __future__ import annotations

from sketcher.board.action_table import Action, has_outline
from sketcher.board.board import Board
from sketcher.board.files.export_job import export
from sketcher.board.files.leaving_question import accepted_for_marking_out
from sketcher.board.files.open_and_save import suggested
from sketcher.board.files.replace_question import asked_place
from sketcher.board.window_port import Host

TITLE = "Export a template"
PAPERS = {"mm": ("A4", "letter", "A3", "A0"), "in": ("letter", "A4", "B", "E", "A0")}
"""By the part's unit; the first is what `template_paper` takes by itself."""
MIRRORED = ", mirrored for the back side"


def export_template(board: Board, host: Host) -> None:
    """Write the full-size template of the part; of one with findings only when told to."""
    from sketcher.exchange.outputs import TEMPLATE
    from sketcher.exchange.template_file import CAUTION, write_template

    if not accepted_for_marking_out(board, host, "The template", "Make it all the same"):
        board.bench.say("No template exported.")
        return
    ways = tuple(f"{paper}{side}" for paper in PAPERS[board.part.unit] for side in ("", MIRRORED))
    how = host.ask_choice(TITLE, "Paper", ways)
    if how is None:
        return
    place = asked_place(board.bench, host, TITLE, TEMPLATE, ".pdf",
                        suggested(board.bench, ".template.pdf"))
    if place is None:
        return
    path, outputs = place
    paper = how.removesuffix(MIRRORED)
    written = export(board.bench.worker, outputs, "Drawing the template", write_template,
                     board.part, path, paper, how != paper)
    board.bench.notices.add("exported")
    board.bench.say(f"{path.name} exported: {written.told}{written.lacking}. {CAUTION}.",
                    "note" if written.unlettered else "done")


ACTIONS = (
    Action("file.export_template", "Export a template ...", export_template, "file", (),
           "Exports the outline at full size with punch crosses, in sheets to be laid together.",
           has_outline),
)
