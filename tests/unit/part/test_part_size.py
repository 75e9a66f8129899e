"""The size of a part: the diagonal of its box, by Pythagoras."""

from __future__ import annotations

import pytest

from sketcher.part.edits.draft import Draft
from sketcher.part.part_size import part_size
from sketcher.part.value import CircleCurve, Part, frozen


def test_the_size_counts_circles() -> None:
    assert part_size(Part()) == 1.0
    assert part_size(Part(points=frozen({"a": (3.0, 3.0)}))) == 1.0
    round_part = Part(points=frozen({"k": (5.0, 5.0)}), curves=frozen({"h": CircleCurve("k", 3.0)}))
    assert part_size(round_part) == pytest.approx(6.0 * 2.0**0.5)
    assert part_size(Draft(round_part)) == part_size(round_part)
