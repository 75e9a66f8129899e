"""A hand-in laid on its key as a picture shows it: a light value that goes between processes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sketcher.drafting.line_classes import Practice
from sketcher.drafting.paper_view import MM_PER
from sketcher.geometry.curves import XY, Curve
from sketcher.marking.comparison import Comparison
from sketcher.marking.hand_in import LayerRole
from sketcher.part.value import Part, Unit, frozen
from sketcher.part.whole import whole

TEXT_HEIGHT = 3.5
"""Of a dimension whose style does not say it, in mm on paper (ISO 3098-1, from memory)."""


@dataclass(frozen=True, slots=True)
class HandText:
    """What a dimension of a hand-in says: the middle of the text, its height, its turn in degrees.

    Place and height are in the key's unit, as it lies on the key.
    """

    text: str
    at: XY
    height: float
    turn: float = 0.0


@dataclass(frozen=True, slots=True)
class MarkedView:
    """What a picture of a marked hand-in shows, in the key's unit and place.

    Parameters
    ----------
    name : str
        Of the key's part.
    practice : {"ISO", "ASME"}
    unit : {"mm", "in"}
    key : tuple of Curve
        Outline of the key as the paper has it.
    hand : mapping of str to tuple of Curve
        Curves of the hand-in by what they are for, in file order.
    entities : tuple of int
        Of the hand-in's outline, curve by curve.
    texts : tuple of HandText
    within : float
        What counts as equal.
    scale : float
        That of the hand-in, drawing by part: 2 where all is drawn twice as large. It is 1 where the
        file does not state its unit.
    """

    name: str
    practice: Practice
    unit: Unit
    key: tuple[Curve, ...]
    hand: Mapping[LayerRole, tuple[Curve, ...]] = field(default_factory=frozen)
    entities: tuple[int, ...] = ()
    texts: tuple[HandText, ...] = ()
    within: float = 0.01
    scale: float = 1.0

    @property
    def outline(self) -> tuple[Curve, ...]:
        """Outline of the hand-in."""
        return self.hand.get("outline", ())


SHOWN: tuple[LayerRole, ...] = ("center", "dimension", "construction")


def marked_view(comparison: Comparison) -> MarkedView:
    """Return what a picture of a hand-in beside its key shows."""
    part, hand_in, pose = comparison.key.part, comparison.hand_in, comparison.pose
    laid: dict[LayerRole, tuple[Curve, ...]] = {
        "outline": tuple(each.curve for each in comparison.outline)}
    for role in SHOWN:
        laid[role] = tuple(each.curve for each in comparison.laid(role))
    scale = 1.0
    if hand_in.unit is not None:
        scale = hand_in.factor * MM_PER[hand_in.unit] / (MM_PER[part.unit] * pose.scale)
    usual = TEXT_HEIGHT * comparison.per_mm / pose.scale
    texts = tuple(
        HandText(each.text, pose.point(each.text_at), pose.scale * (each.text_height or usual))
        for each in hand_in.dimensions if each.text)
    return MarkedView(
        part.name, part.drawing.practice, part.unit,
        tuple(piece.curve for piece in comparison.key.pieces), frozen(laid),
        tuple(each.entity for each in comparison.outline), texts, comparison.within, scale)


def key_view(part: Part) -> MarkedView:
    """Return the key alone, as a class is shown on it.

    Parameters
    ----------
    part : Part
        Solved.
    """
    return MarkedView(
        part.name, part.drawing.practice, part.unit,
        tuple(piece.curve for piece in whole(part) if piece.role == "outline"))
