"""A hand-in laid on its key as a picture shows it: a light value that goes between processes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from sketcher.drafting.line_classes import Practice
from sketcher.drafting.paper_view import MM_PER
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.evaluate import piece
from sketcher.marking.comparison import Comparison
from sketcher.marking.dash_phase import dashes_along
from sketcher.marking.dimension_strokes import DimensionStrokes, dimension_strokes
from sketcher.marking.hand_in import HandIn, LayerRole
from sketcher.marking.stated_dimensions import stated_dimensions
from sketcher.part.value import Part, Unit, frozen
from sketcher.part.whole import whole

TEXT_HEIGHT = 3.5
"""Of a dimension whose style does not say it, in mm on paper (ISO 3098-1, from memory)."""
LEAST_DASH = 0.25
"""In mm on paper: a dot of a line type is as long as a line is wide (ISO 128-20, from memory)."""
MOST_DASHES = 400
"""On one line; one with more is drawn unbroken."""


@dataclass(frozen=True, slots=True)
class HandText:
    """What a dimension of a hand-in says, read level: the middle of the text, its height.

    Place and height are in the key's unit, as it lies on the key.
    """

    text: str
    at: XY
    height: float


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
        Curves of the hand-in by what they are for, in file order; center lines dash by dash.
    entities : tuple of int
        Of the hand-in's outline, curve by curve.
    texts : tuple of HandText
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
    scale: float = 1.0

    @property
    def outline(self) -> tuple[Curve, ...]:
        """Outline of the hand-in."""
        return self.hand.get("outline", ())


LAID: tuple[LayerRole, ...] = ("center", "dimension", "construction")


def marked_view(comparison: Comparison) -> MarkedView:
    """Return what a picture of a hand-in beside its key shows."""
    part, hand_in, pose = comparison.key.part, comparison.hand_in, comparison.pose
    laid: dict[LayerRole, tuple[Curve, ...]] = {
        "outline": tuple(each.curve for each in comparison.outline)}
    for role in LAID:
        laid[role] = tuple(each.curve for each in comparison.laid(role))
    laid["center"] = tuple(_dashed(comparison))
    laid["dimension"] += tuple(_dimension_lines(comparison))
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
        tuple(each.entity for each in comparison.outline), texts, scale)


def _dashed(comparison: Comparison) -> Iterator[Curve]:
    """Give the center lines, dash by dash where their line type tells where dashes fall."""
    dot = LEAST_DASH * comparison.per_mm
    for each in comparison.center_lines:
        entry = comparison.hand_in.entities.get(each.entity)
        length = each.curve.length
        pattern = () if entry is None or isinstance(each.curve, Circle) else entry.dashes
        dashes = dashes_along(length, [comparison.pose.scale * size for size in pattern])
        if not 1 < len(dashes) <= MOST_DASHES:
            yield each.curve
            continue
        for low, high in dashes:
            high = min(max(high, low + dot), length)
            yield piece(each.curve, low / length, high / length)


def _dimension_lines(comparison: Comparison) -> Iterator[Line]:
    """Give what the dimensions of a hand-in draw, as far as their definition tells it."""
    stated = stated_dimensions(comparison)
    if stated is None:
        return
    for each in dimension_strokes(comparison, stated):
        yield from (line for line in (each.line, *each.extensions) if line is not None)
        if each.stated.is_round:
            yield _leader(comparison.laid_point(each.stated.dimension.points[-1]), each)


def _leader(start: XY, to: DimensionStrokes) -> Line:
    """Return a line to the near side of a text, which is read level."""
    x, y = to.stated.at
    half = 0.5 * to.wide
    return Line(start, (x - half if start[0] < x else x + half, y))


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


def hand_view(part: Part, hand_in: HandIn | None) -> MarkedView | None:
    """Return a hand-in alone, in its file's own numbers, where it does not fit the key `part`.

    None where no outline of it could be read.
    """
    if hand_in is None or not hand_in.of_role("outline"):
        return None
    outline, *others = (tuple(each.curve for each in hand_in.of_role(role))
                        for role in ("outline", *LAID))
    return MarkedView(part.name, part.drawing.practice, part.unit, outline,
                      frozen(dict(zip(LAID, others, strict=True))))
