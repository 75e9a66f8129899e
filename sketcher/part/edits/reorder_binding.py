"""Put a binding at another place of the ledger."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.value import Part


def reorder_binding(part: Part, name: str, position: int) -> Edited:
    """Move a binding so that it is number `position` (from 0) of the ledger.

    Raises
    ------
    EditError
        When there is no such binding.
    """
    if name not in part.bindings:
        raise EditError(name, "no binding with this id", "choose a row of the ledger")
    names = [key for key in part.bindings if key != name]
    names.insert(min(max(position, 0), len(names)), name)
    if names == list(part.bindings):
        return Edited(part, f"{name} stays")
    order = {key: part.bindings[key] for key in names}
    return Edited(part.having(bindings=order), f"moved {name} to row {names.index(name) + 1}")
