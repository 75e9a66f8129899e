"""The two looks as plain colours: metal under layout dye, and paper; with their contrast.

States use the colour-blind-safe palette of Okabe and Ito (Color Universal Design, 2008), always
after a line style and a mark that tell the same.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Look:
    """Colours of one look, each ``#rrggbb``.

    `sheet` is the ground of the scene; `ink` the bound outline; `quiet` the reflection and the
    pattern instances; `scribe` the layout lines; `dims` and `reference` the numbers of dimensions,
    `dim_lines` their lines; `halo` and `hover` the bands under what is chosen or pointed at;
    `pane`, `field`, `raised` the grounds of the panes, of typed fields and of buttons; `text`,
    `faint` and `idle` (what cannot be used now) what is written on them; `digits_ground`,
    `digits_edge`, `digits` and `held` the readout. What of these meets is in `PAIRS`.
    """

    name: str
    label: str
    dark: bool
    sheet: str
    grid: str
    grid_strong: str
    ink: str
    quiet: str
    scribe: str
    axis: str
    loose: str
    clash: str
    halo: str
    hover: str
    preview: str
    guide: str
    dims: str
    dim_lines: str
    reference: str
    glyph: str
    card: str
    card_text: str
    pane: str
    field: str
    raised: str
    text: str
    faint: str
    idle: str
    edge: str
    focus: str
    chosen: str
    chosen_text: str
    good: str
    bad: str
    digits_ground: str
    digits_edge: str
    digits: str
    held: str


DYE = Look(
    name="dye", label="Layout dye", dark=True,
    sheet="#1e1a4f", grid="#2b2767", grid_strong="#3b367b",
    ink="#f7f4ea", quiet="#a9a5d8", scribe="#9a94dc", axis="#c9b8f0",
    loose="#56b4e9", clash="#ff9a4d", halo="#a08a1e", hover="#8f7ac8",
    preview="#f0e442", guide="#d58fb6", dims="#cfcbf2", dim_lines="#7d78bb", reference="#b4aee6",
    glyph="#e3dfff", card="#120f36", card_text="#f7f4ea",
    pane="#191640", field="#110e30", raised="#2b2766", text="#f1eefc", faint="#b9b4e0",
    idle="#a19cd6", edge="#7d77c9", focus="#f0e442", chosen="#4a43a0", chosen_text="#ffffff",
    good="#6fdcb8", bad="#ffad6b",
    digits_ground="#0d0b26", digits_edge="#6f69b8", digits="#ffd479", held="#f0e442",
)

PAPER = Look(
    name="paper", label="Paper", dark=False,
    sheet="#fbf9f3", grid="#ebe7dc", grid_strong="#d8d2c3",
    ink="#16151c", quiet="#77737f", scribe="#7d6aa8", axis="#6a4c93",
    loose="#0072b2", clash="#c24a00", halo="#2a83b8", hover="#b8628f",
    preview="#005f96", guide="#a3487a", dims="#3f3c4a", dim_lines="#858290", reference="#6b6676",
    glyph="#4a3f7a", card="#322c4d", card_text="#ffffff",
    pane="#f1eee6", field="#ffffff", raised="#e3dfd3", text="#1b1a22", faint="#5a5665",
    idle="#66615b", edge="#7d7872", focus="#5b3fa8", chosen="#5b4a9c", chosen_text="#ffffff",
    good="#00664b", bad="#a83c00",
    digits_ground="#e9e4d4", digits_edge="#7d7872", digits="#2a2533", held="#00507d",
)

LOOKS = {look.name: look for look in (DYE, PAPER)}

TEXT, LINE = 4.5, 3.0
"""Least contrast of words and of lines that tell something (WCAG 2.2, 1.4.3 and 1.4.11)."""

PAIRS: tuple[tuple[str, str, float], ...] = (
    # What is drawn on the sheet.
    *((ink, "sheet", LINE) for ink in (
        "ink", "quiet", "scribe", "axis", "loose", "clash", "halo", "hover", "preview", "guide",
        "dim_lines", "glyph", "focus")),
    *((ink, "sheet", TEXT) for ink in ("dims", "reference", "clash")),
    ("ink", "halo", LINE), ("ink", "hover", LINE), ("card_text", "card", TEXT),
    # Panes, fields and buttons, in every state.
    *((ink, ground, TEXT) for ink in ("text", "faint", "idle") for ground in (
        "pane", "field", "raised")),
    *((ink, ground, TEXT) for ink in ("good", "bad") for ground in ("pane", "field", "raised")),
    ("focus", "pane", TEXT), ("focus", "field", TEXT), ("focus", "raised", LINE),
    ("focus", "chosen", 1.0), ("chosen_text", "chosen", TEXT), ("clash", "chosen", 1.0),
    *(("edge", ground, LINE) for ground in ("pane", "field")), ("edge", "raised", 1.0),
    ("edge", "card", 1.0), ("preview", "field", LINE), ("glyph", "pane", TEXT),
    # The readout.
    ("digits", "digits_ground", TEXT), ("held", "digits_ground", TEXT),
    ("digits_edge", "digits_ground", LINE), ("idle", "digits_ground", TEXT),
    # The grid is there and no more.
    ("grid", "sheet", 1.15), ("grid_strong", "sheet", 1.4),
)
"""Which colour stands on which, and the least contrast of the two; 1.0 where nothing is told."""
