"""Contrast of both looks: text at least 4.5:1, lines at least 3:1 (WCAG 2.1, SC 1.4.3, 1.4.11)."""

from __future__ import annotations

import pytest

from sketcher.desk.looks import LOOKS
from tests.contrast import contrast, luminance

# What is written on what, and which lines run over which ground.
TEXT_PAIRS = (
    ("text", "pane"), ("text", "field"), ("text", "raised"), ("faint", "pane"), ("faint", "field"),
    ("chosen_text", "chosen"), ("good", "pane"), ("bad", "pane"), ("bad", "field"),
    ("good", "field"), ("digits", "digits_ground"), ("held", "digits_ground"),
    ("dims", "sheet"), ("reference", "sheet"), ("card_text", "card"), ("clash", "sheet"),
)
LINE_PAIRS = (
    ("ink", "sheet"), ("quiet", "sheet"), ("scribe", "sheet"), ("axis", "sheet"),
    ("loose", "sheet"), ("clash", "sheet"), ("preview", "sheet"), ("guide", "sheet"),
    ("glyph", "sheet"), ("motion", "sheet"), ("edge", "pane"), ("edge", "field"),
    ("focus", "pane"), ("focus", "field"),
)


@pytest.mark.parametrize("name", sorted(LOOKS))
@pytest.mark.parametrize("pair", TEXT_PAIRS)
def test_text_reads(name: str, pair: tuple[str, str]) -> None:
    look = LOOKS[name]
    assert contrast(getattr(look, pair[0]), getattr(look, pair[1])) >= 4.5


@pytest.mark.parametrize("name", sorted(LOOKS))
@pytest.mark.parametrize("pair", LINE_PAIRS)
def test_lines_read(name: str, pair: tuple[str, str]) -> None:
    look = LOOKS[name]
    assert contrast(getattr(look, pair[0]), getattr(look, pair[1])) >= 3.0


def test_contrast_of_known_colours() -> None:
    # WCAG 2.1: black on white is 21:1; #777777 on white is 4.48:1 (WebAIM's published example).
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)
    assert luminance("#ffffff") == pytest.approx(1.0)


@pytest.mark.parametrize("name", sorted(LOOKS))
def test_the_half_outshines_its_reflection(name: str) -> None:
    look = LOOKS[name]
    assert contrast(look.ink, look.sheet) > 1.5 * contrast(look.quiet, look.sheet)
