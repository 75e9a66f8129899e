"""A key made ready once for all hand-ins: its features, and which unknowns place each of them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.curves import XY, Circle, Line
from sketcher.geometry.evaluate import travelled_as
from sketcher.marking.assignment import FeatureTable
from sketcher.marking.outline_features import Feature, features
from sketcher.part.image_id import ImageId
from sketcher.part.instances import InstancePlace, places
from sketcher.part.mirror import Reflector, reflector
from sketcher.part.part_size import part_size
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part
from sketcher.part.whole import Piece, whole
from sketcher.quantity.parameters import evaluate_all

Floats: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Anchor:
    """A point or radius of the half that a feature shows, and the image in which it shows it."""

    name: str
    image: ImageId


class KeyShape:
    """A solved key, and its outline feature by feature.

    Parameters
    ----------
    part : Part
        Solved, sides settled.
    within : float
        Tolerance in the part's unit.

    Attributes
    ----------
    pieces : tuple of Piece
        Outline of the whole part.
    found : tuple of Feature
    size : float
    """

    def __init__(self, part: Part, within: float) -> None:
        self.part, self.within = part, within
        self.pieces = tuple(piece for piece in whole(part) if piece.role == "outline")
        self.found = features([piece.curve for piece in self.pieces], within)
        self.size = part_size(part)

    @cached_property
    def table(self) -> FeatureTable:
        """The features as arrays."""
        return FeatureTable(self.found)

    @cached_property
    def _mirrors(self) -> list[Reflector]:
        return [reflector(self.part, mirror) for mirror in self.part.mirrors]

    @cached_property
    def _places(self) -> dict[str, list[InstancePlace]]:
        values = evaluate_all(self.part.parameters, self.part.unit)
        found: dict[str, list[InstancePlace]] = {}
        for name, pattern in self.part.patterns.items():
            for place in places(self.part, name, values):
                for source in pattern.curves:
                    found.setdefault(source, []).append(place)
        return found

    def image_point(self, at: XY, image: ImageId) -> XY:
        """Return where an image shows a place of the half."""
        if image.instance:
            at = self._places[image.source][image.instance - 1].point(at)
        for number, mirror in enumerate(self._mirrors):
            if image.mirrors >> number & 1:
                at = mirror.point(at)
        return at

    def unreflected(self, at: XY, mirrors: int) -> XY:
        """Return the place of the half that its reflections show at a place."""
        for number, mirror in reversed(list(enumerate(self._mirrors))):
            if mirrors >> number & 1:
                at = mirror.point(at)
        return at

    def instance_back(self, at: XY, image: ImageId) -> XY:
        """Return where the drawn curve has a place of one of its instances, unreflected."""
        if not image.instance:
            return at
        (a, b), (c, d) = self.affine(ImageId(image.source, 0, image.instance))[0].tolist()
        x, y = self.image_point((0.0, 0.0), ImageId(image.source, 0, image.instance))
        x, y = at[0] - x, at[1] - y
        return (a * x + c * y, b * x + d * y)  # a turn's inverse is its transpose

    def affine(self, image: ImageId) -> tuple[Floats, Floats]:
        """Return matrix and shift of an image: it shows place p at ``matrix @ p + shift``."""
        shift = np.array(self.image_point((0.0, 0.0), image))
        return np.array([np.array(self.image_point(unit, image)) - shift
                         for unit in ((1.0, 0.0), (0.0, 1.0))]).T, shift

    def end_anchor(self, piece: Piece, end: int) -> str | None:
        """Name of the half's point at an end of a piece; ends of a reflected arc stay its own."""
        curve = self.part.curves[piece.source]
        return None if isinstance(curve, CircleCurve) else curve.ends[end]

    def center_anchor(self, piece: Piece) -> str:
        """Name of the half's point at the center of a round piece."""
        curve = self.part.curves[piece.source]
        assert isinstance(curve, ArcCurve | CircleCurve)
        return curve.center

    def observed(self, number: int, hand: Feature) -> list[tuple[str, ImageId, XY]]:
        """What a feature of a hand-in says of the points of the half: name, image, place there."""
        mine = self.found[number]
        piece = self.pieces[mine.sources[0]]
        out: list[tuple[str, ImageId, XY]] = []
        drawn = hand.curve
        if isinstance(mine.curve, Line):
            assert isinstance(drawn, Line)
            drawn = travelled_as(drawn, mine.curve)
        else:
            assert not isinstance(drawn, Line)
            out.append((self.center_anchor(piece), piece.image, drawn.center))
            if isinstance(mine.curve, Circle) or isinstance(drawn, Circle):
                return out
        for (source, end), place in zip(mine.ends, (drawn.start, drawn.end), strict=True):
            at = self.pieces[source]
            name = self.end_anchor(at, end)
            if name is not None:
                out.append((name, at.image, place))
        return out

    def sources_of(self, *those: Feature) -> set[str]:
        """Return which curves of the half are drawn in features whose sources number `pieces`."""
        return {self.pieces[n].source for each in those for n in each.sources}

    def radius_name(self, number: int) -> str | None:
        """Id of the round whose radius a feature shows; None for a line."""
        piece = self.pieces[self.found[number].sources[0]]
        return None if isinstance(self.part.curves[piece.source], LineCurve) else piece.source
