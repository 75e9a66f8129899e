"""Add a parameter or change one."""

from __future__ import annotations

from sketcher.part.check import check_values
from sketcher.part.edited import Edited
from sketcher.part.value import Part


def set_parameter(part: Part, name: str, text: str) -> Edited:
    """Give a parameter an expression; a new name is added at the end.

    Raises
    ------
    QuantityError
        When the name cannot be used, the expression cannot be evaluated, parameters would go round
        in a circle, or a dimension would come out wrong; the place names it.
    """
    text = text.strip()
    if part.parameters.get(name) == text:
        return Edited(part, f"{name} stays {text}")
    after = part.having(parameters={**part.parameters, name: text})
    check_values(after)
    return Edited(after, f"{name} = {text}", made=(name,))
