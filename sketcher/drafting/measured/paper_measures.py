"""What a dimension measures on paper: places, directions, rounds, wedges, and its wording."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from sketcher.drafting.dimension_text import Wording
from sketcher.geometry.curves import XY, Arc, Circle


@dataclass(frozen=True, slots=True)
class MeasuredLength:
    """A length along `direction` between two sides; each side has one or more places to start.

    `stands_for` names every binding that it says, its own among them; so too below.
    """

    id: str
    direction: XY
    first: tuple[XY, ...]
    second: tuple[XY, ...]
    wording: Wording
    inline: tuple[tuple[XY, XY], ...] = ()
    stands_for: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MeasuredRound:
    """A radius or diameter: a circle or an arc, or one of its images, shown by a leader.

    With `label` it measures nothing: the wording is a letter by which a note names the curve.
    """

    id: str
    curve: Arc | Circle
    diameter: bool
    wording: Wording
    images: tuple[Arc | Circle, ...] = ()
    stands_for: tuple[str, ...] = ()
    label: bool = False


@dataclass(frozen=True, slots=True)
class MeasuredAngle:
    """An angle: possible places, each a vertex, two rays and where the drawn lines end on them."""

    id: str
    options: tuple[Wedge, ...]
    wording: Wording
    stands_for: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Wedge:
    """A vertex and two unit rays; `spans` are the pieces of each ray that a drawn line covers.

    Where it `slides` the angle is one to level: any place along the second ray may be its vertex.
    """

    vertex: XY
    rays: tuple[XY, XY]
    spans: tuple[tuple[float, float], tuple[float, float]]
    slides: bool = False


Measured: TypeAlias = MeasuredLength | MeasuredRound | MeasuredAngle
