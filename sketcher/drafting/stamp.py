"""The stamp across the pages of a part with findings: nobody takes such a sheet for a drawing.

Its letters are faint, so that what lies over them stays legible, and as large as the paper allows.
The words are our own; that a sheet which must not be worked from is marked right across is common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, degrees, hypot, sin

from sketcher.drafting.lettering import text_width
from sketcher.drafting.paper_sizes import Sheet
from sketcher.drafting.primitives import Item, Text

WORDS = "NOT TO BE MADE"
SOURCE = "sheet:stamp"
SHARE = 0.72  # of the diagonal that a line of it takes at most
SMALL = 0.4  # height of the line of codes by that of the words
MOST = 40.0  # height of the words in mm


def draw_stamp(sheet: Sheet, codes: Sequence[str]) -> list[Item]:
    """Return the stamp along the diagonal above the title block; nothing without codes.

    Parameters
    ----------
    sheet : Sheet
    codes : sequence of str
        Codes of the findings with which the part is drawn.
    """
    if not codes:
        return []
    left, _, right, top = sheet.inner
    bottom = sheet.block[3]
    wide, tall = right - left, top - bottom
    angle = atan2(tall, wide)
    said = ", ".join(dict.fromkeys(codes))
    room = SHARE * hypot(wide, tall)
    height = min(MOST, room / text_width(WORDS, 1.0) / 1.05)
    small = min(SMALL * height, room / text_width(said, 1.0))
    middle = (0.5 * (left + right), 0.5 * (bottom + top))

    def put(text: str, size: float, up: float, bold: bool) -> Text:
        at = (middle[0] - up * sin(angle), middle[1] + up * cos(angle))
        return Text(text, at, size, SOURCE, "center", degrees(angle), bold, faint=True)

    return [put(WORDS, height, 0.15 * height, True),
            put(said, small, -0.25 * height - small, False)]
