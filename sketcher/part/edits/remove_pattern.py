"""Take a pattern away."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part


def remove_pattern(part: Part, name: str) -> Edited:
    """Remove a pattern; the drawn curves stay, the further instances go.

    Raises
    ------
    EditError
        When there is no such pattern.
    """
    if name not in part.patterns:
        raise EditError(name, "no pattern with this id", "choose a pattern")
    draft = Draft(part)
    draft.remove(name)
    return Edited(draft.done(), f"removed {name}; {', '.join(part.patterns[name].curves)} stay")
