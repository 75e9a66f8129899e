"""The center lines of the finished drawing as they stand on the part, in the part's unit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import dist
from typing import TYPE_CHECKING, Any

from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.evaluate import end_of, scaled, start_of
from sketcher.geometry.project import nearest
from sketcher.part.center_rules import SIDES, EndRule, line_words, with_rule, without_rule
from sketcher.part.edited import Edited
from sketcher.part.edits.set_drawing import set_drawing
from sketcher.part.instances import copies
from sketcher.part.value import ArcCurve, CircleCurve, Part, frozen

if TYPE_CHECKING:
    from sketcher.drafting.center_marks import CenterMark
    from sketcher.drafting.center_stops import CenterStop
    from sketcher.drafting.paper_view import View

MOST = 100  # round curves; with more, the lines would cost more than the part itself
LIVE = 40  # curves; with more, the lines wait until the part stands still
AXIS = "/axis"  # ends the id of a line on a drawn axis


@dataclass(frozen=True, slots=True)
class Stop:
    """Where an end of a center line can be pulled to, in the part's unit.

    `line` is the id that the rule is kept with; no rule for the end as it is by itself.
    """

    at: XY
    line: str
    rule: EndRule | None
    words: str


@dataclass(frozen=True, slots=True)
class CenterLine:
    """One center line.

    `dashes` are its inked pieces, `strokes` the runs that they lie on, `off` whether a person has
    switched it off, `factor` how many mm on paper one unit of the part is, `names` the ids of all
    lines that it is made of, `stops` what ``start`` and ``end`` can be pulled to, where that was
    asked for.
    """

    id: str
    dashes: tuple[Curve, ...]
    strokes: tuple[Curve, ...]
    start: XY
    end: XY
    closed: bool
    off: bool
    factor: float
    names: tuple[str, ...] = ()
    stops: Mapping[str, tuple[Stop, ...]] = field(default_factory=dict)

    @property
    def is_axis(self) -> bool:
        """Whether it lies on an axis that is drawn."""
        return self.id.endswith(AXIS)

    @property
    def words(self) -> str:
        """What people call it."""
        return line_words(self.id)

    @property
    def axis(self) -> str:
        """Id of the axis that it lies on; its own id for any other line."""
        return self.id.removesuffix(AXIS)

    @property
    def axes(self) -> tuple[str, ...]:
        """Ids of all axes that it lies on."""
        every = dict.fromkeys((self.id, *self.names))
        return tuple(name.removesuffix(AXIS) for name in every if name.endswith(AXIS))

    def distance(self, at: XY) -> float:
        """Return how far a place is from the line, gaps counted as line."""
        return min((nearest(s, at).distance for s in self.strokes), default=float("inf"))

    def stop(self, end: str, at: XY) -> Stop | None:
        """Return the stop of an end that is nearest to a place; None where none is known."""
        return min(self.stops.get(end, ()), key=lambda stop: dist(stop.at, at), default=None)


def center_lines(part: Part, pulls: bool = False) -> tuple[CenterLine, ...]:
    """Return all center lines, those that are switched off among them.

    They stand as at the scale that the sheet will most likely have. A part that has none, or that
    is not far enough for any, gives an empty tuple.

    Parameters
    ----------
    part : Part
    pulls : bool
        Whether to find what their ends can be pulled to.
    """
    from sketcher.drafting.center_marks import center_marks
    from sketcher.drafting.center_stops import center_stops
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
        stops = center_stops(part, view) if pulls else {}
    except (SketcherError, ArithmeticError):
        return ()
    return tuple(_line(mark, view, mark.id in off, stops) for mark in (*shown, *hidden))


def is_busy(part: Part) -> bool:
    """Tell whether the part has more round curves than is worth while on the screen."""
    rounds = sum(isinstance(c, CircleCurve | ArcCurve) for c in part.curves.values())
    return rounds * copies(part) > MOST


def is_live(part: Part) -> bool:
    """Tell whether the part is so small that its center lines can follow a drag."""
    return len(part.curves) * copies(part) <= LIVE


def _line(
    mark: CenterMark, view: View, off: bool,
    stops: Mapping[tuple[str, str], tuple[CenterStop, ...]],
) -> CenterLine:
    back, factor = view.back, view.factor
    strokes = tuple(scaled(s.curve, 1.0 / factor) for s in mark.strokes)
    dashes = tuple(scaled(d, 1.0 / factor) for s in mark.strokes for d in s.dashes())
    pulls = {end: tuple(Stop(back(s.at), s.line, s.rule, s.words) for s in stops[mark.id, end])
             for end in SIDES if (mark.id, end) in stops}
    return CenterLine(mark.id, dashes, strokes, back(mark.start), back(mark.end), mark.closed, off,
                      factor, mark.names, pulls)


def marked_places(lines: tuple[CenterLine, ...]) -> tuple[XY, ...]:
    """Return the middles of the short dashes: where a plus stands on a line that is shown."""
    found = []
    for line in lines:
        if not line.off:
            for dash in line.dashes:
                (ax, ay), (bx, by) = start_of(dash), end_of(dash)
                found.append((0.5 * (ax + bx), 0.5 * (ay + by)))
    return tuple(found)


# Changes by hand.


def switch(part: Part, name: str) -> Edited:
    """Switch a center line off, or on again."""
    changed = dict(part.drawing.centers.get(name, {}))
    off = not changed.pop("off", False)
    said = "off" if off else "on again"
    done = _with(part, name, {**changed, "off": True} if off else changed)
    return Edited(done, f"switched the {line_words(name)} {said}")


def pull(part: Part, line: CenterLine, end: str, stop: Stop) -> Edited:
    """Let one end of a center line belong to what a stop stands for."""
    drawing = without_rule(part.drawing, line.names, end)
    if stop.rule is not None:
        drawing = with_rule(drawing, stop.line, end, stop.rule)
    done = set_drawing(part, centers=drawing.centers).part
    return Edited(done, f"{line.words}: {stop.words}")


def as_computed(part: Part, line: CenterLine) -> Edited:
    """Take back what a person changed about one center line, whatever its pieces are called."""
    centers = {name: v for name, v in part.drawing.centers.items() if not _is_of(line, name)}
    return Edited(set_drawing(part, centers=centers).part, f"the {line.words} is as computed")


def is_changed(part: Part, line: CenterLine) -> bool:
    """Tell whether a person changed anything about a center line."""
    return any(_is_of(line, name) for name in part.drawing.centers)


def _is_of(line: CenterLine, name: str) -> bool:
    return name == line.id or name in line.names


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


__all__ = ["CenterLine", "Stop", "as_computed", "center_lines", "end_at", "is_busy", "is_changed",
           "is_live", "line_at", "marked_places", "pull", "switch"]
