"""Change the value of a dimension."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.part.check import check_value
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
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
        Expression, positive as the paper prints it.

    Raises
    ------
    EditError
        When there is no such binding or it takes no value.
    QuantityError
        When the value cannot be evaluated or is not positive.
    """
    binding = part.bindings.get(name)
    if binding is None:
        raise EditError(name, "no binding with this id", "choose a row of the ledger")
    if binding.value is None:
        raise EditError(name, f"'{binding.kind}' takes no value", "choose a dimension")
    text = value.strip()
    if text == binding.value:
        return Edited(part, f"{name} stays {text}")
    draft = Draft(part)
    draft.change_binding(name, value=text)
    check_value(part, draft.bindings[name], f"bindings.{name}.value")
    return Edited(draft.done(), f"{name}: {binding.value} became {text}")
