"""The views of a page: which strokes and dimensions stand on which, back at the part's true size.

The outline is read off the whole view alone; center lines and dimensions also off the details.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import cos, dist, radians, sin

from sketcher.drafting.page import Page
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Stroke
from sketcher.drafting.rebuild.read_wording import ReadWording, read_wording
from sketcher.drafting.rebuild.shown_dimension import ShownDimension
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import midpoint, start_of

NAMED = ("center", "phantom")
"""Line classes of center lines."""


@dataclass(frozen=True, slots=True)
class ShownView:
    """One view: its name, place and scale, and for a detail the circle on paper that it fills."""

    name: str
    view: View
    window: Circle | None

    def holds(self, stroke: Stroke) -> bool:
        """Tell whether a stroke lies in the detail."""
        if self.window is None:
            return False
        return dist(midpoint(stroke.curve), self.window.center) < 1.02 * self.window.radius

    def back(self, curve: Curve) -> Curve:
        """Return a curve at its true size and place."""
        view = self.view
        if isinstance(curve, Line):
            return Line(view.back(curve.start), view.back(curve.end))
        (x, y), (px, py) = view.back(start_of(curve)), start_of(curve)
        cx, cy = curve.center
        center = (x + (cx - px) / view.factor, y + (cy - py) / view.factor)
        if isinstance(curve, Arc):
            return Arc(center, (x, y), view.back(curve.end), curve.ccw)
        return Circle(center, curve.radius / view.factor)


def views_of(page: Page) -> tuple[ShownView, ...]:
    """Return the details of a page, and the view of the whole last."""
    details = [ShownView(f"detail {d.letter}", d.view,
                         Circle(d.view.point(d.center), d.view.factor * d.radius))
               for d in page.details]
    return (*details, ShownView("", page.view, None)) if page.view is not None else ()


def outline_strokes(page: Page) -> list[tuple[Curve, str]]:
    """Return the outline of the whole view, what breaks leave out put in again."""
    *details, whole = views_of(page)
    found = [(whole.back(stroke.curve), name) for word, name, stroke in _strokes(page)
             if word == "curve" and not any(view.holds(stroke) for view in details)]
    return [*found, *_bridges(found, whole.view)]


def field_strokes(page: Page) -> Iterator[tuple[Line, str]]:
    """Give the lines around fields of tiny holes, each with the field's name."""
    *_, whole = views_of(page)
    for word, name, stroke in _strokes(page):
        line = whole.back(stroke.curve)
        if word == "pattern" and isinstance(line, Line):
            yield line, name


def windows_of(page: Page) -> dict[str, Circle]:
    """Return by name of each detail what it shows, in the part's unit."""
    return {f"detail {d.letter}": Circle(d.center, d.radius) for d in page.details}


def center_strokes(page: Page) -> Iterator[tuple[Curve, str, str]]:
    """Give the dashes of all center lines, each with the name of its line and of its view."""
    views = views_of(page)
    for word, name, stroke in _strokes(page):
        if word == "center" and stroke.line in NAMED:
            view = next(view for view in views if view.window is None or view.holds(stroke))
            yield view.back(stroke.curve), name, view.name


def shown_dimensions(page: Page) -> Iterator[ShownDimension]:
    """Give every dimension with the places that it starts from."""
    if page.view is None:
        return
    on = {name: detail.view for detail in page.details for name in detail.dimensions}
    for dim in page.dimensions:
        view = on.get(dim.id, page.view)
        said = read_wording(dim.text, page.unit) or ReadWording(None)
        way = (cos(radians(dim.angle)), sin(radians(dim.angle)))
        at = tuple(view.back(p) for p in dim.points)
        yield ShownDimension(dim.id, dim.form, at, way, said, dim.text)


def _strokes(page: Page) -> Iterator[tuple[str, str, Stroke]]:
    for item in page.items:
        if isinstance(item, Stroke):
            word, _, name = item.source.partition(":")
            yield word, name, item


def _bridges(found: Iterable[tuple[Curve, str]], view: View) -> Iterator[tuple[Curve, str]]:
    """Give the stretches of straight edges that run on across a break."""
    tol = 0.03 / view.factor
    for cut in view.cuts:
        ends: dict[float, dict[float, tuple[XY, str]]] = {cut.low: {}, cut.high: {}}
        for curve, name in found:
            if isinstance(curve, Line):
                for at in (curve.start, curve.end):
                    for side, here in ends.items():
                        if abs(at[cut.along] - side) < tol:
                            here[at[1 - cut.along]] = (at, name)
        for across, (at, name) in ends[cut.low].items():
            for other, (far, _) in ends[cut.high].items():
                if abs(across - other) < tol:
                    yield Line(at, far), name
