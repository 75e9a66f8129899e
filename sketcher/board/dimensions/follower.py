"""One dimension that goes along with what it measures, as a layout has left it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from sketcher.drafting.draw_length import Frame, LineStand, draw_length
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.layout.all_places import places_of
from sketcher.drafting.layout.dimension_places import Place
from sketcher.drafting.layout.length_places import ROW
from sketcher.drafting.layout.paper_ground import Ground
from sketcher.drafting.layout.runouts import Runouts
from sketcher.drafting.layout.sharp_corners import SharpCorners
from sketcher.drafting.measured import Measured, MeasuredLength
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.curves import XY, Arc, Line
from sketcher.geometry.evaluate import moved

LEVEL = 1.0 - 1e-9
"""Cosine of the angle below which two directions are one."""


class Corners(SharpCorners):
    """The lost corners of one dimension: asked for once, then moved along with their place.

    Parameters
    ----------
    ground : SharpCorners
        Knows them for the part as it was laid out.
    """

    def __init__(self, ground: SharpCorners) -> None:
        super().__init__((), np.zeros((0, 4)))
        self._ground: SharpCorners | None = ground
        self._found: list[tuple[XY, tuple[Line | Arc, ...]]] = []
        self._asked = 0

    def again(self) -> None:
        """Tell what was found from the first on."""
        self._ground, self._asked = None, 0

    def strokes(self, at: XY) -> tuple[Line | Arc, ...]:
        """Return the thin lines at a lost corner; see `SharpCorners.strokes`."""
        if self._ground is not None:
            self._found.append((at, self._ground.strokes(at)))
        self._asked += 1
        if self._asked > len(self._found):
            return ()
        (x, y), some = self._found[self._asked - 1]
        return tuple(moved(one, at[0] - x, at[1] - y) for one in some)


class Starts(Runouts):
    """Where the extension lines of one dimension begin: asked for once, then told again.

    Parameters
    ----------
    ground : Runouts
        Knows it for the part as it was laid out.
    """

    def __init__(self, ground: Runouts) -> None:
        super().__init__((), np.zeros((0, 4)))
        self.corners: Corners = Corners(ground.corners)
        self._ground: Runouts | None = ground
        self._found: list[float] = []
        self._asked = 0

    def again(self) -> None:
        """Tell what was found from the first on."""
        self._ground, self._asked = None, 0
        self.corners.again()

    def begins(self, at: XY, way: XY, upto: float, gap: float, carried: bool = False) -> float:
        """Return how far from `at` an extension line begins; see `Runouts.begins`."""
        return self._told(None if self._ground is None
                          else self._ground.begins(at, way, upto, gap, carried), gap)

    def reach(self, at: XY, way: XY) -> float:
        """Return how far the line on which a place lies runs on; see `Runouts.reach`."""
        return self._told(None if self._ground is None else self._ground.reach(at, way), 0.0)

    def _told(self, now: float | None, usual: float) -> float:
        if now is not None:
            self._found.append(now)
            return now
        self._asked += 1
        return self._found[self._asked - 1] if self._asked <= len(self._found) else usual


@dataclass(frozen=True)
class Bare(Ground):
    """A ground with nothing on it, which knows where extension lines begin all the same."""

    starts: Runouts = field(kw_only=True)

    @property
    def runouts(self) -> Runouts:
        """Where extension lines begin."""
        return self.starts


class Follower:
    """Draws one dimension where it stood, beside what it measures by now; all on paper.

    A length keeps its distance from its ends, in a row beside the part that from the part; what is
    drawn by an angle or a radius keeps those.

    Parameters
    ----------
    begun : Measured
        What it measured when it was laid out.
    at : XY
        Where its lettering stood.
    place : Place or None
        Its place in the layout; None where a person has put it: there it stays.
    sizes : Sizes
    ground : Ground
        The part as it was then.
    corners : sequence of XY
        Of the box around the outline then; none without an outline.
    """

    def __init__(
        self, begun: Measured, at: XY, place: Place | None, sizes: Sizes, ground: Ground,
        corners: Sequence[XY],
    ) -> None:
        self.begun = self.now = begun
        self._at, self._place, self._sizes = at, place, sizes
        self._begun_way: XY = begun.direction if isinstance(begun, MeasuredLength) else (1.0, 0.0)
        self._way = self._begun_way
        # level and plumb rows stand clear of the whole part, all others of what they measure
        self.is_in_row = (place is not None and isinstance(begun, MeasuredLength)
                          and not begun.inline and place[0] == ROW
                          and min(abs(self._way[0]), abs(self._way[1])) <= 1e-9)
        self._corners = corners
        self._starts = Starts(ground.runouts)
        self.draw(begun, corners)

    def is_like(self, now: Measured) -> bool:
        """Tell whether something measured has the form that was laid out."""
        was = self.begun
        return type(was) is type(now) and (not isinstance(was, MeasuredLength) or (
            isinstance(now, MeasuredLength) and bool(was.inline) == bool(now.inline)))

    def draw(self, now: Measured, corners: Sequence[XY]) -> Drawn:
        """Return the dimension of what is measured now, with the part's box by now."""
        self.now = now
        try:
            if self._place is not None and isinstance(now, MeasuredLength) and not now.inline:
                return draw_length(now, self._stand(now, corners), self._sizes, self._starts)
            (places,) = places_of([now], Bare([], starts=self._starts), self._sizes)
            return places.draw_at(self._at) if self._place is None else places.draw(self._place)
        finally:
            self._starts.again()

    def _stand(self, now: MeasuredLength, corners: Sequence[XY]) -> LineStand:
        """Return where the length stands that has gone along."""
        assert isinstance(self.begun, MeasuredLength)
        x, y = now.direction
        # what is read from below is turned about on its way past plumb; the place is not
        turned = x * self._way[0] + y * self._way[1] < 0.0
        self._way = (-x, -y) if turned else (x, y)
        begun_way, was = self._begun_way, self._corners
        s, v = Frame(begun_way).of(self._at)
        v -= self._lift(self.begun)
        if not self.is_in_row or abs(x * begun_way[0] + y * begun_way[1]) < LEVEL:
            was = corners = ()
        low, high, below, above = _ends(self.begun, begun_way, was)
        low_now, high_now, below_now, above_now = _ends(now, self._way, corners)
        s = _beside(s, low, high, low_now, high_now)
        v = _beside(v, below, above, below_now, above_now)
        return LineStand(-v, -s) if turned else LineStand(v, s)

    def _lift(self, one: MeasuredLength) -> float:
        """Return how far the lettering stands above its line."""
        if self._sizes.practice == "ASME":
            return 0.0
        return self._sizes.clear + 0.5 * self._sizes.lettering(one.wording)[1]


def _ends(
    one: MeasuredLength, way: XY, corners: Sequence[XY]
) -> tuple[float, float, float, float]:
    """Return the ends of a length along a direction, and the heights that it keeps clear of."""
    frame = Frame(way)
    ends = [frame.of(side[0])[0] for side in (one.first, one.second)]
    heights = [frame.of(at)[1] for at in (*one.first, *one.second, *corners)]
    return min(ends), max(ends), min(heights), max(heights)


def _beside(at: float, low: float, high: float, low_now: float, high_now: float) -> float:
    """Return a place that keeps its distance from a stretch, within it its share."""
    if at <= low:
        return low_now + at - low
    if at >= high:
        return high_now + at - high
    return low_now + (at - low) / (high - low) * (high_now - low_now)
