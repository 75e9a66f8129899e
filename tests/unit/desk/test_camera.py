"""The camera: where a point lands, what stays under the pointer, which step the grid takes."""

from __future__ import annotations

import pytest

from sketcher.desk.scene.camera import LARGEST_SCALE, Camera, grid_step


def test_there_and_back() -> None:
    camera = Camera(3.7, (12.0, -5.0), 640.0, 480.0)
    at = camera.to_part(camera.to_screen((1.25, 7.5)))
    assert at == pytest.approx((1.25, 7.5), abs=1e-12)


def test_up_is_up() -> None:
    camera = Camera()
    assert camera.to_screen((0, 1))[1] < camera.to_screen((0, 0))[1]


@pytest.mark.parametrize("factor", [0.3, 1.25, 40.0, 1e4])
def test_zoom_keeps_what_is_under_the_pointer(factor: float) -> None:
    camera = Camera(2.0, (30.0, 40.0), 800.0, 600.0)
    before = camera.to_part((123.0, 77.0))
    after = camera.zoomed(factor, (123.0, 77.0)).to_part((123.0, 77.0))
    assert after == pytest.approx(before, abs=1e-9)


def test_zoom_ends_where_doubles_do() -> None:
    camera = Camera()
    for _ in range(200):
        camera = camera.zoomed(4.0, (0.0, 0.0))
    assert camera.scale == LARGEST_SCALE


def test_pan_moves_with_the_pointer() -> None:
    camera = Camera(5.0, (0.0, 0.0), 100.0, 100.0)
    held = camera.to_part((10.0, 10.0))
    assert camera.panned(30.0, 20.0).to_screen(held) == pytest.approx((40.0, 30.0))


def test_fit_shows_all_with_a_margin() -> None:
    camera = Camera(1.0, (0.0, 0.0), 400.0, 200.0).fitting((10.0, 10.0, 50.0, 90.0), 0.1)
    x0, y0, x1, y1 = camera.window
    assert x0 < 10.0 < 50.0 < x1
    assert y1 - 90.0 == pytest.approx(0.1 * (y1 - y0))
    assert 10.0 - y0 == pytest.approx(0.1 * (y1 - y0))


def test_fit_of_a_point_keeps_the_scale() -> None:
    assert Camera(7.0).fitting((3.0, 4.0, 3.0, 4.0)) == Camera(7.0, (3.0, 4.0))


def test_fit_refuses_nonsense() -> None:
    camera = Camera()
    assert camera.fitting((0.0, 0.0, float("inf"), 1.0)) is camera


@pytest.mark.parametrize(
    ("scale", "unit", "step"),
    [
        (10.0, "mm", 1.0), (4.0, "mm", 5.0), (100.0, "mm", 0.1), (0.5, "mm", 20.0),
        (200.0, "in", 1 / 16), (20.0, "in", 0.5), (2.0, "in", 5.0), (5000.0, "in", 0.002),
    ],
)
def test_grid_follows_the_unit(scale: float, unit: str, step: float) -> None:
    found, _ = grid_step(scale, unit)
    assert found == pytest.approx(step)
    assert found * scale >= 9.0
