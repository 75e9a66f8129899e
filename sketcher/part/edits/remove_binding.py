"""Take bindings away."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part


def remove_binding(part: Part, *names: str) -> Edited:
    """Remove bindings; the geometry stays where it is.

    Raises
    ------
    EditError
        When there is no such binding.
    """
    for name in names:
        if name not in part.bindings:
            raise EditError(name, "no binding with this id", "choose a row of the ledger")
    draft = Draft(part)
    draft.remove(*names)
    return Edited(draft.done(), f"removed {', '.join(names)}")
