"""The readout: unit, zero, halving."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.places.zero import Zero
from sketcher.board.window_port import Host
from sketcher.part.curve_questions import center_of


def swap_unit(board: Board, host: Host) -> None:
    """Show inches instead of millimetres, or the other way round."""
    board.bench.show_unit("mm" if board.bench.shown_unit == "in" else "in")


def zero_here(board: Board, host: Host) -> None:
    """Count from the selected point or center, from the point under the pointer, or from there."""
    names = list(board.bench.selection.points(board.part))
    for name in board.bench.selection.curves(board.part):
        center = center_of(board.part.curves[name])
        names += [center] if center is not None else []
    pointer = board.pointer
    if not names and pointer is not None:
        near = board.bench.derived.picker().nearest_point(pointer.at, pointer.reach)
        names = [near.id] if near is not None else []
    if names:
        board.bench.set_zero(Zero(board.part.points[names[0]], names[0]))
        board.bench.say(f"X and Y count from {names[0]}.", "done")
    elif pointer is None:
        board.bench.say("Point at the place from which X and Y should count.")
    else:
        board.bench.set_zero(Zero(pointer.at))
        board.bench.say("X and Y count from here.", "done")


def zero_sheet(board: Board, host: Host) -> None:
    """Count from the sheet's own zero again."""
    board.bench.set_zero(Zero())
    board.bench.say("X and Y count from the sheet's zero.", "done")


def halve(board: Board, host: Host) -> None:
    """Halve a typed or held value, or the reading."""
    board.typing.halve()


def is_inch(board: Board) -> bool:
    """Tell whether inches are on display."""
    return board.bench.shown_unit == "in"


ACTIONS = (
    Action("readout.unit", "Show mm or inches", swap_unit, "readout", ("U",),
           "Changes the unit on display; the part keeps its own.", checked=is_inch),
    Action("readout.zero", "Zero here", zero_here, "readout", ("Z",),
           "Counts X and Y from the selected point, or from where the pointer is."),
    Action("readout.sheet_zero", "Zero of the sheet", zero_sheet, "readout", ("Shift+Z",),
           "Counts X and Y from the sheet's own zero again."),
    Action("readout.halve", "Halve", halve, "readout", ("Shift+H",),
           "Halves what is typed or held; else moves the zero so that the reading is half."),
)
