"""Where a repair is marked on the drawing: a ring around the place, and its number beside it.

Pure geometry in the part's unit, where the file has it; whoever shows it picks the height of the
numbers, so that they are read at any scale. Repairs whose rings would lie on each other share one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import cos, floor, hypot, radians, sin

from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.evaluate import point_at
from sketcher.intake.linework import Repair

LEAST_RING, MOST_RING = 0.9, 1.8
"""Radius of a ring in heights of its number: it shows the place, it need not hold all of it."""
DIGIT = 0.75
"""Width of a digit in heights (common practice, no source)."""
WAYS = (45.0, 135.0, 315.0, 225.0, 0.0, 90.0, 180.0, 270.0)
"""Directions from a ring to its number, in the order in which they are tried."""
MOST_NUMBERS = 3
"""Numbers that a shared ring lists; of more it gives the first and how many others."""


MOST_PLACES = 2_000
"""Of a line: past that it is far too long to be read beside."""


@dataclass(frozen=True, slots=True)
class RepairMark:
    """A ring with the numbers of what was repaired there.

    Parameters
    ----------
    numbers : tuple of int
        Of the repairs in their list, from 1, rising.
    at : (x, y)
        Center of the ring.
    radius : float
    label : str
        ``4``, ``4, 7`` or ``4 + 11 more``.
    label_at : (x, y)
        Middle of the label.
    """

    numbers: tuple[int, ...]
    at: XY
    radius: float
    label: str
    label_at: XY


@dataclass(frozen=True, slots=True)
class _Box:
    """An upright box that is taken: middle, half its width and height."""

    at: XY
    half: XY

    def meets(self, other: _Box) -> bool:
        return (abs(self.at[0] - other.at[0]) < self.half[0] + other.half[0]
                and abs(self.at[1] - other.at[1]) < self.half[1] + other.half[1])


def repair_marks(
    repairs: Sequence[Repair], height: float, drawn: Iterable[Curve] = ()
) -> tuple[RepairMark, ...]:
    """Return the marks of repairs, in the order of their first numbers.

    Parameters
    ----------
    repairs : sequence of Repair
        As a list shows them: the first is number 1.
    height : float
        Of the numbers, in the part's unit.
    drawn : iterable of Curve, optional
        Lines that the numbers are to stand clear of where they can.
    """
    rings: list[tuple[XY, float, list[int]]] = []
    places = _Buckets(4.0 * MOST_RING * height)
    for number, repair in enumerate(repairs, 1):
        radius = min(max(_reach(repair), LEAST_RING * height), MOST_RING * height)
        for index in places.near(repair.at):
            at, other, numbers = rings[index]
            apart = hypot(at[0] - repair.at[0], at[1] - repair.at[1])
            if apart < max(radius, other, 2.0 * LEAST_RING * height):
                numbers.append(number)
                break
        else:
            places.put(repair.at, len(rings))
            rings.append((repair.at, radius, [number]))
    return _labelled(rings, height, drawn)


def _labelled(
    rings: list[tuple[XY, float, list[int]]], height: float, drawn: Iterable[Curve]
) -> tuple[RepairMark, ...]:
    """Put each label where no ring and no earlier label is, else where it is tried first."""
    labels = [_label(numbers) for _, _, numbers in rings]
    widest = max((len(label) for label in labels), default=0) * DIGIT * height
    taken = _Buckets(widest + 4.0 * MOST_RING * height)
    boxes: list[_Box] = []
    for at, radius, _ in rings:
        taken.put(at, len(boxes))
        boxes.append(_Box(at, (radius, radius)))
    for at in _along(drawn, 0.5 * height):
        taken.put(at, len(boxes))
        boxes.append(_Box(at, (0.1 * height, 0.1 * height)))
    marks = []
    for own, ((at, radius, numbers), label) in enumerate(zip(rings, labels, strict=True)):
        half = (0.5 * len(label) * DIGIT * height, 0.5 * height)
        tries = [_Box(_beside(at, radius + 0.3 * height, half, way), half) for way in WAYS]
        box = next((each for each in tries if not any(
            index != own and each.meets(boxes[index]) for index in taken.near(each.at))), tries[0])
        taken.put(box.at, len(boxes))
        boxes.append(box)
        marks.append(RepairMark(tuple(numbers), at, radius, label, box.at))
    return tuple(marks)


def _along(drawn: Iterable[Curve], step: float) -> Iterator[XY]:
    """Yield places along lines, close enough that no number fits between two; of long ones few."""
    for curve in drawn:
        count = min(int(curve.length / step) + 1, MOST_PLACES)
        yield from (point_at(curve, k / count) for k in range(count + 1))


def _beside(at: XY, away: float, half: XY, way: float) -> XY:
    """Return the middle of a box that stands beside a ring in a direction."""
    x, y = cos(radians(way)), sin(radians(way))
    return (at[0] + x * away + _sign(x) * half[0], at[1] + y * away + _sign(y) * half[1])


def _sign(share: float) -> float:
    return 0.0 if abs(share) < 1e-9 else (1.0 if share > 0.0 else -1.0)


def _label(numbers: list[int]) -> str:
    if len(numbers) <= MOST_NUMBERS:
        return ", ".join(map(str, numbers))
    return f"{numbers[0]} + {len(numbers) - 1} more"


def _reach(repair: Repair) -> float:
    """How far what is repaired reaches from its place: the ring of a speck is small."""
    if repair.kind not in ("speck", "gap", "tangent"):
        return float("inf")
    return repair.size


class _Buckets:
    """Numbers by the square that they lie in, so that only near ones are asked."""

    def __init__(self, side: float) -> None:
        self._side = side
        self._held: dict[tuple[int, int], list[int]] = {}

    def _square(self, at: XY) -> tuple[int, int]:
        return (floor(at[0] / self._side), floor(at[1] / self._side))

    def put(self, at: XY, number: int) -> None:
        self._held.setdefault(self._square(at), []).append(number)

    def near(self, at: XY) -> list[int]:
        column, row = self._square(at)
        return [number for i in (-1, 0, 1) for j in (-1, 0, 1)
                for number in self._held.get((column + i, row + j), ())]
