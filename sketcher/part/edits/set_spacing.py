"""Change one number of a pattern: a step, a count, an angle."""

from __future__ import annotations

from dataclasses import replace

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.set_pattern import set_pattern
from sketcher.part.spacings import respaced, spacings
from sketcher.part.value import Part


def set_spacing(part: Part, name: str, text: str) -> Edited:
    """Change one number of a pattern.

    Parameters
    ----------
    part : Part
        The part.
    name : str
        Id of the number, such as ``g1.step1``; `sketcher.part.spacings.spacings` lists them.
    text : str
        An expression for a step, an angle or a span, a whole number for a count.

    Raises
    ------
    EditError
        When there is no such number, or a count is not a whole number.
    QuantityError
        When the expression cannot be evaluated.
    """
    found = next((s for s in spacings(part) if s.id == name), None)
    if found is None:
        raise EditError(name, "no pattern has such a number", "choose a step, a count or an angle")
    pattern = respaced(part.patterns[found.pattern], found.field, text)
    edited = set_pattern(part, pattern, found.pattern)
    if edited.part is part:
        return edited
    return replace(edited, said=f"{found.label} of {found.pattern}: {text.strip()}")
