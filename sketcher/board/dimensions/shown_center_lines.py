"""The center lines of the finished drawing as they stand on the part, in the part's unit."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import atan2, dist, pi, tau
from typing import TYPE_CHECKING, Any

from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, scaled, start_of
from sketcher.geometry.project import nearest
from sketcher.part.edited import Edited
from sketcher.part.edits.set_drawing import set_drawing
from sketcher.part.image_id import read_image_id
from sketcher.part.instances import copies
from sketcher.part.value import ArcCurve, CircleCurve, Part, frozen

if TYPE_CHECKING:
    from sketcher.drafting.center_marks import CenterMark
    from sketcher.drafting.paper_view import View

MOST = 100  # round curves; with more, the lines would cost more than the part itself
LIVE = 40  # curves; with more, the lines wait until the part stands still
AXIS = "/axis"  # ends the id of a line on a drawn axis
STEP = 0.1  # mm on paper that an end is pulled by
WORDS = {
    "level": "level center line of {}", "plumb": "plumb center line of {}",
    "along": "center line along {}", "across": "center line across {}",
    "radial": "radial center line of {}", "path": "center line of the path of {}",
    "pitch": "pitch circle about {}", "axis": "center line on {}",
}
"""What people call a line, by the last word of its id."""


@dataclass(frozen=True, slots=True)
class CenterLine:
    """One center line.

    `dashes` are its inked pieces, `strokes` the runs that they lie on, `off` whether a person has
    switched it off, `factor` how many mm on paper one unit of the part is.
    """

    id: str
    dashes: tuple[Curve, ...]
    strokes: tuple[Curve, ...]
    start: XY
    end: XY
    closed: bool
    off: bool
    factor: float

    @property
    def is_axis(self) -> bool:
        """Whether it lies on an axis that is drawn."""
        return self.id.endswith(AXIS)

    @property
    def words(self) -> str:
        """What people call it."""
        return called(self.id)

    @property
    def axis(self) -> str:
        """Id of the axis that it lies on; its own id for any other line."""
        return self.id.removesuffix(AXIS)

    def distance(self, at: XY) -> float:
        """Return how far a place is from the line, gaps counted as line."""
        return min((nearest(s, at).distance for s in self.strokes), default=float("inf"))

    def pulled(self, end: str, grip: XY, at: XY) -> float:
        """Return by how many mm on paper an end gets longer when it is pulled from grip to place.

        A line is pulled along itself, an arc along its circle.
        """
        arc = next((s for s in self.strokes if isinstance(s, Arc | Circle)), None)
        sign = 1.0 if end == "end" else -1.0
        if arc is not None:
            turn = (atan2(at[1] - arc.center[1], at[0] - arc.center[0])
                    - atan2(grip[1] - arc.center[1], grip[0] - arc.center[0]))
            turn = (turn + pi) % tau - pi
            return sign * turn * arc.radius * self.factor
        ux, uy = Line(self.start, self.end).direction
        return sign * ((at[0] - grip[0]) * ux + (at[1] - grip[1]) * uy) * self.factor


def center_lines(part: Part) -> tuple[CenterLine, ...]:
    """Return all center lines, those that are switched off among them.

    They stand as at the scale that the sheet will most likely have. A part that has none, or that
    is not far enough for any, gives an empty tuple.
    """
    from sketcher.drafting.center_marks import center_marks
    from sketcher.drafting.paper_choice import likely_scale
    from sketcher.drafting.paper_view import MM_PER, View

    try:
        view = View(likely_scale(part) * MM_PER[part.unit])
        shown = center_marks(part, view)
        off = {name for name, changed in part.drawing.centers.items() if changed.get("off")}
        hidden: tuple[CenterMark, ...] = ()
        if off:
            bare = part.having(drawing=replace(part.drawing, centers=frozen()))
            hidden = tuple(m for m in center_marks(bare, view) if m.id in off)
    except (SketcherError, ArithmeticError):
        return ()
    return (*(_line(m, view, False) for m in shown), *(_line(m, view, True) for m in hidden))


def is_busy(part: Part) -> bool:
    """Tell whether the part has more round curves than is worth while on the screen."""
    rounds = sum(isinstance(c, CircleCurve | ArcCurve) for c in part.curves.values())
    return rounds * copies(part) > MOST


def is_live(part: Part) -> bool:
    """Tell whether the part is so small that its center lines can follow a drag."""
    return len(part.curves) * copies(part) <= LIVE


def _line(mark: CenterMark, view: View, off: bool) -> CenterLine:
    back, factor = view.back, view.factor
    strokes = tuple(scaled(s.curve, 1.0 / factor) for s in mark.strokes)
    dashes = tuple(scaled(d, 1.0 / factor) for s in mark.strokes for d in s.dashes())
    return CenterLine(mark.id, dashes, strokes, back(mark.start), back(mark.end), mark.closed, off,
                      factor)


def marked_places(lines: tuple[CenterLine, ...]) -> tuple[XY, ...]:
    """Return the middles of the short dashes: where a plus stands on a line that is shown."""
    found = []
    for line in lines:
        if not line.off:
            for dash in line.dashes:
                (ax, ay), (bx, by) = start_of(dash), end_of(dash)
                found.append((0.5 * (ax + bx), 0.5 * (ay + by)))
    return tuple(found)


def called(name: str) -> str:
    """Return what people call the center line of an id, as in ``center line along a5``."""
    of, _, word = name.rpartition("/")
    kind = read_image_id(word).source
    return WORDS[kind].format(of.replace("/", " ") + word[len(kind):])


# Changes by hand.


def switch(part: Part, name: str) -> Edited:
    """Switch a center line off, or on again."""
    changed = dict(part.drawing.centers.get(name, {}))
    off = not changed.pop("off", False)
    said = "off" if off else "on again"
    done = _with(part, name, {**changed, "off": True} if off else changed)
    return Edited(done, f"switched the {called(name)} {said}")


def pull(part: Part, name: str, end: str, longer: float) -> Edited:
    """Make one end of a center line longer, or with a negative amount shorter, in mm on paper."""
    changed = dict(part.drawing.centers.get(name, {}))
    amount = STEP * round((float(changed.pop(end, 0.0)) + longer) / STEP)
    amount = round(amount, 6)
    if amount:
        changed[end] = amount
    return Edited(_with(part, name, changed), f"{called(name)}: {amount:+g} mm on paper")


def as_computed(part: Part, name: str) -> Edited:
    """Take back what a person changed about one center line."""
    return Edited(_with(part, name, {}), f"the {called(name)} is as computed")


def _with(part: Part, name: str, changed: dict[str, Any]) -> Part:
    centers = {k: v for k, v in part.drawing.centers.items() if k != name}
    if changed:
        centers[name] = frozen(changed)
    return set_drawing(part, centers=centers).part


def line_at(lines: tuple[CenterLine, ...], at: XY, reach: float) -> CenterLine | None:
    """Return the center line nearest to a place, within reach."""
    near = [(line.distance(at), k) for k, line in enumerate(lines)]
    best = min(near, default=(float("inf"), -1))
    return lines[best[1]] if best[0] <= reach else None


def end_at(
    lines: tuple[CenterLine, ...], at: XY, reach: float
) -> tuple[CenterLine, str] | None:
    """Return the center line with the end nearest to a place, within reach, and which end."""
    near = [(dist(place, at), k, end)
            for k, line in enumerate(lines) if not line.closed and not line.off
            for end, place in (("start", line.start), ("end", line.end))]
    best = min(near, default=(float("inf"), -1, ""))
    return (lines[best[1]], best[2]) if best[0] <= reach else None


__all__ = ["CenterLine", "as_computed", "center_lines", "end_at", "is_busy", "is_live", "line_at",
           "marked_places", "pull", "switch"]
