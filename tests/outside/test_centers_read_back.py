"""Center lines of written sheets, read back from SVG, PDF and DXF and judged by the rules."""

from __future__ import annotations

import pytest

from sketcher.drafting.sheet import pages
from sketcher.exchange.sheet_file import WRITERS
from sketcher.geometry.curves import Circle
from sketcher.part.atomic import write_bytes
from sketcher.part.whole import whole
from tests.hole_plates import plate
from tests.seldom import some_of
from tests.sheet_checker import GAP, check_ends, check_marks, check_no_overlap
from tests.sheet_reader import read_dxf, read_pdf, read_svg

OVERHANG = 3.0


def practice_of(seed: int) -> str:
    return "ASME" if seed % 2 else "ISO"


def written(part, path):
    """The pages of a part, written once and given back."""
    drawn = pages(part)
    WRITERS[path.suffix](drawn, path, write_bytes)
    return drawn


def hole_centers(part, factor=1.0, at=(0.0, 0.0)):
    return [(factor * p.curve.center[0] + at[0], factor * p.curve.center[1] + at[1],
             factor * p.curve.radius)
            for p in whole(part) if isinstance(p.curve, Circle) and p.role == "outline"]


@pytest.mark.parametrize("batch", some_of(range(30), lambda batch: batch % 30 == 0))
def test_random_plates_in_svg(batch: int, tmp_path) -> None:
    """300 plates: no overlap, plus clear on four sides, even overhang, each hole marked."""
    even = 0
    for seed in range(10 * batch, 10 * batch + 10):
        practice = practice_of(seed)
        part = plate(seed, practice)
        view = written(part, tmp_path / "sheet.svg")[0].view
        ink = read_svg(tmp_path / "sheet.svg")
        dashes = ink.of("center")
        check_no_overlap(dashes)
        check_marks(dashes, hole_centers(part, 1.0, (view.dx, view.dy)), GAP[practice])
        even += check_ends(dashes, ink.of("visible"), practice, OVERHANG)
    assert even > 10  # most ends are free ones


@pytest.mark.parametrize("seed", some_of(range(0, 300, 12), lambda seed: seed % 60 == 0))
def test_the_same_plates_in_dxf(seed: int, tmp_path) -> None:
    practice = practice_of(seed)
    part = plate(seed, practice)
    written(part, tmp_path / "sheet.dxf")
    ink = read_dxf(tmp_path / "sheet.dxf", 1.0)
    dashes = ink.of("center")
    check_no_overlap(dashes)
    check_marks(dashes, hole_centers(part), GAP[practice])
    check_ends(dashes, ink.of("visible"), practice, OVERHANG)


@pytest.mark.parametrize("seed", some_of(range(3, 300, 12), lambda seed: seed % 60 == 3))
def test_the_same_plates_in_pdf(seed: int, tmp_path) -> None:
    practice = practice_of(seed)
    part = plate(seed, practice)
    view = written(part, tmp_path / "sheet.pdf")[0].view
    ink = read_pdf(tmp_path / "sheet.pdf")
    x1, y1 = view.point(part.points["p3"])
    dashes = [d for d in ink.of("narrow")
              if view.dx - 20 < d.start[0] < x1 + 20 and view.dy - 20 < d.start[1] < y1 + 20]
    outline = [d for d in ink.of("wide")
               if view.dx - 1 < d.start[0] < x1 + 1 and view.dy - 1 < d.start[1] < y1 + 1]
    check_no_overlap(dashes)
    check_marks(dashes, hole_centers(part, 1.0, (view.dx, view.dy)), GAP[practice])
    check_ends(dashes, outline, practice, OVERHANG)
