"""Mean the other side of a binding, whether it was in doubt or not."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.part.doubts import doubts_about, taken
from sketcher.part.edited import Edited
from sketcher.part.edits.set_side import set_side
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part


def turn_side(part: Part, name: str) -> Edited:
    """Give a binding its other side: the one in doubt, with what turns along, else its only other.

    The geometry of a doubt is brought to where it lay when the doubt was found; a solve makes it
    exact.

    Raises
    ------
    EditError
        When there is no such binding, it has no side, or several others and none in doubt.
    """
    doubts = doubts_about(part, name)
    if doubts:
        meant = ", ".join(f"{n} is meant {side}" for n, side in doubts[0].sides.items())
        return Edited(taken(part, doubts[0]), meant)
    binding = part.bindings.get(name)
    if binding is None:
        raise EditError(name, "no binding with this id", "choose a row of the ledger")
    words = KINDS[binding.kind].choices(part, binding.of)
    others = [word for word in words if word != binding.side]
    if len(others) != 1:
        raise EditError(name, "has no one other side",
                        f"choose one of {', '.join(others)}" if others else "its side is implied")
    return set_side(part, name, others[0])
