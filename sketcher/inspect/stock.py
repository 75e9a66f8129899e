"""What the cutting rules look at: contours, narrow places, thickness and process."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import Literal, TypeAlias

from sketcher.geometry.curves import XY
from sketcher.geometry.evaluate import tangent_at
from sketcher.inspect.clearance import Narrow, narrowest, near_pairs
from sketcher.inspect.dimensions import Dimension
from sketcher.inspect.joints import Joint
from sketcher.inspect.profile import Contour, Profile
from sketcher.quantity.units import convert

Process: TypeAlias = Literal["laser", "plasma"]
PROCESSES: tuple[Process, ...] = ("laser", "plasma")

KERF_MM: Mapping[Process, float] = MappingProxyType({"laser": 0.2, "plasma": 1.5})
"""Width of the cut in mm (common practice, no source): fine laser, standard plasma."""

SQUARE = 0.02
"""Cosine below which a way across counts as square to an edge: about one degree."""

WINDING = 3.0
"""Walking round the edge has to be this many times longer than straight across for a neck."""


@dataclass(frozen=True, slots=True)
class Advice:
    """What a rule found; `found` and `wanted` are lengths in the part's unit.

    `wanted` is the least that the rule asks for, or with `most` the most that it allows.
    """

    rule: str
    process: str
    where: str
    found: float
    wanted: float
    ids: tuple[str, ...]
    at: XY | None
    why: str
    most: bool = False

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file."""
        return {
            "rule": self.rule,
            "process": self.process,
            "where": self.where,
            "found": self.found,
            "wanted": self.wanted,
            "at": list(self.at) if self.at else None,
            "why": self.why,
        }


@dataclass(frozen=True, slots=True)
class Rule:
    """One cutting rule.

    Parameters
    ----------
    name : str
        What the rule looks at.
    asks : str
        What it asks for, in one sentence, with the values.
    source : str
        Where the values come from.
    check : callable
        Takes the stock, yields advice.
    """

    name: str
    asks: str
    source: str
    check: Callable[[Stock], Iterator[Advice]]


@dataclass(frozen=True, slots=True)
class Neck:
    """A narrow place between two curves, and whether material or air is between.

    `contours` holds the numbers of their contours, `places` those of the curves in them.
    """

    ids: tuple[str, str]
    place: Narrow
    material: bool
    contours: tuple[int, int]
    places: tuple[int, int]


@dataclass(frozen=True)
class Stock:
    """A part as a cutter sees it.

    Parameters
    ----------
    profile : Profile
        With the plate's contours; what lies detached is not cut.
    joints : sequence of Joint
        For the gaps.
    dimensions : sequence of Dimension
        For the tolerances.
    unit : "mm" or "in"
        Unit of all lengths.
    thickness : float
        Of the plate, in that unit.
    processes : tuple of str
        For which machines advice is wanted.
    """

    profile: Profile
    joints: Sequence[Joint]
    dimensions: Sequence[Dimension]
    unit: str
    thickness: float
    processes: tuple[Process, ...] = PROCESSES

    def short(self, found: float, wanted: float) -> bool:
        """Tell whether a length is below what is wanted, by more than rounding."""
        return found < wanted * (1.0 - 1e-9)

    def mm(self, millimetres: float) -> float:
        """Return a length that is known in mm in the part's unit."""
        return convert(millimetres, "mm", self.unit)

    def in_mm(self, amount: float) -> float:
        """Return a length of the part in mm."""
        return convert(amount, self.unit, "mm")

    def kerf(self, process: Process) -> float:
        """Return the width of the cut in the part's unit."""
        return self.mm(KERF_MM[process])

    def too_narrow(
        self, rule: str, necks: Iterable[Neck], wanted: Callable[[Process], float], why: str
    ) -> Iterator[Advice]:
        """Yield advice for each of these necks and each process that wants it wider."""
        for neck in necks:
            for process in self.processes:
                least = wanted(process)
                if self.short(neck.place.width, least):
                    yield Advice(rule, process, " to ".join(neck.ids), neck.place.width, least,
                                 neck.ids, neck.place.middle, why)

    @property
    def contours(self) -> tuple[Contour, ...]:
        """Closed contours of the plate."""
        return self.profile.plate

    @cached_property
    def necks(self) -> tuple[Neck, ...]:
        """Narrow places below `widest`, the narrowest first.

        One for each pair of contours; across one contour all that lie apart.
        """
        profile = self.profile
        apart = not (profile.crossings or profile.overlaps or profile.meetings)
        found = _necks(self.contours, self.widest, apart)
        by_width = sorted(found, key=lambda neck: neck.place.width)
        return tuple(_distinct(by_width, self.contours))

    @property
    def widest(self) -> float:
        """Narrow places are looked for up to twice the thickness, at least 5 mm."""
        return max(2.0 * self.thickness, self.mm(5.0))


def _necks(contours: Sequence[Contour], within: float, apart: bool) -> Iterator[Neck]:
    flat = [
        (number, place, name, curve)
        for number, contour in enumerate(contours)
        for place, (name, curve) in enumerate(zip(contour.ids, contour.shapes, strict=True))
    ]
    for i, j in near_pairs([curve for *_, curve in flat], within):
        (one, place_a, name_a, a), (two, place_b, name_b, b) = flat[i], flat[j]
        if one == two and _neighbours(place_a, place_b, len(contours[one].ids)):
            continue
        found = narrowest(a, b, apart)
        if not 0.0 < found.width <= within:
            continue
        if one == two and not _is_neck(contours[one], place_a, place_b, found):
            continue
        inside = _in_material(contours, found.middle)
        yield Neck((name_a, name_b), found, inside, (one, two), (place_a, place_b))


def _distinct(necks: Sequence[Neck], contours: Sequence[Contour]) -> Iterator[Neck]:
    """Yield one neck for each narrow place: those at the same curves or next to them are one."""
    taken: set[object] = set()
    for neck in necks:
        one, two = neck.contours
        if one != two:
            keys: set[object] = {neck.contours}
            around = keys
        else:
            count = len(contours[one].ids)
            keys = {(one, place, neck.material) for place in neck.places}
            around = {(one, (place + step) % count, neck.material)
                      for place in neck.places for step in (-1, 0, 1)}
        if not keys & taken:
            taken |= around
            yield neck


def _neighbours(a: int, b: int, count: int) -> bool:
    return abs(a - b) in {1, count - 1}


def _is_neck(contour: Contour, i: int, j: int, found: Narrow) -> bool:
    """Tell a neck from the two sides of a corner.

    Walls that face each other, so that the way across is square to both, make a neck; from a vertex
    the way round the edge has to be much longer than the way across.
    """
    around = _around(contour, i, j, found)
    if around >= WINDING * found.width:
        return True
    ux = (found.on_b[0] - found.on_a[0]) / found.width
    uy = (found.on_b[1] - found.on_a[1]) / found.width
    for curve, t in ((contour.shapes[i], found.a), (contour.shapes[j], found.b)):
        x, y = tangent_at(curve, t)
        if abs(x * ux + y * uy) > SQUARE:
            return False
    return around >= 0.5 * WINDING * found.width


def _around(contour: Contour, i: int, j: int, found: Narrow) -> float:
    """The shorter way along the contour between the two places."""
    before = contour.starts
    one = before[i] + found.a * contour.shapes[i].length
    two = before[j] + found.b * contour.shapes[j].length
    way = abs(two - one)
    return min(way, contour.perimeter - way)


def _in_material(contours: Sequence[Contour], at: XY) -> bool:
    return sum(contour.encloses(at) for contour in contours) % 2 == 1
