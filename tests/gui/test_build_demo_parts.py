"""From an empty sheet to the exact geometry of a demo part's file, through the window alone."""

from __future__ import annotations

import pytest

from sketcher.part.kinds import settle_sides
from sketcher.part.text import read
from sketcher.shipped import shipped
from sketcher.solve import solve
from tests.gui.driver import Driver
from tests.gui.rebuild import Rebuild

pytestmark = [pytest.mark.e2e, pytest.mark.slow]


@pytest.mark.parametrize("name", ["gate-strap", "shift-arm"])
def test_a_demo_part_is_built_to_its_exact_geometry(driver: Driver, name: str) -> None:
    data = shipped("demo_parts", f"{name}.profile.json").read_bytes()
    rough = settle_sides(read(data))
    exact = solve(rough).part
    made = Rebuild(driver, rough)
    made.build()
    loose = [each.point for each in driver.board.report.loose]
    assert (driver.board.report.state, loose) == ("bound", [])
    size = max(abs(v) for at in exact.points.values() for v in at)
    # The fixed point stands where it was clicked; all others are counted from it.
    fixed = next(b.of[0] for b in rough.bindings.values() if b.kind == "fixed")
    x, y = driver.board.part.points[made.names[fixed]]
    dx, dy = x - exact.points[fixed][0], y - exact.points[fixed][1]
    for point, at in exact.points.items():
        found = driver.board.part.points[made.names[point]]
        assert found == pytest.approx((at[0] + dx, at[1] + dy), abs=1e-9 * size), point
    while driver.board.history.can_undo:
        driver.act("edit.undo")
    assert driver.board.part.curves == {}
