"""Choose the side on which a dimension is meant."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.part.doubts import confirmed
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import sides
from sketcher.part.value import Part


def set_side(part: Part, name: str, side: str) -> Edited:
    """Give a binding another side, one of `part.kinds.sides(part, binding)`; no doubt is left.

    Raises
    ------
    EditError
        When there is no such binding or no such side.
    """
    binding = part.bindings.get(name)
    if binding is None:
        raise EditError(name, "no binding with this id", "choose a row of the ledger")
    words = sides(part, binding)
    if side not in words:
        remedy = f"use {' or '.join(words)}" if words else "this binding has no side"
        raise EditError(name, f"no side '{side}'", remedy)
    if side == binding.side:
        return Edited(confirmed(part, name), f"{name} stays {side}")
    draft = Draft(confirmed(part, name))
    draft.change_binding(name, side=side)
    return Edited(draft.done(), f"{name} is meant {side}")
