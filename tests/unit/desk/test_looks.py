"""Contrast of both looks: text at least 4.5:1, lines at least 3:1 (WCAG 2.2, SC 1.4.3, 1.4.11)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path

import pytest
from PySide6.QtGui import QPalette

import sketcher.desk
from sketcher.desk.looks import LINE, LOOKS, PAIRS, TEXT, Look
from sketcher.desk.theme import palette, style_sheet
from tests.contrast import contrast, luminance

COLOURS = {field.name for field in fields(Look)} - {"name", "label", "dark"}
USE = re.compile(r"\blook\.([a-z_]+)")


@pytest.mark.parametrize("name", sorted(LOOKS))
@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: f"{pair[0]}-{pair[1]}")
def test_a_pair_stands_out(name: str, pair: tuple[str, str, float]) -> None:
    look = LOOKS[name]
    ink, ground, least = pair
    assert contrast(getattr(look, ink), getattr(look, ground)) >= least


def test_every_colour_is_in_a_pair_and_used() -> None:
    paired = {colour for ink, ground, _ in PAIRS for colour in (ink, ground)}
    assert paired == COLOURS
    used: set[str] = set()
    for path in Path(sketcher.desk.__file__).parent.rglob("*.py"):
        used |= set(USE.findall(path.read_text("utf-8")))
    assert not COLOURS - used, "listed, but painted nowhere"


def rules(look: Look) -> Iterator[tuple[str, dict[str, str]]]:
    """Yield each selector of the style sheet with what it sets, the base rule's first."""
    seen: dict[str, dict[str, str]] = {}
    for heads, body in re.findall(r"([^{}]+)\{([^{}]*)\}", style_sheet(look)):
        said = dict(re.findall(r"([a-z-]+):\s*([^;]+);", body))
        for head in heads.split(","):
            base = re.sub(r"(:[a-z]+|\[[^]]*\])+$", "", head.strip())
            seen[head.strip()] = {**seen.get(base, {}), **said}
            yield head.strip(), seen[head.strip()]


@pytest.mark.parametrize("name", sorted(LOOKS))
def test_every_rule_of_the_style_sheet_reads(name: str) -> None:
    """Words on what they lie on, in each state that has a rule; the pane where no ground is set."""
    look, seen = LOOKS[name], 0
    for head, said in rules(look):
        ground = said.get("background", "transparent")
        if not ground.startswith("#"):
            ground = look.digits_ground if "#readout" in head else look.pane
        if said.get("color", "").startswith("#"):
            seen += 1
            assert contrast(said["color"], ground) >= TEXT, head
    assert seen > 20


@pytest.mark.parametrize("name", sorted(LOOKS))
@pytest.mark.parametrize("state", ["Active", "Inactive", "Disabled"])
def test_every_role_of_the_palette_reads(name: str, state: str) -> None:
    colours, roles = palette(LOOKS[name]), QPalette.ColorRole
    for ink, ground in (
        (roles.WindowText, roles.Window), (roles.Text, roles.Base),
        (roles.ButtonText, roles.Button),
        (roles.Text, roles.AlternateBase), (roles.HighlightedText, roles.Highlight),
        (roles.ToolTipText, roles.ToolTipBase), (roles.PlaceholderText, roles.Base),
        (roles.Link, roles.Window), (roles.Link, roles.Base), (roles.BrightText, roles.Window),
    ):
        group = QPalette.ColorGroup[state]
        pair = (colours.color(group, role).name() for role in (ink, ground))
        assert contrast(*pair) >= TEXT, (ink, ground)


@pytest.mark.parametrize("name", sorted(LOOKS))
def test_the_outline_outshines_dimensions_and_the_grid_stays_behind(name: str) -> None:
    look = LOOKS[name]
    outline, lines, grid = (contrast(c, look.sheet) for c in (look.ink, look.dim_lines,
                                                              look.grid_strong))
    assert outline > 3.0 * lines
    assert lines > 2.0 * grid
    assert contrast(look.dim_lines, look.sheet) < contrast(look.quiet, look.sheet)
    assert grid < LINE


@pytest.mark.parametrize("name", sorted(LOOKS))
def test_loose_and_sound_are_of_different_hues(name: str) -> None:
    """More than 30 degrees of hue apart: blue and bluish green of Okabe and Ito are 38."""
    from PySide6.QtGui import QColor

    loose, good = (QColor(c).hue() for c in (LOOKS[name].loose, LOOKS[name].good))
    assert min(abs(loose - good), 360 - abs(loose - good)) > 30


def test_contrast_of_known_colours() -> None:
    # WCAG 2.1: black on white is 21:1; #777777 on white is 4.48:1 (WebAIM's published example).
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)
    assert luminance("#ffffff") == pytest.approx(1.0)


@pytest.mark.parametrize("name", sorted(LOOKS))
def test_the_half_outshines_its_reflection(name: str) -> None:
    look = LOOKS[name]
    assert contrast(look.ink, look.sheet) > 1.5 * contrast(look.quiet, look.sheet)
