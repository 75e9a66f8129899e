"""What the marks of a whole class come to: points, rules, places, dimensions."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from statistics import fmean, median, quantiles, stdev

import numpy as np

from sketcher.geometry.curves import XY
from sketcher.marking.marks import Deduction, Marks
from sketcher.marking.rules import marking_rules

BINS = 10  # of the histogram of points
ONE_PLACE = 0.04
"""Share of the part's size within which mistakes are told of one place (a guess)."""
VALUES = ("wrong-value", "dimension-value")
"""Rules by which a dimension of the key is known to be hard."""


@dataclass(frozen=True, slots=True)
class PointsSpread:
    """How the points of a class are spread; the spread is the standard deviation of a sample."""

    count: int
    mean: float
    median: float
    spread: float
    lowest: float
    highest: float
    middle: tuple[float, float]


@dataclass(frozen=True, slots=True)
class RuleTally:
    """How many hand-ins a rule took points from, how often, how many points; or could not tell."""

    rule: str
    hand_ins: int
    times: int
    points: float
    undecided: int


@dataclass(frozen=True, slots=True)
class FailedPlace:
    """A place of the part, how many hand-ins went wrong there, and by which rules, most first."""

    at: XY
    hand_ins: int
    rules: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class HardDimension:
    """A dimension of the key, how many drew it otherwise, and the values found, most first."""

    wanted: str
    text: str
    hand_ins: int
    found: tuple[tuple[str, int], ...]


def graded(results: Sequence[tuple[str, Marks]]) -> tuple[Marks, ...]:
    """Return the marks of those that have points."""
    return tuple(marks for _, marks in results if marks.has_points)


def points_spread(some: Sequence[Marks]) -> PointsSpread | None:
    """Return how points are spread; None where there are none."""
    points = [marks.points for marks in some]
    if not points:
        return None
    low, high = (points[0],) * 2
    if len(points) > 1:
        low, _, high = quantiles(points, n=4, method="inclusive")
    return PointsSpread(len(points), fmean(points), median(points),
                        stdev(points) if len(points) > 1 else 0.0, min(points), max(points),
                        (low, high))


def histogram(some: Sequence[Marks], base: float) -> tuple[int, ...]:
    """Return how many have points in each tenth of `base`; the last one holds all points too."""
    counts = [0] * BINS
    for marks in some:
        counts[max(0, min(BINS - 1, int(marks.points / base * BINS)))] += 1
    return tuple(counts)


def rule_tallies(some: Sequence[Marks]) -> tuple[RuleTally, ...]:
    """Return what each rule took, the most points first; rules that told nothing are left out."""
    hand_ins: Counter[str] = Counter()
    times: Counter[str] = Counter()
    points: defaultdict[str, float] = defaultdict(float)
    undecided: Counter[str] = Counter()
    for marks in some:
        undecided.update(list(marks.undecided))
        for each in marks.kept:
            times[each.rule] += 1
            points[each.rule] += each.points
        hand_ins.update({each.rule for each in marks.kept})
    tallies = [RuleTally(name, hand_ins[name], times[name], points[name], undecided[name])
               for name in marking_rules() if times[name] or undecided[name]]
    return tuple(sorted(tallies, key=lambda each: (-each.points, -each.hand_ins)))


def failed_places(some: Sequence[Marks], size: float) -> tuple[FailedPlace, ...]:
    """Return where hand-ins went wrong, the place where most did first.

    Parameters
    ----------
    some : sequence of Marks
    size : float
        Of the part, in the unit of the places.
    """
    told = [(number, each) for number, marks in enumerate(some) for each in marks.kept
            if marking_rules()[each.rule].group != "sheet"]
    if not told:
        return ()
    at = np.array([each.mistake.at for _, each in told])
    near = np.hypot(*(at[:, None, :] - at[None, :, :]).transpose(2, 0, 1)) <= ONE_PLACE * size
    own = np.zeros((len(told), len(some)), bool)
    own[np.arange(len(told)), [number for number, _ in told]] = True
    left = np.ones(len(told), bool)
    found: list[FailedPlace] = []
    while left.any():
        # a hand-in counts once at a place, however often it went wrong there
        many = ((near & left[None, :]).astype(float) @ own > 0.0).sum(axis=1) * left
        members = near[int(many.argmax())] & left
        left &= ~members
        chosen = [told[k] for k in np.flatnonzero(members)]
        rules = Counter(rule for rule, _ in {(each.rule, number) for number, each in chosen})
        x, y = np.median(at[members], axis=0).tolist()
        found.append(FailedPlace((x, y), int(many.max()), tuple(sorted(
            rules.items(), key=lambda pair: (-pair[1], pair[0])))))
    return tuple(found)


def hard_dimensions(some: Sequence[Marks]) -> tuple[HardDimension, ...]:
    """Return which dimensions of the key were drawn otherwise, the most often first."""
    groups: dict[tuple[str, str], list[Deduction]] = {}
    texts: dict[tuple[str, str], str] = {}
    for each in _of_values(some):
        mistake = each.mistake
        said = mistake.text.replace(mistake.found, "…") if mistake.found else mistake.text
        named = (mistake.of, "") if mistake.of else (mistake.wanted, said)
        groups.setdefault(named, []).append(each)
        texts.setdefault(named, said)
    found = [HardDimension(members[0].mistake.wanted, texts[named], len(members), tuple(Counter(
        each.mistake.found for each in members).most_common()))
        for named, members in groups.items()]
    return tuple(sorted(found, key=lambda each: -each.hand_ins))


def _of_values(some: Sequence[Marks]) -> Iterator[Deduction]:
    for marks in some:
        yield from (each for each in marks.kept if each.rule in VALUES)
