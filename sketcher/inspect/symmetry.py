"""The half against its axis: what lies on it, what crosses it, how the halves join."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, degrees

from sketcher.geometry.curves import XY, Circle, Curve
from sketcher.geometry.evaluate import end_of, start_of
from sketcher.geometry.meet import meet
from sketcher.inspect.joints import Joint
from sketcher.part.mirror import Reflector, reflector, taken
from sketcher.part.value import Mirror, Part
from sketcher.part.whole import Piece


@dataclass(frozen=True, slots=True)
class AxisJoint:
    """Where an edge meets its own reflection on the axis; a smooth one crosses the axis square."""

    at: XY
    between: tuple[str, str]
    smooth: bool
    angle_deg: float

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file."""
        return {
            "at": list(self.at),
            "between": list(self.between),
            "state": "smooth" if self.smooth else "corner",
            "angle_deg": self.angle_deg,
        }


@dataclass(frozen=True, slots=True)
class Symmetry:
    """One mirror of the part.

    Parameters
    ----------
    axis : str
        Id of the axis.
    angle_deg : float
        Its direction from level, in [0, 180).
    off_axis_deg : float
        Degrees by which it misses level or plumb, whichever is nearer; never negative.
    nearer : str
        ``"level"`` or ``"plumb"``.
    on_axis : tuple of str
        Outline that is its own reflection: on the axis, centered on it or across it.
    crossing : tuple of str
        Reflected outline that crosses the axis and so its own reflection: a finding.
    one_sided : tuple of str
        Outline that the mirror leaves out.
    joints : tuple of AxisJoint
        Where the two halves meet.
    """

    axis: str
    angle_deg: float
    off_axis_deg: float
    nearer: str
    on_axis: tuple[str, ...]
    crossing: tuple[str, ...]
    one_sided: tuple[str, ...]
    joints: tuple[AxisJoint, ...]

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file."""
        return {
            "axis": self.axis,
            "angle_deg": self.angle_deg,
            "off_axis_deg": self.off_axis_deg,
            "nearer": self.nearer,
            "on_axis": list(self.on_axis),
            "crossing": list(self.crossing),
            "one_sided": list(self.one_sided),
            "joints": [joint.as_dict() for joint in self.joints],
        }


def symmetries_of(
    part: Part, pieces: Sequence[Piece], joints: Sequence[Joint], tol: float
) -> tuple[Symmetry, ...]:
    """Return what the inspection says about each mirror, in the order of the part.

    Parameters
    ----------
    part : Part
        The solved part.
    pieces : sequence of Piece
        Its curves with all images.
    joints : sequence of Joint
        Of the whole outline.
    tol : float
        Length in the part's unit below which two places are one.

    Returns
    -------
    tuple of Symmetry
        One for each mirror; none without.

    Raises
    ------
    GeometryError
        When an axis has no length.
    """
    return tuple(
        _symmetry(part, mirror, number, pieces, joints, tol)
        for number, mirror in enumerate(part.mirrors)
    )


def _symmetry(
    part: Part, mirror: Mirror, number: int, pieces: Sequence[Piece], joints: Sequence[Joint],
    tol: float,
) -> Symmetry:
    reflection = reflector(part, mirror)
    reflected = taken(part, mirror)
    drawn = [piece for piece in pieces if piece.drawn and piece.role == "outline"]
    own = dict.fromkeys(piece.id for piece in drawn if reflection.keeps(piece.curve))
    crossing = [
        piece.id
        for piece in drawn
        if piece.id in reflected and piece.id not in own and crosses(piece.curve, reflection, tol)
    ]
    dx, dy = reflection.axis.direction
    angle = degrees(atan2(dy, dx)) % 180.0
    off_level, off_plumb = min(angle, 180.0 - angle), abs(angle - 90.0)
    one_sided = [piece.id for piece in drawn if piece.id not in reflected]
    return Symmetry(
        mirror.axis, angle, min(off_level, off_plumb),
        "level" if off_level <= off_plumb else "plumb", tuple(own), tuple(crossing),
        tuple(one_sided), _axis_joints(joints, pieces, number),
    )


def _axis_joints(
    joints: Sequence[Joint], pieces: Sequence[Piece], number: int
) -> tuple[AxisJoint, ...]:
    """Joints of a piece with its own image about an axis."""
    images = {piece.id: piece.image for piece in pieces}
    return tuple(
        AxisJoint(joint.at, joint.between, joint.state == "tangent", degrees(joint.angle))
        for joint in joints
        if joint.state in {"tangent", "corner", "near-tangent"}
        and joint.between[1] == images[joint.between[0]].reflected(number).name
    )


def crosses(curve: Curve, reflection: Reflector, tol: float) -> bool:
    """Tell whether the axis passes through the curve away from its ends."""
    if isinstance(curve, Circle):
        return abs(reflection.height(curve.center)) < curve.radius - tol
    heights = reflection.height(start_of(curve)), reflection.height(end_of(curve))
    if min(heights) < -tol and max(heights) > tol:
        return True
    return any(
        tol < min(meeting.a, 1.0 - meeting.a) * curve.length and meeting.kind == "crossing"
        for meeting in meet(curve, reflection.axis, bounded=(True, False))
    )
