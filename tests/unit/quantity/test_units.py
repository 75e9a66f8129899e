"""The inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""

from __future__ import annotations

import pytest

from sketcher.quantity.units import convert


def test_the_inch() -> None:
    assert convert(1.0, "in", "mm") == 25.4
    assert convert(25.4, "mm", "in") == 1.0
    assert convert(1 / 64, "in", "mm") == 0.396875


@pytest.mark.parametrize("unit", ["mm", "cm", "m", "in"])
def test_a_unit_to_itself_changes_nothing(unit: str) -> None:
    assert convert(0.1 + 0.2, unit, unit) == 0.1 + 0.2


def test_others() -> None:
    assert convert(2.0, "m", "cm") == 200.0
    assert convert(1.0, "m", "in") == pytest.approx(1000 / 25.4, rel=1e-15)
