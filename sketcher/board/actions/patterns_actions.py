"""What can be done with a pattern once it is there."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.window_port import Host
from sketcher.part.edits.dissolve_pattern import dissolve_pattern
from sketcher.part.edits.remove_pattern import remove_pattern


def remove(board: Board, host: Host) -> None:
    """Take the further copies away."""
    name = pattern_of(board)
    if name is not None:
        board.bench.do(f"Remove pattern {name}", lambda part: remove_pattern(part, name))


def separate(board: Board, host: Host) -> None:
    """Turn every instance into curves of its own."""
    name = pattern_of(board)
    if name is not None:
        board.bench.do(f"Separate the copies of {name}", lambda part: dissolve_pattern(part, name))


def pattern_of(board: Board) -> str | None:
    """Return the pattern that repeats a selected curve, or None."""
    selected = set(board.bench.selection)
    for name, pattern in board.part.patterns.items():
        if not selected.isdisjoint(pattern.curves):
            return name
    return None


def has_pattern(board: Board) -> bool:
    """Tell whether a selected curve is repeated by a pattern."""
    return pattern_of(board) is not None


ACTIONS = (
    Action("shape.remove_pattern", "Remove the pattern", remove, "shape", (),
           "Takes the further copies away; what is drawn stays.", has_pattern),
    Action("shape.separate_copies", "Separate the copies", separate, "shape", (),
           "Turns every copy into curves of its own.", has_pattern),
)
