"""The axis that a half asks for: the one that is drawn, else through its two open ends."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import atan2, degrees

from sketcher.board.steps.drawing_step import Sketch
from sketcher.part.open_half import furthest_in_line, open_ends
from sketcher.part.value import LineCurve, Part
from sketcher.solve.solve_report import Solution


@dataclass(frozen=True, slots=True)
class OfferedAxis:
    """An axis that can be taken as it is offered.

    Parameters
    ----------
    base, part : Part
        The part as it stands, and with the axis; the same where the axis is drawn already.
    axis : str
        Id of the axis in `part`.
    ends : tuple of str
        The two open ends that it joins; empty where it is drawn already.
    """

    base: Part
    part: Part
    axis: str
    ends: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """What is offered."""
        if not self.ends:
            return f"{self.axis} is drawn as an axis."
        return f"The half is open from {self.ends[0]} to {self.ends[1]}: an axis joins them."


def offered_axis(
    part: Part, solve: Callable[[Part], Solution], within: float
) -> OfferedAxis | None:
    """Return the axis that a half without a mirror asks for; None where it is not plain.

    Parameters
    ----------
    part : Part
        The part.
    solve : callable
        From a part to its solution.
    within : float
        Degrees off plumb or level within which the new axis is bound so, where that still says
        something and holds.
    """
    if part.mirrors:
        return None
    drawn = [n for n, c in part.curves.items() if c.role == "axis" and isinstance(c, LineCurve)]
    if drawn:
        return OfferedAxis(part, part, drawn[0]) if len(drawn) == 1 else None
    ends = furthest_in_line(part, open_ends(part))
    if not ends:
        return None
    sketch = Sketch(part)
    axis = sketch.draft.line(ends[0], ends[1], "axis")
    (ax, ay), (bx, by) = (part.points[end] for end in ends)
    turn = degrees(atan2(by - ay, bx - ax)) % 180.0
    for kind, wanted in (("plumb", 90.0), ("level", 0.0), ("level", 180.0)):
        if abs(turn - wanted) <= within:
            sketch.tie(kind, axis)
    return OfferedAxis(part, sketch.finish(solve), axis, ends)
