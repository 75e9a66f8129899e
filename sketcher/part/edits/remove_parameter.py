"""Take a parameter away that nothing uses."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.expressions import users_of
from sketcher.part.value import Part


def remove_parameter(part: Part, name: str) -> Edited:
    """Remove a parameter.

    Raises
    ------
    EditError
        When there is none of this name, or something uses it.
    """
    if name not in part.parameters:
        raise EditError(f"parameters.{name}", "no parameter of this name", "choose another")
    users = users_of(part, name)
    if users:
        raise EditError(f"parameters.{name}", f"is used by {', '.join(users[:5])}",
                        "change what uses it first")
    rest = {key: text for key, text in part.parameters.items() if key != name}
    return Edited(part.having(parameters=rest), f"removed {name}")
