"""A hand-in laid on the key: what the rules of marking look at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from sketcher.drafting.paper_view import MM_PER
from sketcher.geometry.curves import XY, Curve
from sketcher.marking.assignment import Matching
from sketcher.marking.hand_in import HandIn, LayerRole
from sketcher.marking.key_changes import KeyChange
from sketcher.marking.key_shape import KeyShape
from sketcher.marking.outline_features import Feature
from sketcher.marking.poses import Pose
from sketcher.part.value import frozen

if TYPE_CHECKING:
    from sketcher.marking.center_evidence import CenterEvidence
    from sketcher.marking.outline_pieces import OutlinePieces
    from sketcher.marking.outline_words import OutlineWords
    from sketcher.marking.stated_dimensions import StatedDimensions


@dataclass(frozen=True, slots=True)
class LaidCurve:
    """A curve of a hand-in as it lies on the key, and the entity that it came from."""

    curve: Curve
    entity: int


@dataclass(frozen=True)
class Comparison:
    """A hand-in beside the key, in the key's unit and place.

    Parameters
    ----------
    key : KeyShape
        The key as the paper has it: `key.part` solved, `key.pieces` its whole outline, `key.found`
        its features.
    hand_in : HandIn
    pose : Pose
        From the file's numbers to the key's unit and place, scale included.
    features : tuple of Feature
        Of its outline, runs of chords as the arcs they stand for; `sources` number `outline`.
    changes : tuple of KeyChange
        Values, sides and counts of the key that the hand-in was drawn with instead.
    shape : KeyShape
        The key under those changes: what this hand-in was drawn to.
    matching : Matching
        Features of `shape` with `features`.
    undecided : tuple of str
        Dimensions of the key that a missing or moved feature alone would have shown.
    within, within_angle : float
        Tolerance in the key's unit, and in degrees.
    limits : mapping of str to float
        What a teacher set for single rules, by name of the rule.
    """

    key: KeyShape
    hand_in: HandIn
    pose: Pose
    features: tuple[Feature, ...]
    changes: tuple[KeyChange, ...]
    shape: KeyShape
    matching: Matching
    undecided: tuple[str, ...] = ()
    within: float = 0.01
    within_angle: float = 0.05
    limits: Mapping[str, float] = field(default_factory=frozen)

    @property
    def per_mm(self) -> float:
        """Length of a millimetre in the key's unit."""
        return 1.0 / MM_PER[self.key.part.unit]

    def laid(self, role: LayerRole) -> tuple[LaidCurve, ...]:
        """Return the curves of one role as they lie on the key, in file order."""
        drawn = self.hand_in.of_role(role)
        return tuple(LaidCurve(curve, each.entity) for each, curve in zip(
            drawn, self.pose.curves(each.curve for each in drawn), strict=True))

    def laid_point(self, at: XY) -> XY:
        """Return where a place of the file lies on the key."""
        return self.pose.point(at)

    @cached_property
    def outline(self) -> tuple[LaidCurve, ...]:
        """Outline of the hand-in as it lies on the key, runs of chords still chords."""
        return self.laid("outline")

    @cached_property
    def pieces(self) -> OutlinePieces:
        """What is wrong with the outline, each curve judged once for all rules."""
        from sketcher.marking.outline_pieces import OutlinePieces

        return OutlinePieces(self)

    @cached_property
    def words(self) -> OutlineWords:
        """Names of what the key has."""
        from sketcher.marking.outline_words import OutlineWords

        return OutlineWords(self.key)

    @cached_property
    def center_lines(self) -> tuple[LaidCurve, ...]:
        """The center lines as they lie on the key."""
        return self.laid("center")

    @cached_property
    def center_evidence(self) -> CenterEvidence:
        """What center lines it has beside those that it should have, in mm on paper."""
        from sketcher.marking.center_evidence import CenterEvidence

        return CenterEvidence(self)

    @cached_property
    def stated(self) -> StatedDimensions:
        """What its dimensions and notes state."""
        from sketcher.marking.stated_dimensions import StatedDimensions

        return StatedDimensions(self)

    def entities_of(self, feature: Feature) -> tuple[int, ...]:
        """Return the entities that a feature of the hand-in was drawn with."""
        return tuple(sorted({self.outline[n].entity for n in feature.sources}))
