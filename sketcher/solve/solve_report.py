"""What a solve found out: never silent, always the same form.

In the literature's words bound, loose and clashing are well-constrained, under-constrained and
over-constrained (inconsistent); what is doubled is redundant: over-constrained, but consistent.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from sketcher.geometry.curves import XY
from sketcher.part.value import Part, frozen

State: TypeAlias = Literal["bound", "loose", "clashing"]


@dataclass(frozen=True, slots=True)
class LoosePoint:
    """A point that can still move, with one or two unit vectors that span its motions.

    `point` is a point's id, or a circle's id for a radius that is free (then no directions).
    """

    point: str
    directions: tuple[XY, ...]


@dataclass(frozen=True, slots=True)
class SolveReport:
    """Outcome of a solve.

    Parameters
    ----------
    converged : bool
        Every driving binding holds to 1e-9 of the part's size.
    iterations : int
        Newton steps, all walks together.
    residuals : mapping of str to float
        Actual minus wanted for each driving binding, in the part's unit or in degrees.
    freedoms : int
        Independent ways in which the half can still move: degrees of freedom, those of the half as
        one rigid body among them.
    loose : tuple of LoosePoint
        Points that can still move.
    doubled : tuple of str
        Bindings that follow from the others and agree with them: redundant constraints.
    clashes : tuple of tuple of str
        Smallest sets of bindings that cannot all hold: minimal inconsistent sets of constraints.
    states : mapping of str to State
        State of each curve by id.
    vanishing : tuple of str
        Lines and rounds that shrink to nothing on the way, when no solution is reached: beyond
        that the line would have to run backwards.
    turned : tuple of str
        Bindings that hold, but on the other side than they say: a level or plumb line that runs
        the other way, a point at the other of two crossings. The values leave no choice.
    unreached : tuple of str
        Where no solution is reached and nothing but these dimensions is off: those whose values
        cannot be had from the geometry that stays.
    """

    converged: bool = True
    iterations: int = 0
    residuals: Mapping[str, float] = field(default_factory=frozen)
    freedoms: int = 0
    loose: tuple[LoosePoint, ...] = ()
    doubled: tuple[str, ...] = ()
    clashes: tuple[tuple[str, ...], ...] = ()
    states: Mapping[str, State] = field(default_factory=frozen)
    vanishing: tuple[str, ...] = ()
    turned: tuple[str, ...] = ()
    unreached: tuple[str, ...] = ()

    @property
    def troubled(self) -> frozenset[str]:
        """Bindings that clash, or whose values cannot be had."""
        return frozenset((*self.unreached, *(name for clash in self.clashes for name in clash)))

    @property
    def state(self) -> State:
        """State of the part as a whole; a clash outweighs a freedom."""
        if self.clashes or not self.converged:
            return "clashing"
        return "loose" if self.freedoms else "bound"


@dataclass(frozen=True, slots=True)
class Solution:
    """The solved part, or the last good geometry under the same bindings, and the report."""

    part: Part
    report: SolveReport
