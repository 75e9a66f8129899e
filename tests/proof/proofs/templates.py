"""The sheets of a full-size template, laid together as somebody lays them, are the part.

Random plates, demo parts and their back sides are printed on paper of both practices; the PDF is
read by pdfplumber, the part from its cutting file by GDAL. Sheets are laid together by the register
marks that they share (`tests/template_reader.py`).
"""

from __future__ import annotations

import json
from pathlib import Path

import shapely.affinity

from tests.demo_parts import SOUND
from tests.proof import cut_reader
from tests.proof.command import command
from tests.proof.plates import sound_plate
from tests.proof.proof import Proof
from tests.proof.tally import Case
from tests.template_reader import BAND, TileSheet, judged, laid_together, read_template

PAPERS = {"mm": ("A4", "letter", "A3"), "in": ("A0", "E")}
"""Plates in inches are as many inches large as those in mm are mm."""
STEPS = {"mm": 0.5, "in": 0.1}
"""Degrees of a chord of GDAL: 0.002 mm off an arc of 200 mm, or one of 5 m."""
SIMPLER = 0.002
"""mm by which chords of small holes, of which there are thousands, may be fewer."""
SHORT = 0.01
"""Scale of the cases in the default tests."""


def one_template(case: Case) -> None:
    path = case.folder / "part.profile.json"
    if case.number % 8 == 7:
        given = SOUND[case.number // 8 % len(SOUND)].read_text(encoding="utf-8")
        paper = case.random.choice(("A4", "letter"))
    else:
        tree = sound_plate(case.random).tree()
        while case.scale <= SHORT and tree["unit"] == "in":  # as many sheets take seconds to read
            tree = sound_plate(case.random).tree()
        given, paper = json.dumps(tree), case.random.choice(PAPERS[tree["unit"]])
    path.write_text(given, encoding="utf-8")
    mirrored = case.random.random() < 0.3
    cut, out = case.folder / "cut.dxf", case.folder / "template.pdf"
    words = ("--mirrored",) if mirrored else ()
    said = command("export", path, "--cut", cut, "--template", out, "--paper", paper, *words)
    how = f"case {case.number}: {paper}{', mirrored' if mirrored else ''}"
    if said.status:
        case.tally.fault("not written", f"{how}: {said.err}")
        return
    judge(case, how, cut, out, mirrored)


def judge(case: Case, how: str, cut: Path, out: Path, mirrored: bool) -> None:
    """Compare the sheets with the cutting file and with each other."""
    sheets = read_template(out)
    case.tally.count("templates")
    case.tally.count("sheets", len(sheets))
    unit, factor = ("in", 25.4) if cut_reader.insunits(cut) == "1" else ("mm", 1.0)
    shapes = [shapely.affinity.scale(shape, -factor if mirrored else factor, factor,
                                     origin=(0.0, 0.0))
              for _, shape in cut_reader.contours(cut, STEPS[unit])]
    shapes = [shape.simplify(SIMPLER) for shape in shapes]
    strokes, _, gape = laid_together(sheets)
    found = judged(shapes, strokes)
    case.tally.worst("mm off", found.worst)
    case.tally.worst("mm that marks gape", gape)
    if found.contours != len(shapes) or found.worst > BAND:
        case.tally.fault("not the part", f"{how}: {found}")
    if gape > 0.01:
        case.tally.fault("apart", f"{how}: marks gape by {gape:.3f} mm")
    for sheet in sheets:
        looked_at(case, f"{how}, {sheet.name}", sheet)


def looked_at(case: Case, how: str, sheet: TileSheet) -> None:
    """Measure the bars of one sheet, and look whether a line runs through a letter."""
    bars = sheet.bars()
    true = {name: ticks[-1] for name, ticks in bars.items()}
    if len(bars) != 4 or any(abs(true[name] - (100.0 if name.endswith("mm") else 101.6)) > 0.05
                             for name in true):
        case.tally.fault("bars", f"{how}: {true}")
    if sheet.covered():
        case.tally.fault("covered", f"{how}: {sheet.covered()}")


PROOF = Proof(
    "templates", "the sheets of a full-size template, laid together, are the part within 0.05 mm",
    "templates", ("not written", "not the part", "apart", "bars", "covered"), whole=240, short=2,
    case=one_template, limit=120.0, short_scale=SHORT, minutes=9.0,
)
