"""Change the value of a dimension."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.part.check import check_value
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part


def set_value(part: Part, name: str, value: str) -> Edited:
    """Give a dimension another value; its side stays.

    Parameters
    ----------
    part : Part
        The part.
    name : str
        Id of the binding.
    value : str
        Expression, positive as the paper prints it; empty lets a reference dimension follow.

    Raises
    ------
    EditError
        When there is no such binding, it takes no value, or it drives and is given none.
    QuantityError
        When the value cannot be evaluated or is not positive.
    """
    binding = part.bindings.get(name)
    if binding is None:
        raise EditError(name, "no binding with this id", "choose a row of the ledger")
    if KINDS[binding.kind].quantity is None:
        raise EditError(name, f"'{binding.kind}' takes no value", "choose a dimension")
    text = value.strip() or None
    if text is None and binding.drives:
        raise EditError(name, "drives, so that it needs a value",
                        "type the one that the paper prints")
    if text == binding.value:
        return Edited(part, f"{name} stays {_told(text)}")
    draft = Draft(part)
    draft.change_binding(name, value=text)
    check_value(part, draft.bindings[name], f"bindings.{name}.value")
    return Edited(draft.done(), f"{name}: {_told(binding.value)} became {_told(text)}")


def _told(value: str | None) -> str:
    return "what it measures" if value is None else value
