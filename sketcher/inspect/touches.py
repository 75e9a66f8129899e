"""Curves that are bound tangent without sharing an end: how far they are from touching."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees

from sketcher.geometry.curves import XY
from sketcher.inspect import tangency
from sketcher.inspect.joints import Joint
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part
from sketcher.part.whole import half


@dataclass(frozen=True, slots=True)
class Touch:
    """A tangency away from the ends: signed residual as a length, crossing angle in radians.

    The residual is positive for curves that stay apart, negative where they cut into each other.
    """

    id: str
    between: tuple[str, str]
    at: XY
    residual: float
    angle: float
    holds: bool

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file."""
        return {
            "id": self.id,
            "between": list(self.between),
            "at": list(self.at),
            "residual": self.residual,
            "angle_deg": degrees(self.angle),
        }


def touches_of(part: Part, joints: Sequence[Joint], tol: float) -> tuple[Touch, ...]:
    """Return the tangencies that are no joints of the outline, in the order of the ledger.

    Layout curves count too: a scribed circle that touches an edge places that edge.

    Parameters
    ----------
    part : Part
        The solved part.
    joints : sequence of Joint
        Of the whole outline.
    tol : float
        Length in the part's unit up to which a tangency holds.
    """
    joined = {frozenset(joint.between) for joint in joints if joint.bound}
    shapes = half(part)
    found = []
    for name, binding in part.bindings.items():
        if not KINDS[binding.kind].joins or frozenset(binding.of) in joined:
            continue
        a, b = (shapes[curve] for curve in binding.of)
        off = tangency.residual(a, b)
        found.append(Touch(
            name, (binding.of[0], binding.of[1]), tangency.place(a, b), off, tangency.angle(a, b),
            abs(off) <= tol,
        ))
    return tuple(found)
