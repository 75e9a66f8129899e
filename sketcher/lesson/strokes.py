"""What a hand does on the paper, one stroke a value: straightedge, compass, and what crosses.

Strokes name points, lines and circles. Things of the part have their own ids; what is drawn only to
get at them has the number of its step and a letter (``7A``), which no id can begin with. Places are
in the part's unit. They say where a stroke comes to lie, for pictures; nothing is constructed from
them but the first points of all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from sketcher.geometry.curves import XY

Word: TypeAlias = Literal["only", "upper", "lower", "left", "right", "nearer", "farther"]
"""Which of two crossings is meant; ``nearer`` and ``farther`` are measured from a point."""


@dataclass(frozen=True, slots=True)
class Compass:
    """How far the compass is opened.

    Parameters
    ----------
    amount : float
        In the part's unit.
    text : str
        As it is said: the paper's own number, a sum of such, or the two points it is taken from.
    span : tuple of str, or None
        The two known points between which it is taken; None where the rule is used.
    free : bool
        Any opening would do; `amount` is what this drawing takes.
    """

    amount: float
    text: str
    span: tuple[str, str] | None = None
    free: bool = False

    @property
    def said(self) -> str:
        """How it is spoken of."""
        return f"the opening {self.text}" if self.span else self.text


@dataclass(frozen=True, slots=True)
class Which:
    """One of the crossings of two things, told in words.

    Parameters
    ----------
    word : Word
    of : str
        The point that it is nearer to or farther from, else empty.
    """

    word: Word = "only"
    of: str = ""


@dataclass(frozen=True, slots=True)
class GivenPoint:
    """A point that is marked, not constructed: the datum, or one that may lie anywhere.

    Parameters
    ----------
    name : str
    at : (float, float)
    """

    name: str
    at: XY


@dataclass(frozen=True, slots=True)
class GivenLine:
    """The level line through the datum, drawn along the edge of the board.

    Parameters
    ----------
    name : str
    through : str
        A known point.
    ends : pair of (float, float)
        Where it runs in a picture.
    """

    name: str
    through: str
    ends: tuple[XY, XY]


@dataclass(frozen=True, slots=True)
class Ruled:
    """A line along the straightedge.

    Parameters
    ----------
    name : str
    through : tuple of str
        Two known points.
    ends : pair of (float, float)
        Where it runs in a picture.
    """

    name: str
    through: tuple[str, str]
    ends: tuple[XY, XY]


@dataclass(frozen=True, slots=True)
class Angled:
    """A line at an angle laid off with the protractor: measured, not constructed.

    Parameters
    ----------
    name : str
    at : str
        A known point on it.
    base : str
        The line from which the angle is measured.
    degrees : float
        Counter-clockwise from `base` taken as it runs to the right (upward where it is plumb).
    text : str
        As the paper has it.
    ends : pair of (float, float)
        Where it runs in a picture.
    """

    name: str
    at: str
    base: str
    degrees: float
    text: str
    ends: tuple[XY, XY]


@dataclass(frozen=True, slots=True)
class Swung:
    """A circle of the compass, or as much of it as is wanted.

    Parameters
    ----------
    name : str
    center : str
        A known point.
    opening : Compass
    at : (float, float)
        The center.
    spans : tuple of (float, float)
        Arcs to draw in a picture, from an angle counter-clockwise by a turn, in radians; empty for
        the whole circle.
    """

    name: str
    center: str
    opening: Compass
    at: XY
    spans: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Crossed:
    """A point where two known lines or circles cross.

    Parameters
    ----------
    name : str
    of : tuple of str
        Two known things.
    which : Which
    at : (float, float)
    """

    name: str
    of: tuple[str, str]
    which: Which
    at: XY


@dataclass(frozen=True, slots=True)
class Named:
    """A second name for a point: two things of the part share one place.

    Parameters
    ----------
    name, of : str
    """

    name: str
    of: str


@dataclass(frozen=True, slots=True)
class GoneOver:
    """A curve of the part drawn out heavily on the thin line or circle that carries it.

    Parameters
    ----------
    name : str
        The curve, or its image.
    on : str
        The line or circle.
    ends : tuple of str
        Two known points; empty for a whole circle.
    way : str
        ``ccw`` or ``cw`` from the first to the second for an arc, else empty.
    shape : tuple of (float, float)
        Places along it, for pictures.
    """

    name: str
    on: str
    ends: tuple[str, ...]
    way: str
    shape: tuple[XY, ...]


Stroke: TypeAlias = (GivenPoint | GivenLine | Ruled | Angled | Swung | Crossed | Named
                     | GoneOver)


@dataclass(frozen=True, slots=True)
class Move:
    """One sentence at the board with the strokes that do what it says.

    Parameters
    ----------
    text : str
    strokes : tuple of Stroke
        In order; each uses only what was drawn before.
    """

    text: str
    strokes: tuple[Stroke, ...]
