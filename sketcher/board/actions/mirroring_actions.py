"""What can be done with a reflection."""

from __future__ import annotations

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.window_port import Host
from sketcher.part.edits.clear_mirror import clear_mirror
from sketcher.part.edits.flip import flip as flipped
from sketcher.part.edits.make_whole import make_whole as made_whole


def _axis(board: Board) -> str | None:
    """Return the mirror's axis that is selected, or None for all of them."""
    axes = {mirror.axis for mirror in board.part.mirrors}
    return next((name for name in board.bench.selection if name in axes), None)


def flip(board: Board, host: Host) -> None:
    """Replace the half by its reflection."""
    axis = _axis(board)
    board.bench.do("Flip the half", lambda part: flipped(part, axis))


def make_whole(board: Board, host: Host) -> None:
    """Turn the reflection into curves of its own."""
    board.bench.do("Make whole", made_whole)


def clear(board: Board, host: Host) -> None:
    """Reflect no longer."""
    axis = _axis(board)
    board.bench.do("Take the mirror away", lambda part: clear_mirror(part, axis))


def has_mirror(board: Board) -> bool:
    """Tell whether the half is reflected."""
    return bool(board.part.mirrors)


ACTIONS = (
    Action("mirror.flip", "Flip the half", flip, "mirror", ("Ctrl+Shift+F",),
           "Puts the drawn half on the other side of the axis; the whole part looks the same.",
           has_mirror),
    Action("mirror.whole", "Make whole", make_whole, "mirror", (),
           "Turns the reflection into curves of its own, bound as reflected.", has_mirror),
    Action("mirror.clear", "Take the mirror away", clear, "mirror", (),
           "Reflects no longer; the axis stays as a line.", has_mirror),
)
