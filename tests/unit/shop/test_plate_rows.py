"""Copies on a plate, judged by shapely: their distances, the plate's edges, how many there are."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
import shapely

from sketcher.errors import ExportError
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import point_at
from sketcher.shop import plate_rows
from sketcher.shop.cut_plan import CutContour, CutPath, CutPlan, CutSettings
from sketcher.shop.plate_rows import FILL, MOST_COPIES, on_plate
from tests.demo_parts import SOUND
from tests.inspected import inspected


def outline(*corners: tuple[float, float]) -> CutContour:
    edges = tuple(Line(a, b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True))
    return CutContour(tuple(f"e{k}" for k in range(len(edges))), edges, False, 0)


def planned(contour: CutContour, lead: tuple[Curve, ...] = (), **chosen: object) -> CutPlan:
    settings = CutSettings(**chosen)  # type: ignore[arg-type]
    return CutPlan("part", "mm", 3.0, settings, (), (CutPath(contour, lead),), (contour,))


def region(contour: CutContour) -> shapely.Polygon:
    """The contour by 200 chords a round."""
    places = []
    for curve in contour.curves:
        steps = 1 if isinstance(curve, Line) else 200
        places += [point_at(curve, k / steps) for k in range(steps)]
    return shapely.Polygon(places)


def outsides(plan: CutPlan) -> list[shapely.Polygon]:
    return [region(contour) for contour in plan.finished if not contour.hole]


def proved(plan: CutPlan, between: float) -> list[shapely.Polygon]:
    """Check every distance; return the copies."""
    copies = outsides(plan)
    assert plan.settings.plate is not None
    inner = shapely.box(0.0, 0.0, *plan.settings.plate).buffer(-between, join_style="mitre")
    tree = shapely.STRtree(copies)
    near, far = tree.query(copies, "dwithin", between * (1.0 - 1e-6))
    assert (near == far).all()
    assert all(inner.buffer(1e-6).contains(copy) for copy in copies)
    return copies


ELL = outline((0.0, 0.0), (60.0, 0.0), (60.0, 15.0), (15.0, 15.0), (15.0, 40.0), (0.0, 40.0))
WEDGE = outline((0.0, 0.0), (50.0, 0.0), (0.0, 30.0))


def test_squares_fill_a_plate_as_by_hand() -> None:
    square = outline((0.0, 0.0), (0.0, 20.0), (20.0, 20.0), (20.0, 0.0))
    plan = on_plate(planned(square, copies=FILL, plate=(125.0, 53.0), between=5.0))
    assert len(proved(plan, 5.0)) == 4  # 5 + 4 x 25, and 5 + 2 x 25 is more than 53


@pytest.mark.parametrize("contour", [ELL, WEDGE])
def test_pairs_take_less_room_than_boxes(contour: CutContour) -> None:
    plan = on_plate(planned(contour, copies=FILL, plate=(600.0, 300.0), between=4.0))
    x0, y0, x1, y1 = region(contour).bounds
    by_boxes = max(int((a - 4.0) // (x1 - x0 + 4.0)) * int((b - 4.0) // (y1 - y0 + 4.0))
                   for a, b in ((600.0, 300.0), (300.0, 600.0)))
    copies = proved(plan, 4.0)
    assert len(copies) > 1.2 * by_boxes
    assert all(copy.area == pytest.approx(region(contour).area, rel=1e-12) for copy in copies)
    assert {path.copy for path in plan.paths} == set(range(len(copies)))


def test_grain_keeps_a_copy_from_being_turned_by_a_quarter() -> None:
    bar = outline((0.0, 0.0), (0.0, 10.0), (90.0, 10.0), (90.0, 0.0))
    narrow = {"plate": (40.0, 100.0), "between": 3.0}
    turned = on_plate(planned(bar, copies=2, **narrow))
    assert [copy.bounds[2] - copy.bounds[0] for copy in proved(turned, 3.0)] == [
        pytest.approx(10.0)] * 2
    with pytest.raises(ExportError, match="0 of 2 fit on a plate of 40 mm x 100 mm"):
        on_plate(planned(bar, copies=2, grain=True, **narrow))


def test_leads_and_kerf_need_room_too() -> None:
    square = outline((0.0, 0.0), (0.0, 20.0), (20.0, 20.0), (20.0, 0.0))
    lead = (Line((-8.0, 10.0), (0.0, 10.0)),)
    plain = on_plate(planned(square, copies=FILL, plate=(112.0, 34.0), between=5.0))
    led = on_plate(planned(square, lead, copies=FILL, plate=(112.0, 34.0), between=5.0))
    wide = on_plate(planned(square, copies=FILL, plate=(112.0, 34.0), between=5.0, kerf=2.0))
    assert [len(proved(plan, 5.0)) for plan in (plain, led, wide)] == [4, 3, 3]
    pierces = [shapely.Point(path.pierce) for path in led.paths]
    for (one, pierce), (other, _) in combinations(
            zip(outsides(led), pierces, strict=True), 2):
        assert one.distance(other) >= 5.0
        assert other.distance(pierce) >= 5.0 * (1.0 - 1e-9)


def test_rounds_are_true_arcs_in_every_copy() -> None:
    disc = CutContour(("h1",), (Circle((7.0, 3.0), 10.0),), False, 0)
    plan = on_plate(planned(disc, copies=5, plate=(200.0, 100.0), between=2.0))
    circles = [contour.circle for contour in plan.finished]
    assert all(circle is not None and circle.radius == 10.0 for circle in circles)
    gaps = [shapely.Point(a.center).distance(shapely.Point(b.center)) - 20.0
            for a, b in combinations([c for c in circles if c], 2)]
    assert 2.0 <= min(gaps) < 2.2  # the little that copies are reckoned wider by
    bowl = CutContour(("a1", "e1"), (Arc((0.0, 0.0), (10.0, 0.0), (-10.0, 0.0)),
                                     Line((-10.0, 0.0), (10.0, 0.0))), False, 0)
    turned = on_plate(planned(bowl, copies=6, plate=(60.0, 60.0), between=2.0))
    assert len(proved(turned, 2.0)) == 6


def test_what_does_not_fit_is_told_with_how_many_do() -> None:
    with pytest.raises(ExportError, match=r"\d of 100 fit on a plate of 200 mm x 100 mm, 3 mm"):
        on_plate(planned(ELL, copies=100, plate=(200.0, 100.0)))
    with pytest.raises(ExportError, match="does not fit"):
        on_plate(planned(ELL, plate=(20.0, 20.0)))
    with pytest.raises(ExportError, match="copies: no plate is given"):
        on_plate(planned(ELL, copies=3))
    assert on_plate(planned(ELL)).plate == ()


def test_more_than_anybody_waits_for_are_refused_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(ExportError, match=f"more than the {MOST_COPIES} that are planned"):
        on_plate(planned(WEDGE, copies=MOST_COPIES + 1, plate=(1e9, 1e9)))
    monkeypatch.setattr(plate_rows, "MOST_COPIES", 40)
    with pytest.raises(ExportError, match="more than the 40 that are planned"):
        on_plate(planned(WEDGE, copies=FILL, plate=(1e9, 1e9), between=4.0))


def test_a_number_below_one_fills_the_plate() -> None:
    asked = [planned(WEDGE, copies=copies, plate=(200.0, 100.0), between=4.0)
             for copies in (FILL, -3)]
    full, below = (on_plate(plan).copies for plan in asked)
    assert full == below > 1


@pytest.mark.parametrize("name", SOUND[:1])
def test_a_demo_part_fills_a_plate(name: Path) -> None:
    from sketcher.part.store import load
    from sketcher.shop.planning import plan_cut

    inspection = inspected(load(name))
    alone = plan_cut(inspection)
    many = plan_cut(inspection, CutSettings(copies=8, plate=(600.0, 300.0), between=4.0))
    assert len(proved(many, 4.0)) == 8
    assert len(many.paths) == 8 * len(alone.paths)
    order = [(path.copy, path.contour.hole) for path in many.paths]
    for copy in range(8):
        last = order.index((copy, False))
        assert (copy, True) not in order[last:]
    again = plan_cut(inspection, replace(many.settings, copies=8))
    assert again == many
