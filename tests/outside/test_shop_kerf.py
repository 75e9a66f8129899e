"""Contours offset by the kerf against shapely's buffer of fine chords; a plasma's kerf."""

from __future__ import annotations

from itertools import combinations, pairwise
from pathlib import Path

import pytest
import shapely

from sketcher.geometry.curves import Line
from sketcher.part.store import load
from sketcher.shop.cut_plan import CutContour
from sketcher.shop.kerf import KerfFault, along_scrap, offset_by_kerf
from sketcher.shop.planning import plan_cut
from tests.buffered import share_off, too_narrow
from tests.chords import facet
from tests.demo_parts import SOUND
from tests.inspected import inspected


def chorded(contour: CutContour, sagitta: float) -> shapely.Polygon:
    places = [place for curve in contour.curves for place in facet(curve, sagitta)[:-1]]
    return shapely.Polygon(places)


SOME = [path for path in SOUND if path.name.startswith(("gate", "shelf", "shift"))]
"""All of them, and random plates, are in the proof of the kerf."""


@pytest.mark.parametrize("path", SOME, ids=lambda path: path.stem.split(".")[0])
def test_every_contour_of_a_demo_part_is_its_buffer(path: Path) -> None:
    inspection = inspected(load(path))
    kerf = 1.5 if inspection.part.unit == "mm" else 1.5 / 25.4
    nominal = plan_cut(inspection).finished
    ways, _ = offset_by_kerf(nominal, kerf, inspection.part.unit)
    assert share_off([(one, one.hole) for one in nominal], ways, kerf, chorded) < 1e-6
    edges = [chorded(way, 0.01 * kerf).exterior for way in ways]
    assert not any(a.intersects(b) for a, b in combinations(edges, 2))


@pytest.mark.parametrize("kerf", [0.6, 1.4, 2.2, 3.0, 3.8])
def test_shapely_agrees_on_what_is_too_narrow(kerf: float) -> None:
    """A hole of two chambers, and an outside with a pocket; both are 2 wide at their narrowest."""
    waist = [(0, 0), (8, 0), (8, 3), (12, 3), (12, 0), (20, 0), (20, 8), (12, 8), (12, 5), (8, 5),
             (8, 8), (0, 8)]
    pocket = [(0, 0), (0, 20), (9, 20), (9, 16), (5, 16), (5, 8), (15, 8), (15, 16), (11, 16),
              (11, 20), (20, 20), (20, 0)]
    for places, hole in ((waist, True), (pocket, False)):
        lines = tuple(Line(a, b) for a, b in pairwise((*places, places[0])))
        contour = CutContour(tuple(map(str, range(12))), lines, hole, int(hole))
        way = along_scrap(contour, kerf)
        assert isinstance(way, KerfFault) == too_narrow(shapely.Polygon(places), hole, kerf)
        assert isinstance(way, KerfFault) == (kerf > 2.0)
