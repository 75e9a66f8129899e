"""The paper of a problem: its features, and the list of what it says, each entry with its probes.

The list is that of the printed sheet (`drafting.measured`): what is said once there is one entry,
with its count, and what is doubled across an axis is doubled here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import dist

from sketcher.board.exercise.paper_feet import (
    CenterFoot,
    EdgeFoot,
    PaperFoot,
    Placed,
    RimFoot,
    feet_at,
)
from sketcher.board.exercise.paper_probes import (
    AngleProbe,
    GapProbe,
    LengthProbe,
    PitchProbe,
    Probe,
    RayFeet,
    SizeProbe,
    SpreadProbe,
    TouchProbe,
    is_straight,
)
from sketcher.drafting.as_measured import as_measured
from sketcher.drafting.measured import measured
from sketcher.drafting.measured.paper_measures import (
    Measured,
    MeasuredAngle,
    MeasuredLength,
    MeasuredRound,
    Wedge,
)
from sketcher.drafting.paper_view import View
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.meet import overlap, same_carrier
from sketcher.geometry.project import distance
from sketcher.inspect.joints import joints_of
from sketcher.marking.assignment import FeatureTable
from sketcher.marking.outline_features import Feature, features
from sketcher.part.part_size import part_size
from sketcher.part.value import Part
from sketcher.part.whole import Piece, whole

NEAR = 1e-6
"""Of the size: places that are nearer to each other are one, and a drawing that is off by less is
right. A bound drawing is solved to a thousandth of it."""
MISS = 0.02
"""Of the size: curves that are to be tangent and miss by more have no joint to measure to."""
EVEN = "equally spaced"
CHAMFER = "\N{MULTIPLICATION SIGN}"


@dataclass(frozen=True, slots=True)
class PaperEntry:
    """One line of the paper's list.

    Parameters
    ----------
    id : str
        Of the dimension on the sheet; of a tangency ``touch:`` with the features.
    text : str
        As the paper has it: ``4x R8``, or what is tangent to what.
    probes : tuple of Probe
        All of them have to come to what they come to on the key.
    wanted : tuple of float
        What that is, in the key's unit or in degrees.
    features : tuple of int
        What it is about, for a mark on the picture.
    is_angle, is_touch : bool
    bindings : tuple of str
        Bindings of the key that it stands for.
    """

    id: str
    text: str
    probes: tuple[Probe, ...]
    wanted: tuple[float, ...]
    features: tuple[int, ...] = ()
    is_angle: bool = False
    is_touch: bool = False
    bindings: tuple[str, ...] = ()


class PaperKey:
    """A key made ready.

    Parameters
    ----------
    part : Part
        Solved.

    Attributes
    ----------
    size, within : float
        In the key's unit: diagonal of the part, and what a drawing may be off.
    pieces : tuple of Piece
        Those of the outline, images included, and then those of the layout.
    found : tuple of Feature
        Those of the outline first; `sources` number `pieces`.
    outline : range
        Numbers of the features of the outline.
    placed : mapping of int to Curve
        Every feature by its number.
    """

    def __init__(self, part: Part) -> None:
        part = self.part = as_measured(part)
        self.size = part_size(part)
        self.within = NEAR * self.size
        every = whole(part)
        drawn = [piece for piece in every if piece.role == "outline"]
        self.pieces: tuple[Piece, ...] = (
            *drawn, *(piece for piece in every if piece.role != "outline"))
        first = features([piece.curve for piece in drawn], self.within)
        rest = features([piece.curve for piece in self.pieces[len(drawn):]], self.within)
        self.found = (*first, *(_counted_on(each, len(drawn)) for each in rest))
        self.outline = range(len(first))
        self.placed: Placed = {n: each.curve for n, each in enumerate(self.found)}
        self.table = FeatureTable(first)

    @cached_property
    def entries(self) -> tuple[PaperEntry, ...]:
        """The paper's list: dimensions in the sheet's order, then tangencies."""
        said = [entry for one in measured(self.part, View())
                if (entry := self._entry(one)) is not None]
        return (*said, *self._touches(said))

    @cached_property
    def of_curves(self) -> dict[str, tuple[int, ...]]:
        """Numbers of the features by the drawn curve that they show, images included."""
        found: dict[str, list[int]] = {}
        for number, each in enumerate(self.found):
            for source in {self.pieces[n].source for n in each.sources}:
                found.setdefault(source, []).append(number)
        return {name: tuple(numbers) for name, numbers in found.items()}

    def number_of(self, curve: Curve) -> int | None:
        """Return the number of the feature that a curve of the key lies on, outline first."""
        same = [n for n, other in self.placed.items() if same_carrier(curve, other, self.within)]
        shared = [n for n in same if overlap(curve, self.placed[n], self.within)]
        return next(iter(shared or same), None)

    # From what the sheet measures to probes.

    def _entry(self, one: Measured) -> PaperEntry | None:
        if isinstance(one, MeasuredRound) and one.label:
            return None
        if isinstance(one, MeasuredLength):
            probes = tuple(self._length(one))
        elif isinstance(one, MeasuredRound):
            probes = tuple(self._round(one))
        else:
            probes = tuple(self._angle(one))
        return self._with_wanted(one.id, one.wording.plain, probes, self._about(one),
                                 is_angle=isinstance(one, MeasuredAngle),
                                 bindings=one.stands_for)

    def _with_wanted(
        self, id_: str, text: str, probes: Iterable[Probe], about: tuple[int, ...],
        is_angle: bool = False, is_touch: bool = False, bindings: tuple[str, ...] = (),
    ) -> PaperEntry:
        read = [(probe, reading.amount) for probe in probes
                if (reading := probe.read(self.placed)) is not None]
        return PaperEntry(id_, text, tuple(probe for probe, _ in read),
                          tuple(amount for _, amount in read), about, is_angle, is_touch, bindings)

    def _about(self, one: Measured) -> tuple[int, ...]:
        if isinstance(one, MeasuredRound):
            curves = (one.curve, *one.images)
            return tuple(dict.fromkeys(n for c in curves if (n := self.number_of(c)) is not None))
        return ()

    def _feet(self, at: XY, way: XY | None) -> tuple[PaperFoot, ...]:
        return feet_at(self.placed, self.outline, at, way, self.within, MISS * self.size)

    def _length(self, one: MeasuredLength) -> Iterator[Probe]:
        sides = [_distinct(self._feet(at, one.direction) for at in places)
                 for places in (one.first, one.second)]
        if one.inline:
            gap = self._gap(*(feet[0] for feet in sides if feet))
            if gap is not None:
                yield gap
                return
        if not all(sides):
            return
        # what stands on one level with others is measured from the same base
        bases = [tuple(foot for feet in side for foot in feet) for side in sides]
        for number, at in enumerate(sides[0]):
            ends = (at if len(sides[0]) > 1 else bases[0], bases[1])
            if number == 0 or len(sides[0]) > 1:
                yield self._between(ends, one)
        for at in sides[1][1:]:
            yield self._between((bases[0], at), one)
        yield from self._chamfer(one)

    def _between(
        self, ends: tuple[tuple[PaperFoot, ...], tuple[PaperFoot, ...]], one: MeasuredLength
    ) -> LengthProbe:
        (ax, ay), (bx, by) = one.first[0], one.second[0]
        along = abs((bx - ax) * one.direction[0] + (by - ay) * one.direction[1])
        is_true = not is_straight(one.direction) and abs(
            along - dist((ax, ay), (bx, by))) <= self.within
        return LengthProbe(ends, one.direction, is_true)

    def _gap(self, *sides: tuple[PaperFoot, ...]) -> GapProbe | None:
        rims = [next((foot.feature for foot in feet if isinstance(foot, RimFoot)), None)
                for feet in sides]
        if len(rims) < 2 or rims[0] is None or rims[1] is None:
            return None
        one, other = self.placed[rims[0]], self.placed[rims[1]]
        assert not isinstance(one, Line)
        assert not isinstance(other, Line)
        apart = dist(one.center, other.center)
        return GapProbe((rims[0], rims[1]), apart >= one.radius + other.radius)

    def _chamfer(self, one: MeasuredLength) -> Iterator[AngleProbe]:
        """Give the angle of a chamfer that is said with its leg."""
        if CHAMFER not in one.wording.main:
            return
        ends = (one.first[0], one.second[0])
        edge = next((n for n in self.outline if isinstance(line := self.placed[n], Line) and max(
            distance(line, at) for at in ends) <= self.within), None)
        if edge is not None and isinstance(line := self.placed[edge], Line):
            yield AngleProbe((RayFeet(line.direction, (edge,)),
                              RayFeet(one.direction, (), (), True)))

    def _round(self, one: MeasuredRound) -> Iterator[Probe]:
        factor = 2.0 if one.diameter else 1.0
        for curve in (one.curve, *one.images):
            number = self.number_of(curve)
            if number is None or number not in self.outline:
                yield from self._pitch(curve, number, factor)
            else:
                yield SizeProbe(number, factor)
        if EVEN in one.wording.plain:
            yield from self._spread([n for c in (one.curve, *one.images)
                                     if (n := self.number_of(c)) is not None])

    def _pitch(self, curve: Arc | Circle, number: int | None, factor: float) -> Iterator[Probe]:
        """Give the size of a circle that the outline does not show: holes and slots lie on it."""
        center = self._feet(curve.center, None)
        on = [CenterFoot(n) for n in self.outline if not isinstance(c := self.placed[n], Line)
              and abs(dist(c.center, curve.center) - curve.radius) <= self.within]
        if on:
            yield from (PitchProbe(center, foot, factor) for foot in on)
        elif number is not None:
            yield SizeProbe(number, factor)

    def _spread(self, holes: Sequence[int]) -> Iterator[SpreadProbe]:
        rounds = [c for n in holes if not isinstance(c := self.placed[n], Line)]
        middle = (sum(c.center[0] for c in rounds) / len(rounds),
                  sum(c.center[1] for c in rounds) / len(rounds))
        center, feet = self._feet(middle, None), tuple(CenterFoot(n) for n in holes)
        if center:
            yield from (SpreadProbe(center, feet, k) for k in range(len(feet)))

    def _angle(self, one: MeasuredAngle) -> Iterator[Probe]:
        for wedge in one.options:
            first, second = (self._ray(wedge, k) for k in (0, 1))
            if all(side.lines or side.places or side.fixed for side in (first, second)):
                yield AngleProbe((first, second))
                return

    def _ray(self, wedge: Wedge, number: int) -> RayFeet:
        way, vertex = wedge.rays[number], wedge.vertex
        level = is_straight(way)
        if wedge.slides and number == 0 and level:
            return RayFeet(way, fixed=True)
        far = (vertex[0] + self.size * way[0], vertex[1] + self.size * way[1])
        whole_ray = Line(vertex, far)
        lines = tuple(n for n, curve in self.placed.items() if isinstance(curve, Line)
                      and same_carrier(whole_ray, curve, self.within))
        on = [c.center for n in self.outline if not isinstance(c := self.placed[n], Line)
              and dist(c.center, vertex) > self.within
              and distance(whole_ray, c.center) <= self.within]
        start = self._feet(vertex, None)
        pairs = tuple((start, self._feet(at, None)) for at in on) if start else ()
        outline = tuple(n for n in lines if n in self.outline)
        return RayFeet(way, (*outline, *(n for n in lines if n not in outline)), pairs, level)

    # Tangencies.

    def _touches(self, said: Sequence[PaperEntry]) -> Iterator[PaperEntry]:
        """Give what runs smoothly into what; pairs that read alike are one entry."""
        owner = {n: k for k in self.outline for n in self.found[k].sources}
        number = {piece.id: n for n, piece in enumerate(self.pieces)}
        sizes = {probe.feature: entry.text for entry in said for probe in entry.probes
                 if isinstance(probe, SizeProbe)}
        groups: dict[str, dict[tuple[int, int], TouchProbe]] = {}
        for joint in joints_of(self.part, whole(self.part), 1e-9 * self.size, self.size):
            one, other = sorted(owner[number[name]] for name in joint.between)
            if one == other or joint.state != "tangent":
                continue
            probe = self._touch(one, other)
            if probe is not None:
                words = sorted((self._name(one, sizes), self._name(other, sizes)), reverse=True)
                groups.setdefault(f"{words[0]} tangent to {words[1]}", {})[one, other] = probe
        for text, probes in groups.items():
            count = f"{len(probes)}x " if len(probes) > 1 else ""
            about = tuple(dict.fromkeys(n for pair in probes for n in pair))
            yield self._with_wanted(f"touch:{'/'.join(map(str, about))}", count + text,
                                    probes.values(), about, is_touch=True)

    def _touch(self, one: int, other: int) -> TouchProbe | None:
        a, b = self.placed[one], self.placed[other]
        if isinstance(a, Line) and isinstance(b, Line):
            return None
        if isinstance(a, Line) or isinstance(b, Line):
            return TouchProbe((one, other))
        apart = dist(a.center, b.center)
        outside = abs(apart - a.radius - b.radius) <= abs(apart - abs(a.radius - b.radius))
        return TouchProbe((one, other), 1.0 if outside else -1.0)

    def _name(self, number: int, sizes: dict[int, str]) -> str:
        """Return what the paper calls a feature: by the size that it says, if it says one."""
        curve = self.placed[number]
        if isinstance(curve, Line):
            return "edge"
        same = (n for n in sizes if same_carrier(curve, self.placed[n], self.within))
        said = plain_size(sizes.get(next(same, -1), ""))
        return said if said[1:] else "arc"


def plain_size(text: str) -> str:
    """Return a size without count, tolerance and note: ``R8`` of ``4x R8 \N{PLUS-MINUS SIGN}0.1``.

    Parentheses of a reference dimension go as well.
    """
    bare = text.strip("()")
    count, _, rest = bare.partition(" ")
    if rest and count[:-1].isdigit() and count[-1] in "xX":
        bare = rest
    for behind in (" \N{PLUS-MINUS SIGN}", " +", " -", f" {EVEN}"):
        bare = bare.partition(behind)[0]
    return bare


def _counted_on(each: Feature, by: int) -> Feature:
    return Feature(each.curve, tuple(n + by for n in each.sources),
                   tuple((n + by, end) for n, end in each.ends))


def _distinct(
    found: Iterable[tuple[PaperFoot, ...]]
) -> list[tuple[PaperFoot, ...]]:
    """Return the feet of each place that has some; places on one edge are one."""
    kept: dict[object, tuple[PaperFoot, ...]] = {}
    for feet in found:
        if feet:
            lead = feet[0]
            edge = next((f.feature for f in feet if isinstance(f, EdgeFoot)), None)
            kept.setdefault(lead if edge is None or isinstance(lead, CenterFoot) else edge, feet)
    return list(kept.values())
