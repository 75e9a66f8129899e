"""Both forms of the cutting file by three readers: a strict one of R12, ezdxf and GDAL.

Areas from the numbers that the first two read by the shoelace formula with segments of circles,
of GDAL's from its chords, extrapolated. Boxes by the quadrants that arcs pass.
"""

from __future__ import annotations

from pathlib import Path

import ezdxf
import pytest

from sketcher.exchange.dxf_cut import FORMS, CutForm, write_cut
from sketcher.inspect.inspection import Inspection
from sketcher.part.store import load
from tests.demo_parts import SOUND as DEMOS
from tests.inspected import inspected
from tests.plates import looked_at
from tests.proof import cut_reader
from tests.r12_reader import Drawn, R12File, loops_of, read_r12
from tests.unit.exchange.test_dxf_cut import obround


@pytest.fixture(scope="module", params=[*DEMOS, None],
                ids=lambda path: path.stem if path else "obround")
def inspection(request: pytest.FixtureRequest) -> Inspection:
    """Each demo part solved, and a plate with slot and hole in inches."""
    return inspected(load(request.param)) if request.param else looked_at(obround("in"))


def by_the_library(path: Path) -> R12File:
    """What ezdxf reads; its numbers go into the same formulas as the strict reader's."""
    document = ezdxf.readfile(path)
    entities = []
    for entity in document.modelspace():
        layer = str(entity.dxf.layer)
        if entity.dxftype() == "CIRCLE":
            (x, y, _), radius = entity.dxf.center, entity.dxf.radius
            entities.append(Drawn("CIRCLE", layer, {10: x, 20: y, 40: radius}))
        elif entity.dxftype() == "LWPOLYLINE":
            entities.append(Drawn("POLYLINE", layer, {70: int(entity.closed)},
                                  entity.get_points("xyb")))
        else:
            entities.append(Drawn("POLYLINE", layer, {70: int(entity.is_closed)},
                                  [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0.0))
                                   for v in entity.vertices]))
    low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
    return R12File([], (low[0], low[1]), (high[0], high[1]), [], entities)


@pytest.mark.parametrize("form", FORMS)
def test_three_readers_find_the_same_area_and_box(
    inspection: Inspection, form: CutForm, tmp_path: Path
) -> None:
    path = tmp_path / "cut.dxf"
    write_cut(inspection, path, form=form)
    area, box = inspection.profile.area, pytest.approx(inspection.profile.bounds, abs=1e-9)
    assert cut_reader.area(path) == pytest.approx(area, rel=1e-8)  # of the extrapolation
    found = [by_the_library(path), *([read_r12(path.read_bytes())] if form == "r12" else [])]
    for each in found:
        assert material(each.entities) == pytest.approx(area, rel=1e-11)
        assert each.box == box
        assert (*each.low, *each.high) == box


def material(entities: list[Drawn]) -> float:
    """Area of the outside contours less the inside ones; each runs as its side asks."""
    for entity in entities:
        assert entity.closed
        assert (entity.area > 0.0) == (entity.layer == "INSIDE")
    return -sum(entity.area for entity in entities)


def test_single_lines_and_arcs_meet_within_a_ten_millionth(
    inspection: Inspection, tmp_path: Path
) -> None:
    write_cut(inspection, tmp_path / "cut.dxf", pieces=True, form="r12")
    found = read_r12((tmp_path / "cut.dxf").read_bytes())
    loops = loops_of(found.entities, 1e-7)
    assert len(loops) == len(inspection.profile.loops)
    assert {entity.kind for entity in found.entities} <= {"LINE", "ARC", "CIRCLE"}


def test_the_librarys_audit_finds_nothing_in_r12(inspection: Inspection, tmp_path: Path) -> None:
    write_cut(inspection, tmp_path / "cut.dxf", form="r12")
    document = ezdxf.readfile(tmp_path / "cut.dxf")
    auditor = document.audit()
    assert (document.dxfversion, auditor.errors, auditor.fixes) == ("AC1009", [], [])
