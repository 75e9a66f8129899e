"""How a dimension's number is printed: what was typed as a fraction, and what is decimal."""

from __future__ import annotations

import pytest

from sketcher.part.edits.draft import Draft
from sketcher.part.printed import Number, printed
from sketcher.part.value import Part


def numbers(*values: str) -> list[Number]:
    draft = Draft(Part(unit="in"))
    names = []
    for place, value in enumerate(values):
        circle = draft.circle((10.0 * place, 0.0), 0.5)
        names.append(draft.bind("diameter", (circle,), value))
    part = draft.done()
    return [printed(part, part.bindings[name]) for name in names]


def test_a_whole_number_is_decimal_unless_fractions_are_typed() -> None:
    # ASME Y14.5M-1994, 1.6.2: decimal inches, as many places as the tolerance has.
    assert numbers("3", ".7") == [Number("3.00", 2), Number(".70", 2)]
    assert numbers("3") == [Number("3.00", 2)]
    assert numbers("3", "1/2", "5/8")[0] == Number("3", None)


@pytest.mark.parametrize("typed", ["3½", "3 1/2", "3-½"])
def test_a_fraction_is_one_however_it_is_written(typed: str) -> None:
    assert numbers(typed) == [Number("3 1/2", None)]


def test_a_decimal_comma_counts_as_the_decimals_that_it_has() -> None:
    assert numbers("0,375", "1,5") == [Number(".375", 3), Number("1.50", 2)]
