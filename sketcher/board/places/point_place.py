"""A place for a new point, and why it is there."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.picking import Picker
from sketcher.board.places.zero import Zero
from sketcher.board.preview import Guide, Mark, Pointer, Shape, Word
from sketcher.geometry.curves import XY, Curve
from sketcher.part.value import Part


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a new point would be.

    Parameters
    ----------
    at : tuple of float
        Place in the part's unit.
    word : str
        What is shown beside the pointer; empty for a free place.
    ties : tuple of Tie
        What the place becomes as bindings.
    point : str or None
        Id of the point that is already there and is used.
    shape : str
        Sign that marks it.
    guides : tuple of Guide
        Thin lines that explain it.
    locus : Curve or None
        For a snap that leaves one way to go: the unbounded line or the full circle along which it
        leads; None for a single place.
    rank : int
        The lower, the stronger.
    """

    at: XY
    word: str = ""
    ties: tuple[Tie, ...] = ()
    point: str | None = None
    shape: Shape = "free"
    guides: tuple[Guide, ...] = ()
    locus: Curve | None = None
    rank: int = 9

    def now(self, part: Part) -> Spot:
        """Return the place as the part stands now: its point may have moved, or be gone."""
        if self.point is None:
            return self
        at = part.points.get(self.point)
        return replace(self, point=None) if at is None else replace(self, at=at)

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The sign at the place."""
        return (Mark(self.at, self.shape),)

    @property
    def words(self) -> tuple[Word, ...]:
        """The word beside it."""
        return (Word(self.at, self.word),) if self.word else ()


@dataclass(frozen=True, slots=True)
class Around:
    """What a snap may look at.

    Parameters
    ----------
    pointer : Pointer
        Where the pointer is and how far it reaches.
    part, picker : Part, Picker
        The part as it stands.
    start : tuple of float or None
        Where the piece that is being drawn begins.
    start_point : str or None
        Its point, when the part holds it already.
    straight : bool
        True while that piece is a line.
    before : str or None
        The curve that ends at the start.
    heading : tuple of float or None
        Unit direction in which that curve arrives.
    touched : tuple of str
        Points and curves that the pointer was on lately.
    zero : Zero
        Zero of the readout.
    within : float
        How far a direction may be off to be taken, in radians.
    """

    pointer: Pointer
    part: Part
    picker: Picker
    start: XY | None = None
    start_point: str | None = None
    straight: bool = False
    before: str | None = None
    heading: XY | None = None
    touched: tuple[str, ...] = ()
    zero: Zero = Zero()  # noqa: RUF009 - a frozen value
    within: float = 0.05
