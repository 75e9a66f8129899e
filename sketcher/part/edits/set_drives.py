"""Let a dimension drive the half, or make it a reference dimension."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import KINDS, measure
from sketcher.part.value import Part
from sketcher.quantity.format import exact


def set_drives(part: Part, name: str, drives: bool) -> Edited:
    """Make a dimension drive (True), or only be checked (False).

    One that has followed drives from then on what it measures.

    Raises
    ------
    EditError
        When there is no such binding, or it has no value that could be checked.
    """
    binding = part.bindings.get(name)
    if binding is None:
        raise EditError(name, "no binding with this id", "choose a row of the ledger")
    if not drives and KINDS[binding.kind].quantity is None:
        raise EditError(name, f"'{binding.kind}' has no value to check", "remove it instead")
    if drives == binding.drives:
        return Edited(part, f"{name} stays as it is")
    draft = Draft(part)
    draft.change_binding(name, drives=drives)
    if binding.follows and KINDS[binding.kind].quantity is not None:
        draft.change_binding(name, value=exact(round(abs(measure(part, binding)), 9)))
    return Edited(draft.done(), f"{name} {'drives' if drives else 'is a reference dimension'}")
