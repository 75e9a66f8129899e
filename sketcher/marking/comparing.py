"""Lay a hand-in on the key: scale and place found by vote, wrong values named."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sketcher.errors import SketcherError
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.curves import Line
from sketcher.marking.comparison import Comparison, LaidCurve
from sketcher.marking.drawn_chords import drawn_features
from sketcher.marking.explain import Explainer
from sketcher.marking.fewest_mistakes import fewest_mistakes
from sketcher.marking.hand_in import HandIn
from sketcher.marking.laid import Explanation
from sketcher.marking.outline_features import Feature
from sketcher.marking.poses import carried
from sketcher.marking.rubric import Rubric
from sketcher.part.value import Part

TOLERANCES = {"mm": 0.01, "in": 0.001}
FITS = 2.0
"""Millimetres: no fit better than this on the whole leaves a hand-in ungraded."""
UNIT_FACTORS = (1.0, 25.4, 1.0 / 25.4)
PAPER_SCALES = (1.0, 2.0, 0.5, 5.0, 0.2, 10.0, 0.1)
LEAST_RATIO, MOST_RATIO = 0.62, 1.6


class NoFit(SketcherError, ValueError):
    """A hand-in that cannot be laid on the key."""


class KeyReady:
    """A key made ready once for a class: what it knows is computed once for all hand-ins.

    Parameters
    ----------
    part : Part
        Solved; its unit is that of the comparison.
    rubric : Rubric
    """

    def __init__(self, part: Part, rubric: Rubric) -> None:
        self.part, self.rubric = part, rubric
        self.within = rubric.tolerance or TOLERANCES[part.unit]
        self.explainer = Explainer(part, self.within)
        self.radii = sorted({piece.curve.radius for piece in self.explainer.key.pieces
                             if not isinstance(piece.curve, Line)})

    def compare(self, hand_in: HandIn) -> Comparison:
        """Return a hand-in beside the key.

        Raises
        ------
        NoFit
            When it has no outline, or none that fits the key.
        """
        drawn = hand_in.of_role("outline")
        if not drawn:
            raise NoFit(hand_in.file, "has no outline", "")
        curves = [each.curve for each in drawn]
        scales = list(self._scales(bounds_of(curves), hand_in))
        found = drawn_features(curves, self.within / (scales[0] if scales else 1.0),
                               [r / scale for scale in scales for r in self.radii])
        best = self.explainer.explain(found, scales) if scales else None
        if best is None:
            raise NoFit(hand_in.file, "no outline fits the key", "")
        return fewest_mistakes(self.explainer, found, best,
                               lambda each: self._beside(hand_in, found, each))

    def _beside(
        self, hand_in: HandIn, found: Sequence[Feature], best: Explanation
    ) -> Comparison:
        """Return a hand-in beside the key as one explanation has it."""
        outline = tuple(LaidCurve(best.pose.curve(each.curve), each.entity)
                        for each in hand_in.of_role("outline"))
        limits = {name: setting.limit for name, setting in self.rubric.settings.items()
                  if setting.limit is not None}
        return Comparison(
            self.explainer.key, hand_in, best.pose, outline, carried(found, best.pose),
            best.changes, best.shape, best.matching, self.explainer.undecided(best), self.within,
            self.rubric.angle_tolerance, limits)

    def _scales(self, box: Box, hand_in: HandIn) -> Iterator[float]:
        """Yield factors from the file's numbers to the key's unit that give a like size."""
        size = max(box[2] - box[0], box[3] - box[1])
        mine = bounds_of([piece.curve for piece in self.explainer.key.pieces])
        wanted = max(mine[2] - mine[0], mine[3] - mine[1])
        ours = {"mm": 1.0, "in": 25.4}[self.part.unit]
        stated = 1.0 if hand_in.unit is None else (
            hand_in.factor * {"mm": 1.0, "in": 25.4}[hand_in.unit] / ours)
        seen: list[float] = []
        for paper in PAPER_SCALES:
            for unit in UNIT_FACTORS:
                scale = stated * unit / paper
                if LEAST_RATIO <= scale * size / wanted <= MOST_RATIO and not any(
                        abs(scale / other - 1.0) < 1e-9 for other in seen):
                    seen.append(scale)
                    yield scale
