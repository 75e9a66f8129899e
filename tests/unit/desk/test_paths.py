"""Curves as Qt paths: how far they stray from the curve, near and at deep zoom."""

from __future__ import annotations

from math import cos, hypot, pi, sin

import pytest

from sketcher.desk.scene.camera import Camera
from sketcher.desk.scene.paths import LARGE, path_of, visible_path
from sketcher.geometry.clip import visible
from sketcher.geometry.curves import Arc, Circle, Line

pytestmark = pytest.mark.gui


def worst_radius(path, center: tuple[float, float], radius: float) -> float:
    worst = 0.0
    for step in range(2001):
        at = path.pointAtPercent(step / 2000.0)
        worst = max(worst, abs(hypot(at.x() - center[0], at.y() - center[1]) - radius))
    return worst / radius


def test_circle_is_round_to_a_hundred_millionth(qapp) -> None:
    # 15 degree cubics: error bound 4/27 (sin^6(t/4) / cos^2(t/4)) R = 5.9e-9 R at t = 15 degrees
    # (Goldapp 1991, from memory); Qt's own arcs are off by 2.7e-4 R.
    assert worst_radius(path_of(Circle((3.0, -2.0), 50.0)), (3.0, -2.0), 50.0) < 1.0e-8


@pytest.mark.parametrize("ccw", [True, False])
def test_arc_begins_and_ends_at_its_points(qapp, ccw: bool) -> None:
    arc = Arc((0.0, 0.0), (10.0, 0.0), (0.0, 10.0), ccw)
    path = path_of(arc)
    first, last = path.pointAtPercent(0.0), path.pointAtPercent(1.0)
    assert (first.x(), first.y()) == pytest.approx((10.0, 0.0), abs=1e-12)
    assert (last.x(), last.y()) == pytest.approx((0.0, 10.0), abs=1e-12)
    # Qt measures the length itself only to about 7e-4.
    assert path.length() == pytest.approx(arc.length, rel=1e-3)


@pytest.mark.parametrize("scale", [1e3, 1e5, 1e7])
def test_visible_piece_stays_on_its_pixel(qapp, scale: float) -> None:
    radius, angle = 50.0, 0.7
    at = (radius * cos(angle), radius * sin(angle))
    camera = Camera(scale, at, 800.0, 600.0)
    circle = Circle((0.0, 0.0), radius)
    assert circle.radius * camera.scale > LARGE
    path = visible_path(circle, camera)
    assert not path.isEmpty()
    for index in range(path.elementCount()):
        element = path.elementAt(index)
        x, y = camera.to_part((element.x, element.y))
        assert abs(hypot(x, y) - radius) * scale < 0.05  # pixels; doubles end the accuracy at 1e7
    middle = min(
        hypot(path.elementAt(i).x - 400.0, path.elementAt(i).y - 300.0)
        for i in range(path.elementCount())
    )
    assert middle < 30.0


def test_nothing_of_a_circle_shows_from_its_middle(qapp) -> None:
    camera = Camera(1e4, (0.0, 0.0), 800.0, 600.0)
    assert visible_path(Circle((0.0, 0.0), 50.0), camera).isEmpty()


def test_an_arc_shows_only_where_it_is(qapp) -> None:
    arc = Arc((0.0, 0.0), (50.0, 0.0), (0.0, 50.0), True)
    at = (50.0 * cos(-0.5), 50.0 * sin(-0.5))
    assert visible_path(arc, Camera(1e4, at, 800.0, 600.0)).isEmpty()
    at = (50.0 * cos(pi / 4), 50.0 * sin(pi / 4))
    assert not visible_path(arc, Camera(1e4, at, 800.0, 600.0)).isEmpty()


@pytest.mark.parametrize(
    ("line", "piece"),
    [
        (Line((-5.0, 0.5), (5.0, 0.5)), ((0.0, 0.5), (1.0, 0.5))),
        (Line((0.2, 0.2), (0.4, 0.6)), ((0.2, 0.2), (0.4, 0.6))),
        (Line((2.0, 0.0), (2.0, 1.0)), None),
        (Line((-1.0, 1.5), (1.5, 3.0)), None),
    ],
)
def test_line_is_cut_to_the_window(line: Line, piece: object) -> None:
    found = visible(line, (0.0, 0.0, 1.0, 1.0))
    if piece is None:
        assert found == ()
    else:
        (cut,) = found
        assert cut.start == pytest.approx(piece[0])
        assert cut.end == pytest.approx(piece[1])
