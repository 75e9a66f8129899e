"""Bind points and curves."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.errors import EditError
from sketcher.part.check import check_value
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import KINDS, bind
from sketcher.part.value import Part


def add_binding(
    part: Part,
    kind: str,
    ids: Sequence[str],
    value: str | None = None,
    drives: bool = True,
    name: str | None = None,
) -> Edited:
    """Add a binding; operands are put in order, the side is taken from where the geometry stands.

    Parameters
    ----------
    part : Part
        The part.
    kind : str
        A name of `part.kinds.KINDS`.
    ids : sequence of str
        Points and curves in any order.
    value : str, optional
        Expression; without one a dimension takes what it measures now.
    drives : bool
        False makes a reference dimension.
    name : str, optional
        Id to give.

    Raises
    ------
    EditError
        When the kind does not fit, or the same was said already.
    QuantityError
        When the value cannot be evaluated or is not positive.
    """
    binding = bind(part, kind, ids, value, drives)
    phrase = KINDS[kind].phrase(binding.of)
    check_value(part, binding, phrase)
    for other, said in part.bindings.items():
        if said.kind == kind and set(said.of) == set(binding.of) and said.drives and drives:
            raise EditError(phrase, f"was said already as {other}",
                            f"change {other}, or make this a reference dimension")
    draft = Draft(part)
    made = draft.binding(binding, name)
    told = phrase if binding.value is None else f"{phrase} is {binding.value}"
    return Edited(draft.done(), told, made=(made,))
