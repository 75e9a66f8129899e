"""Say that a side which the sketch left in doubt is the one that is meant."""

from __future__ import annotations

from sketcher.part.doubts import confirmed, doubt_about
from sketcher.part.edited import Edited
from sketcher.part.value import Part


def confirm_side(part: Part, name: str) -> Edited:
    """End every doubt about a binding; its side stays.

    Raises
    ------
    EditError
        When there is no such binding, or no doubt about it.
    """
    doubt_about(part, name)
    return Edited(confirmed(part, name), f"{name} is meant {part.bindings[name].side}")
