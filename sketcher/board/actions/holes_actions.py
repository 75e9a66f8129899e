"""The list of holes: from where it is measured, on the clipboard, and as a file."""

from __future__ import annotations

from sketcher.board.action_table import Action, has_outline
from sketcher.board.board import Board
from sketcher.board.files.leaving_question import accepted_for_marking_out
from sketcher.board.files.open_and_save import suggested
from sketcher.board.files.replace_question import asked_place
from sketcher.board.window_port import Host
from sketcher.part.edits.set_drawing import set_drawing
from sketcher.part.table_names import WORDS
from sketcher.part.value import LineCurve

TABLE_MEDIA = "text/csv"
FROM_HERE, ALONG_THIS = "Measure holes from here", "Run the X of holes along this"
AS_USUAL = "Measure holes from the usual corner"


def zero_chosen(board: Board) -> str:
    """Return what the selection names as a zero: a point, a round, two edges; else nothing."""
    part, selection = board.part, board.bench.selection
    points, curves = selection.points(part), selection.curves(part)
    straight = [name for name in curves if isinstance(part.curves[name], LineCurve)]
    if len(points) == 1 and not curves:
        return points[0]
    if points or len(curves) != (2 if straight else 1) or len(straight) not in (0, 2):
        return ""
    return ",".join(curves)


def way_chosen(board: Board) -> str:
    """Return what the selection names as the way of X: an edge, or two places; else nothing."""
    part, selection = board.part, board.bench.selection
    points, curves = selection.points(part), selection.curves(part)
    straight = [name for name in curves if isinstance(part.curves[name], LineCurve)]
    if straight:
        return straight[0] if len(curves) == 1 and not points else ""
    return ",".join((*points, *curves)) if len(points) + len(curves) == 2 else ""


def measure_from(board: Board, host: Host) -> None:
    """Measure the holes from what is selected."""
    _set(board, FROM_HERE, "Holes are measured from {}.", table_zero=zero_chosen(board))


def measure_along(board: Board, host: Host) -> None:
    """Let the X of the holes run along what is selected."""
    _set(board, ALONG_THIS, "The X of the holes runs along {}.", table_along=way_chosen(board))


def measure_by_itself(board: Board, host: Host) -> None:
    """Measure the holes level, and from the corner that the program takes."""
    _set(board, AS_USUAL, "Holes are measured from the usual corner, with X level.", **WORDS)


def _set(board: Board, step: str, said: str, **axes: str) -> None:
    """Set axes of the table as one step, once it is known that there are such."""
    from sketcher.drafting.holes import drawn_axes

    drawn_axes(set_drawing(board.part, **axes).part)  # refuses edges that do not meet
    if board.bench.do(step, lambda part: set_drawing(part, **axes)).done:
        board.bench.say(said.format(*(names.replace(",", " and ") for names in axes.values())),
                        "done")


def copy_holes(board: Board, host: Host) -> None:
    """Put the list of holes on the clipboard, for a spreadsheet."""
    from sketcher.inspect.words import plural
    from sketcher.shop.hole_csv import as_csv
    from sketcher.shop.hole_rows import hole_rows

    holes = hole_rows(board.part)
    host.fill_clipboard({TABLE_MEDIA: as_csv(holes).encode("utf-8"),
                         "text/plain": as_csv(holes, "\t").encode("utf-8")})
    board.bench.say(f"Copied {plural(len(holes.rows), 'hole')} as a table.", "done")


def export_holes(board: Board, host: Host) -> None:
    """Write the list of holes into a file; of a part with findings only when told to."""
    from sketcher.exchange.hole_file import HOLE_LIST, hole_file
    from sketcher.shop.hole_rows import hole_rows

    title = "Export the list of holes"
    if not accepted_for_marking_out(board, host, "The list of holes", "Export it all the same"):
        board.bench.say("No list of holes exported.")
        return
    place = asked_place(board.bench, host, title, HOLE_LIST, ".csv",
                        suggested(board.bench, ".csv"))
    if place is None:
        return
    path, outputs = place
    outputs.put(path, hole_file(hole_rows(board.part)))
    outputs.write()
    board.bench.notices.add("exported")
    board.bench.say(f"{path.name} exported.", "done")


def show_holes(board: Board, host: Host) -> None:
    """Open the list of holes beside the sheet."""
    board.bench.set_setting("show_inspection", True)
    host.show_dialog("holes")


def has_zero(board: Board) -> bool:
    """Tell whether a place is selected that holes can be measured from."""
    return bool(zero_chosen(board))


def has_way(board: Board) -> bool:
    """Tell whether a way is selected that X can run along."""
    return bool(way_chosen(board))


def has_axes(board: Board) -> bool:
    """Tell whether a zero or a way of X was chosen."""
    return any(getattr(board.part.drawing, field) != word for field, word in WORDS.items())


ACTIONS = (
    Action("file.export_holes", "Export the list of holes ...", export_holes, "file", (),
           "Exports place and size of every hole and slot, in the order in which they are drilled.",
           has_outline),
    Action("view.holes", "List of holes", show_holes, "view", (),
           "Lists place and size of each hole beside the sheet; a row is chosen as its hole is.",
           has_outline),
    Action("readout.copy_holes", "Copy the list of holes", copy_holes, "readout", (),
           "Puts place and size of every hole on the clipboard as a table.", has_outline),
    Action("readout.hole_zero", FROM_HERE, measure_from, "readout", (),
           "Takes the selected point, hole, or corner of two edges as X0 Y0 of the holes.",
           has_zero),
    Action("readout.hole_along", ALONG_THIS, measure_along, "readout", (),
           "Takes the selected edge, or two points or holes, as the way in which X runs.", has_way),
    Action("readout.hole_auto", AS_USUAL, measure_by_itself, "readout", (),
           "Goes back to the corner at the lower left, or the hole there, with X level.", has_axes),
)
