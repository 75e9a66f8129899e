"""What a mirror about an axis would do: told before it is made."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sketcher.board.steps.bench import listed
from sketcher.geometry.bounds import size_of, tolerance
from sketcher.geometry.curves import Curve
from sketcher.part.value import Mirror, Part
from sketcher.part.whole import Piece, whole

if TYPE_CHECKING:
    from sketcher.inspect.symmetry import Symmetry

SQUARE = 1e-6
"""Degrees off level or plumb that count as none: what is printed with six decimals reads as 0."""


@dataclass(frozen=True, slots=True)
class MirrorReport:
    """A mirror tried on a part.

    Parameters
    ----------
    symmetry : Symmetry
        Angle of the axis, joints across it, curves on it and crossing it, one-sided curves.
    images : tuple of Piece
        What the mirror would add.
    """

    symmetry: Symmetry
    images: tuple[Piece, ...]

    @property
    def curves(self) -> tuple[Curve, ...]:
        """Geometry of what the mirror would add."""
        return tuple(piece.curve for piece in self.images)

    def lines(self) -> tuple[str, ...]:
        """Return what is to be said, a sentence each."""
        found = self.symmetry
        said = [axis_words(found)]
        smooth = [joint for joint in found.joints if joint.smooth]
        corners = [joint for joint in found.joints if not joint.smooth]
        if smooth:
            said.append(f"{_count(len(smooth), 'edge crosses', 'edges cross')} the axis square: "
                        "the halves join smoothly.")
        if corners:
            names = listed(dict.fromkeys(joint.between[0] for joint in corners))
            said.append(f"{names} meet{'s' if len(corners) == 1 else ''} the image at a corner.")
        if not found.joints:
            said.append("No edge ends on the axis: the halves do not join.")
        if found.on_axis:
            said.append(f"{listed(found.on_axis)} lie{'s' if len(found.on_axis) == 1 else ''} on "
                        f"the axis and stay{'s' if len(found.on_axis) == 1 else ''} single.")
        if found.crossing:
            said.append(f"{listed(found.crossing)} cross"
                        f"{'es' if len(found.crossing) == 1 else ''} the axis: the image would "
                        "cross it as well.")
        if found.one_sided:
            said.append(f"{listed(found.one_sided)} stay{'s' if len(found.one_sided) == 1 else ''} "
                        "on one side.")
        return tuple(said)


def axis_words(found: Symmetry) -> str:
    """Say how the axis stands."""
    if found.off_axis_deg <= SQUARE:
        return f"The axis {found.axis} is {found.nearer}."
    return (f"The axis {found.axis} stands at {found.angle_deg:.6g}\N{DEGREE SIGN}, "
            f"{found.off_axis_deg:.3g}\N{DEGREE SIGN} off {found.nearer}.")


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"


def try_mirror(part: Part, mirror: Mirror) -> MirrorReport:
    """Return what a mirror would do to a part as it stands.

    The mirrors that the part has are left out of the trial.

    Raises
    ------
    GeometryError
        When the axis has no length.
    """
    from sketcher.inspect.joints import joints_of
    from sketcher.inspect.symmetry import symmetries_of

    trial = part.having(mirrors=(mirror,))
    pieces = whole(trial)
    outline = [piece.curve for piece in pieces if piece.role == "outline"]
    tol = tolerance(outline)
    joints = joints_of(trial, pieces, tol, size_of(outline))
    symmetry = symmetries_of(trial, pieces, joints, tol)[0]
    images = tuple(piece for piece in pieces if piece.image.mirrors)
    return MirrorReport(symmetry, images)
