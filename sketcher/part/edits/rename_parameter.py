"""Give a parameter another name, wherever it is used."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.expressions import rewritten, with_name
from sketcher.part.value import Part
from sketcher.quantity.parameters import check_name


def rename_parameter(part: Part, old: str, new: str) -> Edited:
    """Rename a parameter in the table and in every expression that uses it.

    Raises
    ------
    EditError
        When there is no such parameter or the new name is taken.
    QuantityError
        When the new name cannot name a parameter.
    """
    if old not in part.parameters:
        raise EditError(f"parameters.{old}", "no parameter of this name", "choose another")
    if new == old:
        return Edited(part, f"{old} stays")
    check_name(new, f"parameters.{new}")
    if new in part.parameters:
        raise EditError(f"parameters.{new}", "the name is taken", "choose another")
    parameters = {new if key == old else key: text for key, text in part.parameters.items()}
    renamed = part.having(parameters=parameters)
    return Edited(rewritten(renamed, lambda text: with_name(text, old, new)),
                  f"{old} is now {new}", made=(new,))
