"""Lay a hand-in on the key: scale and place found by vote, wrong values named."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sketcher.drafting.paper_view import MM_PER
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.curves import Curve, Line
from sketcher.marking.assignment import FeatureTable
from sketcher.marking.comparison import Comparison
from sketcher.marking.drawn_chords import drawn_features
from sketcher.marking.explain import Explainer
from sketcher.marking.fewest_mistakes import fewest_mistakes
from sketcher.marking.hand_in import HandIn
from sketcher.marking.laid import Explanation
from sketcher.marking.outline_features import features
from sketcher.marking.outline_groups import the_part
from sketcher.marking.poses import orientations, votes
from sketcher.marking.rubric import Rubric
from sketcher.marking.scale_told import SCALES, stated_mm
from sketcher.part.value import Part
from sketcher.quantity.units import MM_PER_INCH

TOLERANCES = {"mm": 0.01, "in": 0.001}
FITS = 2.0
"""Millimetres within which a line or round of a hand-in is that of the key."""
LEAST_SHARE = 0.4
"""A hand-in on which fewer of the key's lines and rounds are found is another part, and not graded
(tried: 60 hand-ins with up to three wrong values have 0.8 or more, 40 drawings of other parts at
most 0.24; half of a symmetric part has a half)."""
BY_HAND = "mark it by hand, or look whether it is another part"
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
        self._size = _longer_side(bounds_of(
            [piece.curve for piece in self.explainer.key.pieces]))

    def compare(self, hand_in: HandIn) -> Comparison:
        """Return a hand-in beside the key.

        Raises
        ------
        NoFit
            When it has no outline, or none that fits the key.
        """
        hand_in = self._part_alone(hand_in)
        drawn = hand_in.of_role("outline")
        if not drawn:
            raise NoFit(hand_in.file, "has no outline", _where_it_may_be(hand_in))
        curves = [each.curve for each in drawn]
        scales = list(self._scales(bounds_of(curves), hand_in))
        found = drawn_features(curves, self.within / (scales[0] if scales else 1.0),
                               [r / scale for scale in scales for r in self.radii])
        best = self.explainer.explain(found, scales) if scales else None
        if best is None:
            raise NoFit(hand_in.file, "no outline fits the key", BY_HAND)
        fits = FITS / MM_PER[self.part.unit]
        near = sum(off <= fits for off in best.matching.off)
        if near < LEAST_SHARE * len(best.shape.found):
            raise NoFit(hand_in.file, f"no outline fits the key: {near} of its "
                        f"{len(best.shape.found)} lines and rounds are found", BY_HAND)
        return fewest_mistakes(self.explainer, found, best,
                               lambda each: self._beside(hand_in, each))

    def _beside(self, hand_in: HandIn, best: Explanation) -> Comparison:
        """Return a hand-in beside the key as one explanation has it."""
        limits = {name: setting.limit for name, setting in self.rubric.settings.items()
                  if setting.limit is not None}
        return Comparison(
            self.explainer.key, hand_in, best.pose, best.hand, best.changes, best.shape,
            best.matching, self.explainer.undecided(best), self.within,
            self.rubric.angle_tolerance, limits)

    def _part_alone(self, hand_in: HandIn) -> HandIn:
        """Return a hand-in with what is not the part set aside: a frame, another view."""
        drawn = [n for n, each in enumerate(hand_in.curves) if each.role == "outline"]
        curves = [hand_in.curves[n].curve for n in drawn]
        key = self.explainer.key

        def share(some: Sequence[Curve]) -> float:
            found = features(some, self.within)
            poses = orientations(list(self._scales(bounds_of(some), hand_in)))
            most = max((vote for vote, _ in votes(
                key.table, FeatureTable(found), poses, self.within)),
                       default=0.0)
            return most / (len(key.found) + len(found))

        kept = {drawn[k] for k in the_part(curves, len(key.found), share)} if drawn else set()
        if len(kept) == len(drawn):
            return hand_in
        aside = len(drawn) - len(kept)
        return replace(
            hand_in, curves=tuple(
                replace(each, role="sheet") if each.role == "outline" and n not in kept else each
                for n, each in enumerate(hand_in.curves)),
            told=(*hand_in.told, f"{aside} curves of a frame or of other views were set aside"))

    def _scales(self, box: Box, hand_in: HandIn) -> Iterator[float]:
        """Yield factors from the file's numbers to the key's unit that give a like size."""
        ratio = _longer_side(box) / self._size
        ours = MM_PER[self.part.unit]
        stated = stated_mm(hand_in) or ours
        units = (stated, *MM_PER.values(), stated * MM_PER_INCH, stated / MM_PER_INCH)
        seen: list[float] = []
        for paper in SCALES:
            for unit in units:
                scale = unit / ours / paper
                if LEAST_RATIO <= scale * ratio <= MOST_RATIO and not any(
                        abs(scale / other - 1.0) < 1e-9 for other in seen):
                    seen.append(scale)
                    yield scale


def _longer_side(box: Box) -> float:
    return max(box[2] - box[0], box[3] - box[1])


def _where_it_may_be(hand_in: HandIn) -> str:
    """Return what to do about a hand-in without an outline."""
    content = hand_in.content
    if content is None:
        return "mark it by hand"
    hidden = [layer for layer in content.layers if layer.hidden]
    if hidden:
        return f"its layer {hidden[0].name} is {hidden[0].hidden}: make it visible"
    if content.left_out.get("on paper"):
        return "what is drawn lies on the paper: draw the part in the model space"
    return "look at it: it may hold a picture alone, or name its layers otherwise"
