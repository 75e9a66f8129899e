"""Actions: everything that can be done by name, key or menu."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal, TypeAlias

from sketcher.board.board import Board, all_tools
from sketcher.board.window_port import Host
from sketcher.errors import SketcherError
from sketcher.interrupt import Stopped
from sketcher.registry import collect

Group: TypeAlias = Literal["file", "edit", "view", "tool", "bind", "shape", "mirror", "readout",
                           "help"]


def always(board: Board) -> bool:
    """Return True: the action can be done at any time."""
    return True


def has_selection(board: Board) -> bool:
    """Tell whether anything is selected."""
    return len(board.bench.selection) > 0


def has_curves(board: Board) -> bool:
    """Tell whether curves are selected."""
    return bool(board.bench.selection.curves(board.part))


def has_outline(board: Board) -> bool:
    """Tell whether there is anything to draw or to cut."""
    return any(curve.role == "outline" for curve in board.part.curves.values())


@dataclass(frozen=True, slots=True)
class Action:
    """One thing that can be done.

    Parameters
    ----------
    name : str
        Stable name, ``group.what``.
    label : str
        Word on the menu.
    run : callable
        Does it, given the board and the host.
    group : str
        Menu that it stands in.
    keys : tuple of str
        Shortcuts in the notation ``Ctrl+S``; single letters work while no value is typed.
    hint : str
        One sentence that teaches.
    enabled : callable
        Whether it can be done now.
    checked : callable or None
        For a switch: whether it is on.
    """

    name: str
    label: str
    run: Callable[[Board, Host], None]
    group: Group
    keys: tuple[str, ...] = ()
    hint: str = ""
    enabled: Callable[[Board], bool] = always
    checked: Callable[[Board], bool] | None = None


@cache
def all_actions() -> Mapping[str, Action]:
    """Return every action by name: those of the folder, and one for each tool."""
    found: dict[str, Action] = {}
    for actions in collect("sketcher.board.actions", "ACTIONS", "_actions"):
        for action in actions:
            if action.name in found:
                raise ValueError(f"two actions are named {action.name}")
            found[action.name] = action
    for tool in all_tools().values():
        found[f"tool.{tool.name}"] = Action(
            f"tool.{tool.name}", tool.label, _using(tool.name),
            "shape" if tool.group == "shape" else "tool",
            (tool.key,) if tool.key else (), tool.hint, checked=_in_hand(tool.name),
        )
    return found


def perform(name: str, board: Board, host: Host) -> bool:
    """Do an action by name; what goes wrong is told. Return whether it was done."""
    action = all_actions()[name]
    if not action.enabled(board):
        board.bench.say(f"{action.label} is not possible now.")
        return False
    try:
        action.run(board, host)
    except SketcherError as error:
        board.bench.say(str(error), "error", error.place)
        return False
    except Stopped:
        board.bench.say(f"{action.label.removesuffix(' ...')}: stopped.", "warning")
        return False
    return True


def _using(name: str) -> Callable[[Board, Host], None]:
    def run(board: Board, host: Host) -> None:
        board.use(name)

    return run


def _in_hand(name: str) -> Callable[[Board], bool]:
    def checked(board: Board) -> bool:
        return board.tool.name == name

    return checked
