"""The part itself: its name, material and thickness."""

from __future__ import annotations

from sketcher.board.action import Action
from sketcher.board.board import Board
from sketcher.board.host import Host
from sketcher.errors import EditError
from sketcher.part.edits.describe import describe as described
from sketcher.part.value import Material
from sketcher.quantity.format import exact
from sketcher.quantity.written import evaluate_written


def describe(board: Board, host: Host) -> None:
    """Ask for name, material, thickness and density."""
    part = board.part
    found = host.ask_form("The part", (
        ("name", "Name", part.name), ("material", "Material", part.material.name),
        ("thickness", f"Thickness in {part.unit}", exact(part.material.thickness)),
        ("density", "Density in kg per cubic metre", exact(part.material.density)),
    ))
    if found is None:
        return
    thickness = evaluate_written(found["thickness"], "length", part.unit, board.values())
    density = evaluate_written(found["density"], "number", part.unit, {})
    for name, amount in (("thickness", thickness), ("density", density)):
        if amount <= 0.0:
            raise EditError(f"material.{name}", "is not above zero", "type a positive number")
    material = Material(found["material"].strip(), thickness, density)
    name = found["name"].strip() or part.name
    board.do("Describe the part", lambda part: described(part, name, material))


ACTIONS = (
    Action("file.describe", "The part ...", describe, "file", ("Ctrl+I",),
           "Sets name, material and thickness."),
)
