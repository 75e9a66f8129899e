"""From an empty sheet to the exact geometry of a demo part's file, through the window alone."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.part.file_text import read
from sketcher.part.kinds import settle_sides
from sketcher.part.value import Part
from sketcher.part.whole import whole
from sketcher.shipped import shipped
from sketcher.solve import solve
from tests.gui.driver import Driver
from tests.gui.rebuild import Rebuild
from tests.seldom import some_of

pytestmark = [pytest.mark.e2e, pytest.mark.slow]

BETWEEN = 0.65  # of the axis: between the cut-out and the hole, where nothing else is pressed


def mirrored(
    driver: Driver, made: Rebuild, exact: Part, shift: tuple[float, float], tolerance: float
) -> None:
    """Reflect the half by the mirror tool; the whole is the file's, image by image."""
    axis = exact.curves[exact.mirrors[0].axis]
    (x0, y0), (x1, y1) = (exact.points[p] for p in axis.points)
    driver.tool("mirror")
    driver.click(x0 + BETWEEN * (x1 - x0) + shift[0], y0 + BETWEEN * (y1 - y0) + shift[1])
    driver.key(Qt.Key.Key_Return)
    found, wanted = (
        {piece.id: piece.curve for piece in whole(part) if piece.role == "outline"}
        for part in (driver.board.part, exact)
    )
    assert len(found) == len(wanted)
    for name, curve in wanted.items():
        source = name.rstrip("'")
        image = found[made.names[source] + name[len(source):]]
        assert type(image) is type(curve)
        for was, now in zip(spots(curve), spots(image), strict=True):
            assert now == pytest.approx((was[0] + shift[0], was[1] + shift[1]), abs=tolerance)
    assert driver.board.bench.derived.inspection().sound


def spots(curve: Curve) -> list[tuple[float, float]]:
    """Ends, sorted for an image may run the other way round, and center."""
    if isinstance(curve, Circle):
        return [curve.center]
    ends = sorted([curve.start, curve.end])
    return ends if isinstance(curve, Line) else [*ends, curve.center]


@pytest.mark.parametrize("name", some_of(["gate-strap", "shift-arm"], "gate-strap".__eq__))
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
    if rough.mirrors:
        mirrored(driver, made, exact, (dx, dy), 1e-9 * size)
    while driver.board.bench.history.can_undo:
        driver.act("edit.undo")
    assert driver.board.part.curves == {}
