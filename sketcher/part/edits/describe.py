"""Name, material and notes of a part."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.edited import Edited
from sketcher.part.file_text import check_writable
from sketcher.part.materials import odd_density
from sketcher.part.value import Material, Part

ASPECTS = {"name": "material", "thickness": "thickness", "density": "density"}
"""What people call the fields of a material."""


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
        Thickness in the part's unit and density in kg per cubic metre, both above zero. A density
        that stays while the name changes is pointed out.
    notes : sequence of str, optional
        Texts for the sheet.

    Raises
    ------
    EditError
        When a text holds control characters or a number is not above zero.
    """
    changes: dict[str, object] = {}
    words, remark = [], ""
    if name is not None and name != part.name:
        changes["name"] = name
        words.append("name")
    if material is not None and material != part.material:
        changes["material"], remark = material, odd_density(part.material, material)
        words += [word for field, word in ASPECTS.items()
                  if getattr(part.material, field) != getattr(material, field)]
    if notes is not None and tuple(notes) != part.notes:
        changes["notes"] = tuple(notes)
        words.append("notes")
    if not changes:
        return Edited(part, "nothing changed")
    check_writable(Part().having(**changes))
    return Edited(part.having(**changes),
                  f"changed {', '.join(words)}" + (f"; {remark}" if remark else ""))
