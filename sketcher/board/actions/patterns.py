"""Patterns of holes: in rows and columns, or around a point."""

from __future__ import annotations

from sketcher.board.action import Action
from sketcher.board.board import Board
from sketcher.board.host import Host
from sketcher.board.parts import center_of
from sketcher.errors import EditError
from sketcher.part.edits.dissolve_pattern import dissolve_pattern
from sketcher.part.edits.remove_pattern import remove_pattern
from sketcher.part.edits.set_pattern import set_pattern
from sketcher.part.value import GridPattern, Part, Pattern, PolarPattern


def grid(board: Board, host: Host) -> None:
    """Repeat the selected curves in columns and rows, or change their grid."""
    name = pattern_of(board, GridPattern)
    old = board.part.patterns.get(name or "")
    old = old if isinstance(old, GridPattern) else None
    curves = old.curves if old else board.selection.curves(board.part)
    step = old.step if old else ("20", "20")
    count = old.count if old else (2, 2)
    found = host.ask_form("Grid pattern", (
        ("columns", "Columns", str(count[0])), ("rows", "Rows", str(count[1])),
        ("step_x", "Step from column to column", step[0]),
        ("step_y", "Step from row to row", step[1]),
        ("angle", "Angle of the rows", old.angle if old else "0"),
    ))
    if found is None:
        return
    pattern = GridPattern(curves, (found["step_x"], found["step_y"]),
                          (_whole("columns", found), _whole("rows", found)), found["angle"])
    board.do("Grid pattern", lambda part: set_pattern(part, pattern, name))


def polar(board: Board, host: Host) -> None:
    """Repeat the selected curves around a point, or change their polar pattern."""
    name = pattern_of(board, PolarPattern)
    old = board.part.patterns.get(name or "")
    old = old if isinstance(old, PolarPattern) else None
    center = old.center if old else pole(board)
    if center is None:
        raise EditError("pattern", "no center is selected",
                        "select the curves, then the point that they go round")
    curves = old.curves if old else _around(board, center)
    found = host.ask_form("Polar pattern", (
        ("count", "Places in all", str(old.count) if old else "6"),
        ("span", "Angle that they spread over", old.span if old else "360"),
    ))
    if found is None:
        return
    pattern = PolarPattern(curves, center, _whole("count", found), found["span"])
    board.do("Polar pattern", lambda part: set_pattern(part, pattern, name))


def remove(board: Board, host: Host) -> None:
    """Take the further instances away."""
    name = pattern_of(board)
    if name is not None:
        board.do(f"Remove pattern {name}", lambda part: remove_pattern(part, name))


def dissolve(board: Board, host: Host) -> None:
    """Turn every instance into curves of its own."""
    name = pattern_of(board)
    if name is not None:
        board.do(f"Dissolve pattern {name}", lambda part: dissolve_pattern(part, name))


def _whole(field: str, found: dict[str, str]) -> int:
    text = found[field].strip()
    if not text.isdecimal() or not 1 <= int(text) <= 10_000:
        raise EditError(field, f"'{text}' is not a whole number", "type a number from 1 to 10000")
    return int(text)


def pattern_of(board: Board, kind: type[Pattern] | None = None) -> str | None:
    """Return the pattern that repeats a selected curve, or None."""
    selected = set(board.selection)
    for name, pattern in board.part.patterns.items():
        if not selected.isdisjoint(pattern.curves) and (kind is None or isinstance(pattern, kind)):
            return name
    return None


def pole(board: Board) -> str | None:
    """Return the point that a new pattern goes round: the selected one, or a selected center.

    Of several selected curves the last one picked gives its center.
    """
    points = board.selection.points(board.part)
    if points:
        return points[-1]
    curves = board.selection.curves(board.part)
    return center_of(board.part.curves[curves[-1]]) if len(curves) > 1 else None


def _around(board: Board, center: str) -> tuple[str, ...]:
    part: Part = board.part
    curves = board.selection.curves(part)
    if board.selection.points(part):
        return curves
    return tuple(name for name in curves if center_of(part.curves[name]) != center)


def has_curves(board: Board) -> bool:
    """Tell whether curves are selected."""
    return bool(board.selection.curves(board.part))


def has_pattern(board: Board) -> bool:
    """Tell whether a selected curve is repeated by a pattern."""
    return pattern_of(board) is not None


ACTIONS = (
    Action("shape.grid", "Grid pattern ...", grid, "shape", ("Ctrl+G",),
           "Repeats the selected curves in columns and rows; the steps are dimensions.",
           has_curves),
    Action("shape.polar", "Polar pattern ...", polar, "shape", ("Ctrl+Shift+G",),
           "Repeats the selected curves around the point selected last.", has_curves),
    Action("shape.remove_pattern", "Remove the pattern", remove, "shape", (),
           "Takes the further instances away; what is drawn stays.", has_pattern),
    Action("shape.dissolve_pattern", "Dissolve the pattern", dissolve, "shape", (),
           "Turns every instance into curves of its own.", has_pattern),
)
