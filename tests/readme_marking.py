"""Makes the README's picture of a marked sheet: ``python -m tests.readme_marking``.

The hand-in is 08 of the class that ``sketcher demo --class`` writes.
"""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from sketcher.drafting.page import Page
from sketcher.marking.comparing import KeyReady
from sketcher.marking.demo_class import demo_hand_ins, demo_key
from sketcher.marking.hand_in_file import read_hand_in
from sketcher.marking.marked_sheet import sheet_of_view
from sketcher.marking.marked_view import marked_view
from sketcher.marking.marks import marked
from sketcher.marking.rubric import Rubric

PICTURE = Path(__file__).resolve().parents[1] / "resources" / "pictures" / "marked-sheet.png"
NUMBER = "08"
DOTS_PER_INCH = 90.0
COLOURS = 16


def page() -> Page:
    """Return the marked sheet."""
    [one] = [each for each in demo_hand_ins() if each.file.startswith(NUMBER)]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / one.file
        path.write_bytes(one.content)
        hand_in = read_hand_in(path)
    comparison = KeyReady(demo_key(), Rubric()).compare(hand_in)
    [only] = sheet_of_view(marked_view(comparison), marked(comparison, Rubric()), NUMBER)
    return only


def main() -> int:
    """Draw the picture."""
    from PIL import Image

    from sketcher.exchange.pdf import page_image

    with tempfile.TemporaryDirectory() as folder:
        raw = Path(folder) / "picture.png"
        page_image(page(), DOTS_PER_INCH).save(str(raw))
        few = Image.open(raw).convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
        few.save(PICTURE, optimize=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
