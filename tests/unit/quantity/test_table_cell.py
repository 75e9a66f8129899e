"""Cells of a table that a spreadsheet opens; formulas are tried where tables are made of names."""

from __future__ import annotations

import pytest

from sketcher.quantity.table_cell import safe_cell


@pytest.mark.parametrize("text", ["-12.5", "+0,1", "12", "Ø12", "R4", "30°", "gap of 0.3", "96-4"])
def test_values_stay_as_they_are(text: str) -> None:
    assert safe_cell(text) == text
