"""One joint as a value, and the ends that it is made of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan2, degrees
from types import MappingProxyType
from typing import Literal, NamedTuple, TypeAlias

from sketcher.geometry.curves import XY
from sketcher.inspect.findings import CODES

JointState: TypeAlias = Literal["tangent", "corner", "near-tangent", "gap", "overrun"]

JOINT_STATES: Mapping[str, tuple[str, str]] = MappingProxyType({
    "tangent": ("The edge runs on smoothly, so a cutter passes without slowing down.",
                "Nothing to mend. Bind it tangent, if it is not, so that it stays so."),
    "corner": ("The edge turns, as it plainly should.",
               "Nothing to mend. If the drawing shows it rounded, put a fillet there."),
    **{state: (CODES[state].why, CODES[state].mend)
       for state in ("near-tangent", "gap", "overrun")},
})
"""Of every state of a joint why it matters, and what mends it."""


@dataclass(frozen=True, slots=True)
class Joint:
    """The place where two outline curves meet, or should.

    Parameters
    ----------
    at : (x, y)
        The place; for a gap the middle of it.
    between : (str, str)
        Ids of the two pieces, those of images included.
    state : str
        ``tangent``, ``corner``, ``near-tangent``, ``gap`` or ``overrun``.
    gap : float
        Distance between the two ends; for an overrun, the length that runs past.
    angle : float
        Break of direction in radians: 0 goes on smoothly, pi folds straight back.
    residual : float or None
        By what length the curves miss tangency; None where tangency is not meant.
    bound : bool
        A binding says that the two are tangent.
    floor : float
        The break of direction, in radians, that counts as none here.
    """

    at: XY
    between: tuple[str, str]
    state: JointState
    gap: float
    angle: float
    residual: float | None
    bound: bool
    floor: float

    @property
    def holds(self) -> bool:
        """False for a joint that is bound tangent and is not."""
        return not self.bound or self.state == "tangent"

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file."""
        return {
            "at": list(self.at),
            "between": list(self.between),
            "state": self.state,
            "gap": self.gap,
            "angle_deg": degrees(self.angle),
            "residual": self.residual,
            "bound": self.bound,
        }


class OutlineEnd(NamedTuple):
    """One end of a piece: number of the piece, place, and unit direction into the curve."""

    piece: int
    at: XY
    inward: XY


def turn_between(a: OutlineEnd, b: OutlineEnd) -> float:
    """Return the break of direction in [0, pi] where one end goes on as the other."""
    (ax, ay), (bx, by) = a.inward, b.inward
    return abs(atan2(ax * by - ay * bx, -(ax * bx + ay * by)))
