"""Name, material and notes of a part."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.node import CONTROLS, CONTROLS_BUT_BREAKS
from sketcher.part.value import Material, Part


def describe(
    part: Part,
    name: str | None = None,
    material: Material | None = None,
    notes: Sequence[str] | None = None,
) -> Edited:
    """Change what is said about a part; what is left out stays.

    Parameters
    ----------
    part : Part
        The part.
    name : str, optional
        One line.
    material : Material, optional
        Thickness in the part's unit and density in kg per cubic metre, both above zero.
    notes : sequence of str, optional
        Texts for the sheet.

    Raises
    ------
    EditError
        When a text holds control characters or a number is not above zero.
    """
    changes: dict[str, object] = {}
    if name is not None and name != part.name:
        if CONTROLS.search(name):
            raise EditError("name", "holds a control character", "type it as one line")
        changes["name"] = name
    if material is not None and material != part.material:
        for word in ("thickness", "density"):
            amount = getattr(material, word)
            if not (isfinite(amount) and amount > 0.0):
                raise EditError(f"material.{word}", f"{amount:g} is too small", "give more than 0")
        if CONTROLS.search(material.name):
            raise EditError("material.name", "holds a control character", "type it as one line")
        changes["material"] = material
    if notes is not None and tuple(notes) != part.notes:
        for note in notes:
            if CONTROLS_BUT_BREAKS.search(note):
                raise EditError("notes", "a note holds a control character", "retype it")
        changes["notes"] = tuple(notes)
    said = f"changed {', '.join(changes)}" if changes else "nothing changed"
    return Edited(part.having(**changes) if changes else part, said)
