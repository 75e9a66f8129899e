"""Shape tools on what is selected, or on the span under the pointer."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sketcher.board.action import Action
from sketcher.board.board import Board
from sketcher.board.host import Host
from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.part.edits.chamfer import chamfer as chamfered
from sketcher.part.edits.copy import copy as copied
from sketcher.part.edits.corner import corner as cornered
from sketcher.part.edits.cut_back import cut_back as cut
from sketcher.part.edits.extend import extend as extended
from sketcher.part.edits.fillet import fillet as filleted
from sketcher.part.edits.join import join as joined
from sketcher.part.edits.move import move as moved
from sketcher.part.edits.rotate import rotate as rotated
from sketcher.part.edits.split import split as split_at
from sketcher.quantity.parse import evaluate


def fillet(board: Board, host: Host) -> None:
    """Round the corner of two selected curves."""
    a, b = pair(board)
    radius = host.ask_text("Fillet", "Radius of the fillet", "")
    if radius:
        board.do(f"Fillet {a} and {b}", lambda part: filleted(part, a, b, radius))


def chamfer(board: Board, host: Host) -> None:
    """Cut the corner of two selected curves."""
    a, b = pair(board)
    found = host.ask_form("Chamfer", (("leg", f"Length taken from {a}", ""),
                                      ("other", f"Length taken from {b} (empty: the same)", "")))
    if found is not None:
        leg, other = found["leg"].strip(), found["other"].strip() or None
        board.do(f"Chamfer {a} and {b}", lambda part: chamfered(part, a, b, leg, other))


def corner(board: Board, host: Host) -> None:
    """Let two selected curves end in one corner."""
    a, b = pair(board)
    board.do(f"Corner of {a} and {b}", lambda part: cornered(part, a, b))


def join(board: Board, host: Host) -> None:
    """Make one curve of two that go on into each other."""
    a, b = pair(board)
    board.do(f"Join {a} and {b}", lambda part: joined(part, a, b))


def cut_back(board: Board, host: Host) -> None:
    """Take the span under the pointer away."""
    name, at = under_pointer(board)
    board.do(f"Cut back {name}", lambda part: cut(part, name, at))


def extend(board: Board, host: Host) -> None:
    """Let the end near the pointer go on to the next curve."""
    name, at = under_pointer(board)
    board.do(f"Extend {name}", lambda part: extended(part, name, at))


def split(board: Board, host: Host) -> None:
    """Split the curve under the pointer there."""
    name, at = under_pointer(board)
    board.do(f"Split {name}", lambda part: split_at(part, name, at))


def _stepping(
    title: str, edit: Callable[..., Any]
) -> Callable[[Board, Host], None]:
    def run(board: Board, host: Host) -> None:
        names = board.selection.geometry(board.part)
        found = host.ask_form(title, (("run", "Run (right is positive)", "0"),
                                      ("rise", "Rise (up is positive)", "0")))
        if found is not None:
            step = (_length(board, found["run"]), _length(board, found["rise"]))
            board.do(f"{title} {', '.join(names[:3])}", lambda part: edit(part, names, step))

    return run


def turn(board: Board, host: Host) -> None:
    """Turn what is selected about the readout's zero."""
    names = board.selection.geometry(board.part)
    text = host.ask_text("Turn", "Angle, counter-clockwise, about the readout's zero", "90")
    if text:
        angle = evaluate(text, "angle", board.part.unit, board.values())
        center = board.zero.place(board.part)
        board.do(f"Turn {', '.join(names[:3])}", lambda part: rotated(part, names, center, angle))


def _length(board: Board, text: str) -> float:
    return evaluate(text or "0", "length", board.part.unit, board.values())


def pair(board: Board) -> tuple[str, str]:
    """Return the two selected curves, in the order of picking."""
    names = board.selection.curves(board.part)
    if len(names) != 2:
        raise EditError("selection", f"{len(names)} curves are selected", "select two curves")
    return names[0], names[1]


def under_pointer(board: Board) -> tuple[str, XY]:
    """Return the drawn curve under the pointer and the place on it.

    Raises
    ------
    EditError
        When there is none.
    """
    pointer = board.pointer
    found = board.picker().nearest_curve(pointer.at, pointer.reach, drawn_only=True)
    if found is None:
        raise EditError("pointer", "no curve is under the pointer",
                        "point at the span, then press the key")
    return found.id, found.at


def has_pair(board: Board) -> bool:
    """Tell whether two curves are selected."""
    return len(board.selection.curves(board.part)) == 2


def has_geometry(board: Board) -> bool:
    """Tell whether points or curves are selected."""
    return bool(board.selection.geometry(board.part))


def has_part(board: Board) -> bool:
    """Tell whether anything is drawn."""
    return bool(board.part.curves)


ACTIONS = (
    Action("shape.fillet", "Fillet ...", fillet, "shape", ("F",),
           "Rounds the corner of two curves with a tangent arc.", has_pair),
    Action("shape.chamfer", "Chamfer ...", chamfer, "shape", ("Shift+F",),
           "Cuts the corner of two curves with a line.", has_pair),
    Action("shape.corner", "Corner", corner, "shape", ("V",),
           "Lets two curves that cross or stop short end in one corner.", has_pair),
    Action("shape.join", "Join", join, "shape", ("J",),
           "Makes one curve of two that go on into each other.", has_pair),
    Action("shape.cut_back", "Cut back the span here", cut_back, "shape", ("Shift+X",),
           "Takes the span under the pointer away, up to the nearest crossings.", has_part),
    Action("shape.extend", "Extend to the next curve", extend, "shape", ("E",),
           "Lets the end near the pointer go on to the next curve.", has_part),
    Action("shape.split", "Split here", split, "shape", ("I",),
           "Splits the curve under the pointer.", has_part),
    Action("shape.move", "Move ...", _stepping("Move", moved), "shape", (),
           "Moves what is selected by a run and a rise.", has_geometry),
    Action("shape.copy", "Copy ...", _stepping("Copy", copied), "shape", ("Ctrl+D",),
           "Copies what is selected by a run and a rise.", has_geometry),
    Action("shape.turn", "Turn ...", turn, "shape", (),
           "Turns what is selected about the readout's zero.", has_geometry),
)
