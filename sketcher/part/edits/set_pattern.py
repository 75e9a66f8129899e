"""Repeat curves in a grid or around a point."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.pattern_edits import checked
from sketcher.part.value import Part, Pattern


def set_pattern(part: Part, pattern: Pattern, name: str | None = None) -> Edited:
    """Add a pattern, or with the id of one that is there change it.

    Parameters
    ----------
    part : Part
        The part.
    pattern : GridPattern or PolarPattern
        Steps, angle and span are expressions and count as dimensions.
    name : str, optional
        Id of the pattern to change, or a new id to give.

    Returns
    -------
    Edited
        `made` holds the pattern's id.

    Raises
    ------
    EditError
        When it names what is not there, or has too few or too many instances.
    QuantityError
        When one of its expressions cannot be evaluated.
    """
    place = f"patterns.{name}" if name else pattern.kind
    checked(part, pattern, place)
    draft = Draft(part)
    if name is not None and name in part.patterns:
        if part.patterns[name] == pattern:
            return Edited(part, f"{name} stays as it is")
        draft.change_pattern(name, pattern)
    elif name is not None and (name in part.points or name in part.curves or name in part.bindings):
        raise EditError(place, "the id is taken", "choose another")
    else:
        name = draft.pattern(pattern, name)
    said = f"repeated {', '.join(pattern.curves)} as {name}"
    return Edited(draft.done(), said, made=(name,))
