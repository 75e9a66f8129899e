"""Files that other programs wrote, taken in by the command; areas against GDAL's reading.

GDAL draws arcs in chords of a quarter degree, which leaves 3.2e-6 of a circle's area; 2e-4 is what
the import promises.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.damage.foreign_area import plates
from tests.damage.taking import taken_in
from tests.shared_files import shared

FILES = shared("dxf", "*.dxf")
WHOLE = ("blocks", "broken-loop", "loose-circle", "outline.r12", "outline.r2010", "rings-in",
         "tabs-mm", "types")
"""Files whose closed outlines all come back; those with free curves are missing yet."""
MOST_APART = 2e-4
pytestmark = pytest.mark.skipif(not FILES, reason="the files of others are not there")


def quick(path: Path) -> bool:
    """Neither large nor the same drawing as another."""
    return path.stem not in ("mixed.r14", "mixed.r2000", "mixed.r2007", "tray-mm-with-notes",
                             "wheels-in")


@pytest.mark.parametrize("path", [path for path in FILES if quick(path)],
                         ids=lambda path: path.stem)
def test_a_foreign_file_is_taken_in_or_refused_in_a_line(path: Path, tmp_path: Path) -> None:
    found = taken_in(path, tmp_path / "out.profile.json")
    assert not found.traceback, found.said
    assert found.code in (0, 1, 2)
    if found.code == 2:
        assert found.said.startswith(f"sketcher: {path}")
        assert found.said.count("\n") == 1
        assert list(tmp_path.iterdir()) == []
        return
    assert found.record["sound"] == (found.code == 0)
    for part in found.record["parts"]:
        assert Path(part["file"]).exists()


@pytest.mark.parametrize("path", [path for path in FILES if path.stem in WHOLE],
                         ids=lambda path: path.stem)
def test_every_closed_outline_is_a_part_with_its_area(path: Path, tmp_path: Path) -> None:
    parts = taken_in(path, tmp_path / "out.profile.json").record["parts"]
    areas = sorted((part["area"] for part in parts if part["area"] > 0.0), reverse=True)
    wanted = plates(path)
    assert wanted
    assert areas == pytest.approx(wanted, rel=MOST_APART)
    assert all(part["freedoms"] == 0 and part["doubled"] == [] for part in parts)
