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
    pattern instances; `scribe` the layout lines; `pane`, `field`, `raised` the grounds of the
    panes, of typed fields and of buttons; `text` and `faint` what is written on them.
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
    reference: str
    glyph: str
    motion: str
    card: str
    card_text: str
    pane: str
    field: str
    raised: str
    text: str
    faint: str
    edge: str
    focus: str
    chosen: str
    chosen_text: str
    good: str
    bad: str
    digits_ground: str
    digits: str
    held: str


DYE = Look(
    name="dye", label="Layout dye", dark=True,
    sheet="#1e1a4f", grid="#2a2663", grid_strong="#3a3579",
    ink="#f7f4ea", quiet="#a9a5d8", scribe="#9a94dc", axis="#c9b8f0",
    loose="#4fd0a8", clash="#ff9a4d", halo="#f0e442", hover="#7f79c9",
    preview="#f0e442", guide="#c79fe0", dims="#cfcbf2", reference="#b4aee6",
    glyph="#e3dfff", motion="#56d0a8", card="#120f36", card_text="#f7f4ea",
    pane="#191640", field="#110e30", raised="#2b2766", text="#f1eefc", faint="#b9b4e0",
    edge="#6f69b8", focus="#f0e442", chosen="#4a43a0", chosen_text="#ffffff",
    good="#6fdcb8", bad="#ffad6b",
    digits_ground="#0d0b26", digits="#ffd479", held="#f0e442",
)

PAPER = Look(
    name="paper", label="Paper", dark=False,
    sheet="#fbf9f3", grid="#ebe7dc", grid_strong="#d8d2c3",
    ink="#16151c", quiet="#77737f", scribe="#7d6aa8", axis="#6a4c93",
    loose="#007a5a", clash="#c24a00", halo="#56b4e9", hover="#b6a8d8",
    preview="#0072b2", guide="#8a4f9e", dims="#3f3c4a", reference="#6b6676",
    glyph="#4a3f7a", motion="#007a5a", card="#322c4d", card_text="#ffffff",
    pane="#f1eee6", field="#ffffff", raised="#e3dfd3", text="#1b1a22", faint="#5a5665",
    edge="#85807a", focus="#5b3fa8", chosen="#5b4a9c", chosen_text="#ffffff",
    good="#00664b", bad="#a83c00",
    digits_ground="#2b2740", digits="#ffe2a6", held="#f0e442",
)

LOOKS = {look.name: look for look in (DYE, PAPER)}
