"""The number of each dimension, by which drawing and inspection record name it alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sketcher.drafting.measured.paper_measures import Measured


def numbered(found: Sequence[Measured]) -> dict[str, str]:
    """Return the numbers of dimensions by their ids, from 1 in their order.

    A mark without a number, such as the ``R`` of a slot's ends, says nothing to be inspected.
    """
    says = [one.id for one in found if any(letter.isdigit() for letter in _value(one))]
    return {name: str(number) for number, name in enumerate(says, 1)}


def with_balloons(found: Sequence[Measured]) -> tuple[Measured, ...]:
    """Return dimensions with their numbers beside them."""
    numbers = numbered(found)
    return tuple(replace(one, wording=replace(one.wording, balloon=numbers.get(one.id, "")))
                 for one in found)


def _value(one: Measured) -> str:
    """Return what is said without the number of places."""
    head, _, rest = one.wording.main.partition(" ")
    return rest if head.strip("(")[:-1].isdigit() and head[-1:] in "xX" else one.wording.main
