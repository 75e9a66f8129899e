"""What a rule of marking is, and what it finds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from sketcher.geometry.curves import XY

if TYPE_CHECKING:
    from sketcher.marking.comparison import Comparison

RuleGroup = Literal["outline", "center lines", "dimensions", "sheet", "part file"]


@dataclass(frozen=True, slots=True)
class Mistake:
    """One thing that is wrong, told once however much hangs on it.

    Parameters
    ----------
    at : (x, y)
        Where to look, in the place and unit of the key, where the hand-in has it.
    found, wanted : str
        What the hand-in has and what the key has, as the paper would write it; may be empty.
    text : str
        One clause for the student: what is wrong and where.
    entities : tuple of int
        Entities of the hand-in that show it.
    count : int
        Places that share it: four holes of one wrong size are one mistake at four places.
    of : str
        The dimension of the key that it is about: a binding's id, a parameter, or a pattern with
        its field as in `KeyChange`; empty for none. Never shown.
    """

    at: XY
    found: str
    wanted: str
    text: str
    entities: tuple[int, ...] = ()
    count: int = 1
    of: str = ""


@dataclass(frozen=True, slots=True)
class Undecided:
    """Why a rule cannot be decided on a hand-in: never deducted, always told."""

    reason: str


@dataclass(frozen=True, slots=True)
class MarkingRule:
    """A rule of marking.

    Parameters
    ----------
    name : str
        One word with hyphens, as in rubrics and tables.
    title : str
        What it is about, for people: a few words.
    points, cap : float
        Taken off for each mistake, and at most (common practice, no source).
    group : str
        What of a drawing it looks at.
    decide : callable
        From a comparison to its mistakes in reading order (x, then y), or why it cannot tell.
    rank : int
        Where it stands in its group.
    limit : float or None
        What a teacher may set: a length in mm or an angle in degrees, as `limit_text` says.
    limit_text : str
    """

    name: str
    title: str
    points: float
    cap: float
    group: RuleGroup
    decide: Callable[[Comparison], tuple[Mistake, ...] | Undecided]
    rank: int = 0
    limit: float | None = None
    limit_text: str = ""

    @property
    def heading(self) -> str:
        """Title as it begins a line."""
        return f"{self.title[:1].upper()}{self.title[1:]}"
