"""Line classes and fitted patterns."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketcher.drafting.line_classes import MOST_REPEATS, fit, line_class, line_classes
from sketcher.errors import SketcherError

CLASSES = {"visible", "hidden", "center", "phantom", "dimension", "extension", "leader", "section",
           "symmetry", "frame", "detail", "break"}
# ISO 128-20 in multiples of d = 0.25 mm: 24 d, 3 d, 0.5 d as quoted to DIN EN ISO 128-20.
ISO_CENTER = (6.0, 0.75, 0.125, 0.75)


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_both_practices_have_every_class_in_two_widths(practice) -> None:
    classes = line_classes(practice)
    assert set(classes) == CLASSES
    # Thick to thin 2:1 in both (ASME Y14.2-2014, 4.1; ISO 128-24).
    assert classes["visible"].width == 2.0 * classes["center"].width


def test_widths_and_elements_of_the_standards() -> None:
    assert line_class("ISO", "center").elements == pytest.approx(ISO_CENTER)
    assert line_class("ISO", "hidden").elements == pytest.approx((3.0, 0.75))  # 12 d, 3 d
    asme = line_classes("ASME")
    assert asme["visible"].width >= 0.6  # ASME Y14.2-2014, 4.1
    assert asme["center"].width >= 0.3


def test_an_unknown_class_or_practice_is_named() -> None:
    with pytest.raises(SketcherError, match="dotted"):
        line_class("ISO", "dotted")
    with pytest.raises(SketcherError, match="drawing"):
        line_classes("own")


@given(st.floats(0.01, 2000.0), st.sampled_from(["center", "phantom", "hidden"]),
       st.sampled_from(["ISO", "ASME"]), st.integers(-3, 3))
def test_a_fitted_pattern_fills_the_length_and_ends_long(length, name, practice, more) -> None:
    line = line_class(practice, name)
    found = fit(length, line, more)
    dashes = found.dashes
    assert dashes[0][0] == 0.0
    assert dashes[-1][1] == pytest.approx(length)
    first, last = (b - a for a, b in (dashes[0], dashes[-1]))
    assert first == pytest.approx(last)
    assert first == pytest.approx(max(b - a for a, b in dashes))
    if found.count:
        assert first >= line.least - 1e-9
        gaps = [b[0] - a[1] for a, b in pairwise(dashes)]
        assert gaps == pytest.approx([line.elements[1]] * len(gaps))
    per_repeat = len(line.elements) // 2
    assert [list(d) for d in dashes[::per_repeat]] == [pytest.approx(d) for d in found.longs()]


def test_the_long_dash_stays_near_the_nominal_one() -> None:
    line = line_class("ISO", "center")
    for length in (40.0, 97.3, 500.0):
        long = fit(length, line).dashes[0][1]
        assert 0.75 * 6.0 < long < 1.35 * 6.0


def test_a_short_line_is_unbroken_and_a_solid_class_too() -> None:
    assert fit(5.0, line_class("ISO", "center")).dashes == ((0.0, 5.0),)
    assert fit(500.0, line_class("ISO", "visible")).dashes == ((0.0, 500.0),)


def test_a_line_beyond_all_paper_has_no_endless_pattern() -> None:
    line = line_class("ISO", "center")
    found = fit(9e8, line)
    assert found.count == MOST_REPEATS
    assert found.dashes[-1][1] == pytest.approx(9e8)
    assert found.rest == pytest.approx(ISO_CENTER[1:])
    # The longest paper in use, a roll of 10 m (common practice, no source), has the usual one.
    assert fit(10_000.0, line).long == pytest.approx(ISO_CENTER[0], rel=0.01)
