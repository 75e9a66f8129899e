"""What one condition makes of a point, a line or an opening of the compass, as values.

A kind says it with these (`Kind.locus`, `found`, `course`, `opening`); the drawing board knows how
each is drawn and how it is said, and knows no kind by name. Ids are those of the part; places come
from the solved geometry and only tell sides apart.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from sketcher.geometry.curves import XY

Axis: TypeAlias = Literal[0, 1]
"""0 for what runs plumb (one x), 1 for what runs level (one y)."""


@dataclass(frozen=True, slots=True)
class Term:
    """One term of a length.

    Parameters
    ----------
    sign : int
        1 or -1.
    size : float
        In the part's unit, positive.
    of : str
        The round whose radius it is, if it is one.
    span : tuple of str
        The two points between which it is taken; empty where the paper gives its number, and for a
        round that has no point of its own.
    text : str
        That number as it is said; empty where it is taken between points.
    """

    sign: int
    size: float
    of: str = ""
    span: tuple[str, ...] = ()
    text: str = ""


@dataclass(frozen=True, slots=True)
class Amount:
    """A length with its text.

    Parameters
    ----------
    size : float
        In the part's unit, not negative.
    text : str
        The number as the paper has it: ``9/16``.
    made : str
        The arithmetic behind it, empty where it is typed itself: ``52 + 18``.
    reason : str
        Where that comes from: ``radii of a1 and a2``.
    terms : tuple of Term
        What it is made of; empty where it is typed itself.
    """

    size: float
    text: str
    made: str = ""
    reason: str = ""
    terms: tuple[Term, ...] = ()

    @property
    def said(self) -> str:
        """The number with the arithmetic behind it."""
        return f"{self.text} = {self.made}" if self.made else self.text

    @property
    def measured(self) -> bool:
        """Whether a number of the paper gives it, so that the rule can be used."""
        return all(term.text for term in self.terms)


# Where a point lies.


@dataclass(frozen=True, slots=True)
class OnCurve:
    """On a line or round of the part."""

    curve: str


@dataclass(frozen=True, slots=True)
class Beside:
    """On the plumb or level line at a distance from a point; through it without one."""

    point: str
    axis: Axis
    amount: Amount | None = None
    sign: float = 1.0


@dataclass(frozen=True, slots=True)
class RoundAbout:
    """On a circle about a point."""

    point: str
    amount: Amount


@dataclass(frozen=True, slots=True)
class Along:
    """On the parallel to a line at a distance, on the side where a place lies."""

    line: str
    amount: Amount
    side: XY


@dataclass(frozen=True, slots=True)
class SquareOver:
    """On the line square to a line through a point."""

    line: str
    point: str


@dataclass(frozen=True, slots=True)
class Through:
    """On the line through two points."""

    one: str
    other: str


@dataclass(frozen=True, slots=True)
class BesideLocus:
    """On the plumb or level line at a distance from a point of which only such a line is known."""

    point: str
    locus: OnCurve | Beside | Along | SquareOver | Through
    axis: Axis
    amount: Amount | None = None


Locus: TypeAlias = OnCurve | Beside | BesideLocus | RoundAbout | Along | SquareOver | Through


# A place that one condition gives alone.


@dataclass(frozen=True, slots=True)
class Halfway:
    """Halfway between two points."""

    one: str
    other: str


@dataclass(frozen=True, slots=True)
class Opposite:
    """As far beyond a middle as a point lies before it."""

    middle: str
    start: str


@dataclass(frozen=True, slots=True)
class ImageOf:
    """The reflection of a point about a line."""

    point: str
    axis: str


@dataclass(frozen=True, slots=True)
class SameAs:
    """The place of another point."""

    point: str


Found: TypeAlias = Halfway | Opposite | ImageOf | SameAs


# How a line runs.


@dataclass(frozen=True, slots=True)
class PlumbOrLevel:
    """Plumb (0) or level (1)."""

    axis: Axis


@dataclass(frozen=True, slots=True)
class ParallelTo:
    """Parallel to a line; at a distance from it where there is an amount."""

    line: str
    amount: Amount | None = None
    side: XY = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class SquareTo:
    """Square to a line."""

    line: str


@dataclass(frozen=True, slots=True)
class AtAngle:
    """At an angle to a line, or to level where `line` is empty.

    `degrees` is counter-clockwise from the line as it runs to the right (upward where plumb).
    """

    line: str
    degrees: float
    text: str


@dataclass(frozen=True, slots=True)
class SquareToRay:
    """Square to the line through two points."""

    one: str
    other: str


@dataclass(frozen=True, slots=True)
class Passing:
    """Through a point."""

    point: str


@dataclass(frozen=True, slots=True)
class LyingAlong:
    """On the straight locus of a point that is found only later."""

    point: str
    locus: Locus


@dataclass(frozen=True, slots=True)
class Clear:
    """At a distance from a point; `ring` names the round about it that the line touches, if any."""

    point: str
    amount: Amount
    ring: str = ""


@dataclass(frozen=True, slots=True)
class AnyWay:
    """Nothing says how it runs."""


Course: TypeAlias = (PlumbOrLevel | ParallelTo | SquareTo | AtAngle | SquareToRay | Passing
                     | LyingAlong | Clear | AnyWay)


# How far the compass is opened for a round.


@dataclass(frozen=True, slots=True)
class Reaching:
    """So that the round goes through a point."""

    point: str


@dataclass(frozen=True, slots=True)
class Touching:
    """So that the round touches a curve, or leaves a web beside it."""

    curve: str
    web: Amount | None = None


@dataclass(frozen=True, slots=True)
class AnyRadius:
    """Nothing says how large it is."""


Opened: TypeAlias = Amount | Reaching | Touching | AnyRadius
