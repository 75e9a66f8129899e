"""Copying, cutting and pasting curves with what binds them."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import PICKING, Board
from sketcher.board.files.clipboard import PIECE, carried, piece_of, step_to
from sketcher.board.steps.bench import listed
from sketcher.board.toolkit.pasted_piece import STEP, PastedPiece, merging
from sketcher.board.window_port import Host
from sketcher.inspect.words import plural
from sketcher.part.edits.delete import delete
from sketcher.part.edits.paste import paste
from sketcher.part.fragment import Fragment

MOST_NAMED = 6


def copy_out(board: Board, host: Host) -> None:
    """Put what is selected on the clipboard."""
    bench = board.bench
    contents, found = carried(bench.part, bench.selection.geometry(bench.part))
    host.fill_clipboard(contents)
    bench.say(f"Copied {_counted(found)}.{_left(found)}", "done")


def cut_out(board: Board, host: Host) -> None:
    """Put what is selected on the clipboard and take it away."""
    bench = board.bench
    ids = bench.selection.geometry(bench.part)
    contents, found = carried(bench.part, ids)
    host.fill_clipboard(contents)
    if bench.do("Cut", lambda part: delete(part, *ids)).done:
        bench.say(f"Cut {_counted(found)}.{_left(found)}", "done")


def paste_in(board: Board, host: Host) -> None:
    """Put the clipboard's curves at the pointer, selected and in hand, to be placed."""
    bench = board.bench
    content = host.clipboard(PIECE)
    if content is None:
        bench.say("The clipboard holds nothing that was copied or cut from a part.")
        return
    piece = piece_of(content)
    if not piece.points:
        bench.say("The clipboard holds no curve and no point.")
        return
    step = step_to(bench.part, piece, host.paste_place())
    board.use(PICKING)  # what another tool has begun is given up before the part changes
    before = bench.part
    if bench.do(STEP, lambda part: paste(part, piece, step), merge=merging(before)).done:
        curves = tuple(n for n in bench.part.curves if n not in before.curves)
        made = curves or tuple(n for n in bench.part.points if n not in before.points)
        bench.select(made)
        if len(made) == len(piece.curves or piece.points):  # else loose points say nothing of which
            board.take(lambda bench: PastedPiece(bench, before, piece, step, made))


def has_geometry(board: Board) -> bool:
    """Tell whether curves or points are selected."""
    return bool(board.bench.selection.geometry(board.part))


def _counted(found: Fragment) -> str:
    piece = found.part
    what = plural(len(piece.curves), "curve") if piece.curves \
        else plural(len(piece.points), "point")
    return f"{what} with {plural(len(piece.bindings), 'binding')}" if piece.bindings else what


def _left(found: Fragment) -> str:
    if not found.left:
        return ""
    named, more = found.left[:MOST_NAMED], len(found.left) - MOST_NAMED
    names = listed(named) if more <= 0 else f"{', '.join(named)} and {more} more"
    one = len(found.left) == 1
    return f" {names} {'reaches' if one else 'reach'} beyond {'it' if one else 'them'} and " \
           f"{'is' if one else 'are'} not copied."


ACTIONS = (
    Action("edit.copy", "Copy", copy_out, "edit", ("Ctrl+C",),
           "Copies curves with the bindings among them, here or to another window; other programs "
           "get a picture.", has_geometry),
    Action("edit.cut", "Cut", cut_out, "edit", ("Ctrl+X",),
           "Copies curves with the bindings among them and takes them away.", has_geometry),
    Action("edit.paste", "Paste", paste_in, "edit", ("Ctrl+V",),
           "Puts what was copied or cut at the pointer, under names of its own; then press or type "
           "where it goes."),
)
