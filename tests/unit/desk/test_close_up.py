"""How near the sheet goes: with context, never too near to see, never a whole long curve."""

from __future__ import annotations

import pytest

from sketcher.desk.scene.close_up import CONTEXT, SEEN, WHOLE, close_up

PART = (0.0, 0.0, 120.0, 60.0)


def test_a_small_place_keeps_a_quarter_of_the_part_around_it() -> None:
    x0, y0, x1, y1 = close_up((30.0, 20.0, 31.0, 21.0), (30.5, 20.5), 0.001, PART)
    assert (x1 - x0, y1 - y0) == pytest.approx((CONTEXT * 120.0, CONTEXT * 120.0))
    assert (0.5 * (x0 + x1), 0.5 * (y0 + y1)) == pytest.approx((30.5, 20.5))


def test_curves_are_shown_whole_unless_they_are_long() -> None:
    x0, _, x1, _ = close_up((10.0, 10.0, 60.0, 20.0), (12.0, 12.0), 0.0, PART)
    assert x0 < 10.0 < 60.0 < x1
    x0, y0, x1, y1 = close_up((0.0, 10.0, 120.0, 20.0), (12.0, 12.0), 0.0, PART)
    assert x1 - x0 == pytest.approx(WHOLE * 120.0)
    assert (0.5 * (x0 + x1), 0.5 * (y0 + y1)) == pytest.approx((12.0, 12.0))


def test_a_wide_gap_is_not_cut() -> None:
    x0, _, x1, _ = close_up(None, (12.0, 12.0), 20.0, PART)
    assert x1 - x0 == pytest.approx(SEEN * 20.0)


def test_nothing_known_is_the_whole_part() -> None:
    assert close_up(None, None, 0.0, PART) == PART
