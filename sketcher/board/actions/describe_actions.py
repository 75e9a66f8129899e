"""The part itself: its name, material and thickness."""

from __future__ import annotations

from collections.abc import Mapping

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.window_port import Host
from sketcher.errors import EditError
from sketcher.part.edits.describe import describe as described
from sketcher.part.value import Material
from sketcher.quantity.format import exact
from sketcher.quantity.written import evaluate_written

UNITS = {"mm": "mm", "in": "inches"}


def describe(board: Board, host: Host) -> None:
    """Ask for name, material, thickness and density."""
    part = board.part

    def take(found: Mapping[str, str]) -> None:
        material = material_of(board, found)
        name = found["name"].strip() or part.name
        outcome = board.bench.do("Set part properties",
                                 lambda part: described(part, name, material), tells=False)
        if outcome.error is not None:
            raise outcome.error

    host.ask_form("Part properties", (
        ("name", "Name", part.name), ("material", "Material", part.material.name),
        ("thickness", f"Thickness ({UNITS[part.unit]})", exact(part.material.thickness)),
        ("density", "Density (kg per cubic metre)", exact(part.material.density)),
    ), take=take)


def material_of(board: Board, found: Mapping[str, str]) -> Material:
    """Return the material that a form describes.

    Raises
    ------
    SketcherError
        When thickness or density cannot be read or is not above zero.
    """
    unit = board.part.unit
    thickness = evaluate_written(found["thickness"], "length", unit, board.bench.derived.values())
    density = evaluate_written(found["density"], "number", unit, {})
    for name, amount in (("thickness", thickness), ("density", density)):
        if amount <= 0.0:
            raise EditError(f"material.{name}", "is not above zero", "type a positive number")
    return Material(found["material"].strip(), thickness, density)


ACTIONS = (
    Action("file.describe", "Part properties ...", describe, "file", ("Ctrl+I",),
           "Sets name, material and thickness."),
)
