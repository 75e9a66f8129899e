"""Where the signs of bindings without a value stand on the sheet, in pixels; no Qt."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sketcher.desk.scene.camera import Camera
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.evaluate import point_at, tangent_at
from sketcher.part.value import Binding, Part
from sketcher.part.whole import curve_value

SIZE = 17.0
AWAY = 15.0
AT_POINTS = {"on", "middle", "in line", "fixed", "concentric"}


@dataclass(frozen=True, slots=True)
class Place:
    """One sign: whose it is and the middle of its square in pixels."""

    binding: str
    kind: str
    at: XY

    def holds(self, pixel: XY) -> bool:
        """Say whether a pixel lies in the square."""
        return (
            abs(pixel[0] - self.at[0]) <= SIZE / 2 and abs(pixel[1] - self.at[1]) <= SIZE / 2
        )


def places(part: Part, camera: Camera) -> tuple[Place, ...]:
    """Return the signs in view; those that share an anchor stand side by side."""
    found: list[Place] = []
    filled: dict[tuple[int, int], int] = {}
    for name, binding in part.bindings.items():
        if binding.value is not None:
            continue
        for at in _anchors(part, binding, camera):
            if not (-20 < at[0] < camera.width + 20 and -20 < at[1] < camera.height + 20):
                continue
            key = (round(at[0] / SIZE), round(at[1] / SIZE))
            shift = filled.get(key, 0)
            filled[key] = shift + 1
            found.append(Place(name, binding.kind, (at[0] + shift * (SIZE + 1), at[1])))
    return tuple(found)


def _anchors(part: Part, binding: Binding, camera: Camera) -> Iterable[XY]:
    curves = [name for name in binding.of if name in part.curves]
    points = [name for name in binding.of if name in part.points]
    if binding.kind == "tangent" and len(curves) == 2:
        shared = set(part.curves[curves[0]].points) & set(part.curves[curves[1]].points)
        if shared:
            return [_beside_point(part.points[min(shared)], camera)]
        return [_beside_curve(curve_value(part, part.curves[curves[0]]), camera)]
    if binding.kind == "concentric" and curves:
        last = part.curves[curves[-1]].points[-1]
        return [_beside_point(part.points[last], camera)]
    if points and (binding.kind in AT_POINTS or not curves):
        ends = points[:1] if binding.kind in AT_POINTS else points[:2]
        return [_beside_point(part.points[name], camera) for name in ends]
    return [_beside_curve(curve_value(part, part.curves[name]), camera) for name in curves]


def _beside_point(at: XY, camera: Camera) -> XY:
    x, y = camera.to_screen(at)
    return (x + AWAY * 0.8, y - AWAY * 0.8)


def _beside_curve(curve: Curve, camera: Camera) -> XY:
    x, y = camera.to_screen(point_at(curve, 0.5))
    dx, dy = tangent_at(curve, 0.5)
    # The left of the way in part units, y down on the screen; always the upper side of the two.
    nx, ny = -dy, -dx
    if ny > 0 or (ny == 0 and nx > 0):
        nx, ny = -nx, -ny
    return (x + nx * AWAY, y + ny * AWAY)
