"""Unit vectors against numpy's norm."""

from __future__ import annotations

import numpy as np
import pytest

from sketcher.geometry.vectors import normalized


@pytest.mark.parametrize("vector", [(3.0, -4.0), (-1e-200, 1e-200), (2e200, 1e200), (0.0, -7.0)])
def test_a_vector_keeps_its_way_and_has_length_one(vector: tuple[float, float]) -> None:
    unit = normalized(vector)
    assert np.linalg.norm(unit) == pytest.approx(1.0, abs=1e-15)
    scaled = np.divide(vector, np.abs(vector).max())  # numpy's norm squares and would overflow
    assert unit == pytest.approx(scaled / np.linalg.norm(scaled), abs=1e-15)


def test_a_vector_without_length_has_no_way() -> None:
    assert normalized((0.0, 0.0)) == (0.0, 0.0)
