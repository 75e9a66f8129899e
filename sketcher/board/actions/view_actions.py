"""What is shown, and how large."""

from __future__ import annotations

from collections.abc import Callable

from sketcher.board.action_table import Action, has_selection
from sketcher.board.board import Board
from sketcher.board.window_port import Host

STEP = 1.25


def fit_part(board: Board, host: Host) -> None:
    """Show the whole part."""
    host.fit_part()


def fit_selection(board: Board, host: Host) -> None:
    """Show what is selected."""
    host.fit_selection()


def zoom_in(board: Board, host: Host) -> None:
    """Zoom in."""
    host.zoom(STEP)


def zoom_out(board: Board, host: Host) -> None:
    """Zoom out."""
    host.zoom(1.0 / STEP)


def swap_look(board: Board, host: Host) -> None:
    """Change between layout dye and paper."""
    look = "paper" if board.bench.settings["look"] == "dye" else "dye"
    if board.bench.set_setting("look", look):
        host.set_look(look)


def preferences(board: Board, host: Host) -> None:
    """Open the preferences."""
    host.show_dialog("preferences")


def _switching(setting: str) -> Callable[[Board, Host], None]:
    def run(board: Board, host: Host) -> None:
        board.bench.set_setting(setting, not board.bench.settings[setting])

    return run


def _is_on(setting: str) -> Callable[[Board], bool]:
    def checked(board: Board) -> bool:
        return bool(board.bench.settings[setting])

    return checked


def _switch(name: str, label: str, setting: str, keys: tuple[str, ...], hint: str) -> Action:
    return Action(f"view.{name}", label, _switching(setting), "view", keys, hint,
                  checked=_is_on(setting))


ACTIONS = (
    Action("view.fit", "Show the whole part", fit_part, "view", ("Home", "Ctrl+0"),
           "Fits the whole part into the sheet."),
    Action("view.fit_selection", "Show the selection", fit_selection, "view", ("Shift+Home",),
           "Fits what is selected into the sheet.", has_selection),
    Action("view.zoom_in", "Zoom in", zoom_in, "view", ("Ctrl++", "Ctrl+="),
           "Shows the sheet larger."),
    Action("view.zoom_out", "Zoom out", zoom_out, "view", ("Ctrl+-",), "Shows the sheet smaller."),
    Action("view.look", "Dye or paper", swap_look, "view", ("Ctrl+L",),
           "Changes between the dark sheet under layout dye and light paper."),
    _switch("grid", "Grid", "show_grid", ("G",), "Shows the grid of the part's unit."),
    _switch("snaps", "Snap while drawing", "snaps", ("N",),
            "Takes ends, midpoints, centers and directions near the pointer; Ctrl holds them off."),
    _switch("bind_drawn", "Bind what a snap shows", "bind_drawn", ("B",),
            "What a snap shows while drawing becomes a binding."),
    _switch("dimensions", "Dimensions", "show_dimensions", ("Alt+D",),
            "Shows dimensions on the sheet."),
    _switch("bindings", "All binding signs", "show_bindings", ("Alt+B",),
            "Shows all signs of bindings without a value, not only those of what is chosen."),
    _switch("centers", "Center lines", "show_centers", ("Alt+C",),
            "Shows the center lines that the finished drawing will have."),
    _switch("layout", "Layout lines", "show_layout", ("Alt+L",),
            "Shows scribed layout. It is never cut; of it pitch circles alone are printed."),
    _switch("motion", "Motion arrows", "show_motion", ("Alt+M",),
            "Shows how loose points can move."),
    _switch("ledger", "Ledger", "show_ledger", ("F7",), "Shows the list of bindings at the left."),
    _switch("inspection", "Inspection", "show_inspection", ("F8",),
            "Shows what was measured at the right, and what would mend what is wrong."),
    Action("view.preferences", "Preferences ...", preferences, "view", ("Ctrl+,",),
           "Opens the table of settings."),
)
