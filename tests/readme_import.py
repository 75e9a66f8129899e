"""Makes the README's tour of a drawing from elsewhere: ``python -m tests.readme_import``.

The words are what the command prints over the demo file, the picture is the one that it draws; a
test compares the words.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from contextlib import chdir, redirect_stdout
from io import StringIO
from pathlib import Path

from sketcher import cli

ROOT = Path(__file__).resolve().parents[1]
README = ROOT / "README.md"
DRAWING = "demo_parts/gate-strap-as-received.dxf"
PICTURE = ROOT / "resources" / "pictures" / "import-gate-strap.png"
BEGIN, END = "<!-- import -->", "<!-- end of import -->"
DOTS_PER_INCH, COLOURS = 60.0, 32


def shown() -> str:
    """Run the command over the demo file; return its call and what it prints, set in as code."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / DRAWING).parent.mkdir()
        shutil.copy(ROOT / DRAWING, Path(folder) / DRAWING)
        said = StringIO()
        with chdir(folder), redirect_stdout(said):
            cli.main(["import", DRAWING, "--out", "strap.profile.json"])
    lines = [f"$ sketcher import {DRAWING} --out strap.profile.json", *said.getvalue().split("\n")]
    return "\n".join(f"    {line}".rstrip() for line in lines).rstrip()


def in_readme() -> str:
    """Return what the README shows."""
    return README.read_text(encoding="utf-8").split(BEGIN)[1].split(END)[0].strip("\n")


def draw() -> None:
    """Draw the picture: the file with its repairs marked, beside the sheet of its part."""
    from PIL import Image

    from sketcher.exchange.dxf_read import read_dxf
    from sketcher.exchange.pdf import page_image
    from sketcher.intake.before_after import before_and_after
    from sketcher.intake.take_in import take_in
    from sketcher.intake.wishes import Wishes

    [page] = before_and_after(take_in(read_dxf(ROOT / DRAWING)), Wishes())
    with tempfile.TemporaryDirectory() as folder:
        raw = Path(folder) / "picture.png"
        page_image(page, DOTS_PER_INCH).save(str(raw))
        few = Image.open(raw).convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
        few.save(PICTURE, optimize=True)


def main() -> int:
    """Make words and picture anew."""
    before, rest = README.read_text(encoding="utf-8").split(BEGIN)
    after = rest.split(END)[1]
    README.write_text(f"{before}{BEGIN}\n\n{shown()}\n\n{END}{after}", encoding="utf-8")
    draw()
    return 0


if __name__ == "__main__":
    sys.exit(main())
