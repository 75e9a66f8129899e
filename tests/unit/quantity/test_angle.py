"""Sines that the book gives exactly are exact; the others agree with high precision."""

from __future__ import annotations

import mpmath
import pytest

from sketcher.quantity.exact_angles import cosine, sine, tangent


def test_book_values_are_exact() -> None:
    assert [sine(30.0 * i) for i in (0, 1, 3, 5, 6, 7, 9, 11, 12)] == [
        0, 0.5, 1, 0.5, 0, -0.5, -1, -0.5, 0
    ]
    assert [cosine(a) for a in (0.0, 60.0, 90.0, 120.0, 180.0, 270.0, -60.0)] == [
        1, 0.5, 0, -0.5, -1, 0, 0.5
    ]
    assert (tangent(45.0), tangent(135.0), tangent(-45.0), tangent(0.0)) == (1, -1, -1, 0)


@pytest.mark.parametrize("degrees", [0.1, 13.0, 44.9, 89.999, 123.4, 200.0, 359.0, -77.7, 721.5])
def test_others_agree_with_mpmath(degrees: float) -> None:
    with mpmath.workdps(40):
        angle = mpmath.mpf(degrees) * mpmath.pi / 180
        assert sine(degrees) == pytest.approx(float(mpmath.sin(angle)), rel=4e-15)
        assert cosine(degrees) == pytest.approx(float(mpmath.cos(angle)), rel=4e-14)
        assert tangent(degrees) == pytest.approx(float(mpmath.tan(angle)), rel=4e-14)


def test_a_right_angle_has_no_tangent() -> None:
    for degrees in (90.0, 270.0, -90.0):
        with pytest.raises(ZeroDivisionError):
            tangent(degrees)
