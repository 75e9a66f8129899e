"""Patterns: where the further instances of a curve stand. Derived, never stored, never solved."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.evaluate import carried
from sketcher.part.value import GridPattern, Part, Pattern
from sketcher.quantity.exact_angles import cosine, sine
from sketcher.quantity.parameters import Value, evaluate_all
from sketcher.quantity.parse import evaluate

FULL_TURN = 360.0


@dataclass(frozen=True, slots=True)
class InstancePlace:
    """Where one instance stands: turned by `degrees` about `center`, then moved by `step`.

    `step` is in the part's unit, `degrees` counter-clockwise.
    """

    step: XY = (0.0, 0.0)
    center: XY = (0.0, 0.0)
    degrees: float = 0.0

    def point(self, at: XY) -> XY:
        """Return where a point of the drawn curve goes."""
        x, y = at
        if self.degrees:
            c, s = cosine(self.degrees), sine(self.degrees)
            dx, dy = x - self.center[0], y - self.center[1]
            x, y = self.center[0] + c * dx - s * dy, self.center[1] + s * dx + c * dy
        return (x + self.step[0], y + self.step[1])

    def curve(self, curve: Curve) -> Curve:
        """Return where a drawn curve goes."""
        return carried(curve, self.point)


def places(
    part: Part, name: str, values: Mapping[str, Value] | None = None
) -> tuple[InstancePlace, ...]:
    """Return the places of a pattern's further instances, the drawn one left out.

    Parameters
    ----------
    part : Part
        The part that holds the pattern.
    name : str
        The pattern's id.
    values : mapping of str to Value, optional
        Evaluated parameters, where the caller has them already.

    Returns
    -------
    tuple of Place
        Row by row for a grid (the first row first, columns fastest); counter-clockwise round the
        center for a polar pattern with a positive span.

    Raises
    ------
    QuantityError
        When a step, an angle or a span cannot be evaluated; the place names it.
    """
    if values is None:
        values = evaluate_all(part.parameters, part.unit)
    return tuple(each_place(part, name, values))


def each_place(part: Part, name: str, values: Mapping[str, Value]) -> Iterator[InstancePlace]:
    """Give the places one after the other, as `places` has them, for who needs only the first."""
    pattern: Pattern = part.patterns[name]
    place, unit = f"patterns.{name}", part.unit
    if isinstance(pattern, GridPattern):
        across, up = (
            evaluate(text, "length", unit, values, f"{place}.step[{index}]")
            for index, text in enumerate(pattern.step)
        )
        angle = evaluate(pattern.angle, "angle", unit, values, f"{place}.angle")
        c, s = cosine(angle), sine(angle)
        for row in range(pattern.count[1]):
            for column in range(pattern.count[0]):
                if row or column:
                    u, v = column * across, row * up
                    yield InstancePlace(step=(c * u - s * v, s * u + c * v))
        return
    span = evaluate(pattern.span, "angle", unit, values, f"{place}.span")
    gaps = pattern.count if abs(span) == FULL_TURN else pattern.count - 1
    for index in range(1, pattern.count):
        yield InstancePlace(center=part.points[pattern.center], degrees=span * index / gaps)


def copies(part: Part) -> int:
    """Return how many times what is repeated most stands there, the drawn one counted; 1 or more.

    Nothing is evaluated, so a part that cannot be made has an answer too.

    >>> copies(Part(patterns={"g1": GridPattern(("h1",), ("10", "10"), (4, 3))}))
    12
    >>> copies(Part())
    1
    """
    counts = [p.count[0] * p.count[1] if isinstance(p, GridPattern) else p.count
              for p in part.patterns.values()]
    return max([1, *counts])
