"""What the pointer says and what the scene shows of a tool's work in progress: plain values."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from sketcher.board.dimensions.dimension_lines import DimLines
from sketcher.geometry.curves import XY, Curve
from sketcher.part.value import Role

NO_KEYS: frozenset[str] = frozenset()

Shape: TypeAlias = Literal[
    "end", "middle", "center", "quadrant", "crossing", "on", "tangent", "square", "direction",
    "zero", "image", "free", "start", "handle", "awake",
]
Mood: TypeAlias = Literal["new", "image", "leaves", "hint"]


@dataclass(frozen=True, slots=True)
class Pointer:
    """Where the pointer is.

    Parameters
    ----------
    x, y : float
        Place in the part's unit.
    reach : float
        Radius within which things are picked, in the part's unit.
    keys : frozenset of str
        Keys held down: any of ``"shift"``, ``"ctrl"``, ``"alt"``.
    """

    x: float
    y: float
    reach: float = 1.0
    keys: frozenset[str] = NO_KEYS

    @property
    def at(self) -> XY:
        """The place as a point."""
        return (self.x, self.y)


@dataclass(frozen=True, slots=True)
class Ghost:
    """A curve that is not in the part yet: new, the image of one, or one that is about to leave."""

    curve: Curve
    role: Role = "outline"
    mood: Mood = "new"


@dataclass(frozen=True, slots=True)
class Mark:
    """A sign at a place; its shape tells what was found there."""

    at: XY
    shape: Shape = "free"


@dataclass(frozen=True, slots=True)
class Word:
    """A word beside a place."""

    at: XY
    text: str


@dataclass(frozen=True, slots=True)
class Guide:
    """A thin line that shows why a place was taken: level with something, on the same circle."""

    curve: Curve


@dataclass(frozen=True, slots=True)
class Box:
    """The selection box from one corner to the other.

    `touching` is True when whatever the box touches is taken, False when only what lies inside.
    """

    corners: tuple[XY, XY]
    touching: bool


@dataclass(frozen=True, slots=True)
class RegionFill:
    """A region that is about to be taken: its outer boundary and its holes, each a closed run."""

    loops: tuple[tuple[Curve, ...], ...]
    mood: Mood = "new"


@dataclass(frozen=True, slots=True)
class Preview:
    """Everything that the scene draws of a tool's work in progress."""

    curves: tuple[Ghost, ...] = ()
    marks: tuple[Mark, ...] = ()
    words: tuple[Word, ...] = ()
    guides: tuple[Guide, ...] = ()
    dims: tuple[DimLines, ...] = ()
    box: Box | None = None
    lit: tuple[str, ...] = field(default=())
    fills: tuple[RegionFill, ...] = ()

    def __add__(self, other: Preview) -> Preview:
        """Return both together; the other's box, where it has one."""
        return Preview(
            self.curves + other.curves, self.marks + other.marks, self.words + other.words,
            self.guides + other.guides, self.dims + other.dims, other.box or self.box,
            self.lit + other.lit, self.fills + other.fills,
        )
