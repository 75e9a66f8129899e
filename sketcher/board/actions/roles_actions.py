"""Roles of curves: outline, layout, axis."""

from __future__ import annotations

from collections.abc import Callable

from sketcher.board.action_table import Action, has_curves
from sketcher.board.board import Board
from sketcher.board.window_port import Host
from sketcher.part.edits.set_role import set_role
from sketcher.part.value import LineCurve, Role


def _making(role: Role) -> Callable[[Board, Host], None]:
    def run(board: Board, host: Host) -> None:
        names = board.bench.selection.curves(board.part)
        board.bench.do(f"Make {', '.join(names)} {role}", lambda part: set_role(part, names, role))

    return run


def has_lines(board: Board) -> bool:
    """Tell whether curves are selected and all of them are lines."""
    names = board.bench.selection.curves(board.part)
    return bool(names) and all(isinstance(board.part.curves[n], LineCurve) for n in names)


ACTIONS = (
    Action("shape.outline", "Make outline", _making("outline"), "shape", ("Alt+1",),
           "Makes the selected curves an edge of the part.", has_curves),
    Action("shape.layout", "Make layout lines", _making("layout"), "shape", ("Alt+2",),
           "Makes the selected curves scribed helpers that are never cut.", has_curves),
    Action("shape.axis", "Make axis", _making("axis"), "shape", ("Alt+3",),
           "Makes the selected lines axes.", has_lines),
)
