"""Where the sheet is seen from: scale and center, y up; plain numbers without Qt."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import floor, isfinite, log10

from sketcher.geometry.bounds import boxes_meet
from sketcher.geometry.curves import XY

# Past this a double in part units no longer tells two neighbouring pixels apart.
LARGEST_SCALE = 1e9
SMALLEST_SCALE = 1e-4


@dataclass(frozen=True, slots=True)
class Camera:
    """Maps part units to logical pixels of a viewport of `width` by `height`.

    `scale` is pixels per part unit; `center` the part's point in the middle of the viewport.
    """

    scale: float = 4.0
    center: XY = (0.0, 0.0)
    width: float = 800.0
    height: float = 600.0

    def to_screen(self, point: XY) -> XY:
        """Return the pixel of a point of the part."""
        return (
            self.width / 2 + (point[0] - self.center[0]) * self.scale,
            self.height / 2 - (point[1] - self.center[1]) * self.scale,
        )

    def all_to_screen(self, points: Iterable[XY]) -> list[XY]:
        """Return the pixels of many points of the part."""
        (x, y), scale = self.center, self.scale
        wide, high = self.width / 2, self.height / 2
        return [(wide + (px - x) * scale, high - (py - y) * scale) for px, py in points]

    def to_part(self, pixel: XY) -> XY:
        """Return the point of the part under a pixel."""
        return (
            self.center[0] + (pixel[0] - self.width / 2) / self.scale,
            self.center[1] - (pixel[1] - self.height / 2) / self.scale,
        )

    def seeing(self, scale: float, center: XY) -> Camera:
        """Return a view of a place at a scale, as far as scales go."""
        return replace(self, scale=min(max(scale, SMALLEST_SCALE), LARGEST_SCALE), center=center)

    def resized(self, width: float, height: float) -> Camera:
        """Return the same view in a viewport of another size."""
        return replace(self, width=max(width, 1.0), height=max(height, 1.0))

    def zoomed(self, factor: float, about: XY) -> Camera:
        """Return a view scaled by `factor`; the part's point under the pixel `about` stays."""
        scale = min(max(self.scale * factor, SMALLEST_SCALE), LARGEST_SCALE)
        held = self.to_part(about)
        center = (
            held[0] - (about[0] - self.width / 2) / scale,
            held[1] + (about[1] - self.height / 2) / scale,
        )
        return replace(self, scale=scale, center=center)

    def panned(self, dx: float, dy: float) -> Camera:
        """Return a view whose content has moved by pixels, right and down."""
        x, y = self.center
        return replace(self, center=(x - dx / self.scale, y + dy / self.scale))

    def fitting(self, bounds: tuple[float, float, float, float], margin: float = 0.1) -> Camera:
        """Return a view that shows ``x0, y0, x1, y1`` with a margin as a fraction of the window."""
        x0, y0, x1, y1 = bounds
        if not all(map(isfinite, bounds)):
            return self
        wide, high = x1 - x0, y1 - y0
        room = 1.0 - 2.0 * margin
        scales = [room * self.width / wide] if wide > 0 else []
        scales += [room * self.height / high] if high > 0 else []
        scale = min(scales, default=self.scale)
        scale = min(max(scale, SMALLEST_SCALE), LARGEST_SCALE)
        return replace(self, scale=scale, center=((x0 + x1) / 2, (y0 + y1) / 2))

    def meets(self, box: tuple[float, float, float, float]) -> bool:
        """Tell whether anything of a box ``x0, y0, x1, y1`` is in view."""
        return boxes_meet(box, self.window)

    @property
    def window(self) -> tuple[float, float, float, float]:
        """The visible rectangle ``x0, y0, x1, y1`` in part units."""
        half_w, half_h = self.width / 2 / self.scale, self.height / 2 / self.scale
        x, y = self.center
        return (x - half_w, y - half_h, x + half_w, y + half_h)


def grid_step(scale: float, unit: str, finest: float = 9.0) -> tuple[float, int]:
    """Return the grid's step in part units and how many steps make a strong line.

    Millimetres step by 1, 2, 5; inches halve down to 1/64 as a rule does, then go by tenths.

    Parameters
    ----------
    scale : float
        Pixels per part unit.
    unit : str
        ``"mm"`` or ``"in"``.
    finest : float
        Fewest pixels between two lines.
    """
    want = finest / scale
    if unit == "in" and 1 / 64 <= want <= 1:
        step = 1.0
        while step / 2 >= want:
            step /= 2
        return step, (4 if step < 1 else 12)
    decade = 10.0 ** floor(log10(want))
    for factor, strong in ((1, 10), (2, 5), (5, 2), (10, 10)):
        if factor * decade >= want * (1 - 1e-12):
            return factor * decade, strong
    return 10 * decade, 10
