"""The outline of a hand-in, each curve judged once, so that none is deducted for twice.

What each feature of the key was drawn with (`drawn_edges.py`), where edges should meet
(`edge_joints.py`), what is off its place (`off_features.py`), what is too much
(`extra_chains.py`), whether a half is no reflection (`broken_mirror.py`). The rules look here.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from math import dist
from typing import TYPE_CHECKING

from sketcher.geometry.curves import Circle, Line
from sketcher.marking.broken_mirror import broken_mirror
from sketcher.marking.drawn_edges import DrawnEdges
from sketcher.marking.edge_joints import edge_joints, joint_faults, joint_loops
from sketcher.marking.extra_chains import ExtraChains
from sketcher.marking.off_features import OffFeatures
from sketcher.marking.outline_features import Feature
from sketcher.marking.outline_words import OutlineWords
from sketcher.marking.slip import Slip
from sketcher.part.whole import middle

if TYPE_CHECKING:
    from sketcher.marking.comparison import Comparison


class OutlinePieces:
    """What is wrong with an outline, slip by slip.

    Parameters
    ----------
    comparison : Comparison

    Attributes
    ----------
    key : tuple of Feature
        What was to be drawn: the key under the values that the hand-in has, a half of it moved
        where that was drawn elsewhere.
    mirror : BrokenMirror or None
    edges : DrawnEdges
    slips : tuple of Slip
    """

    def __init__(self, comparison: Comparison) -> None:
        shape, hand, within = comparison.shape, comparison.features, comparison.within
        self._comparison = comparison
        self.mirror = broken_mirror(shape, hand, comparison.matching, within)
        self.key = self.mirror.key if self.mirror else tuple(shape.found)
        matching = self.mirror.matching if self.mirror else comparison.matching
        outline = [each.curve for each in comparison.outline]
        self.joints = edge_joints(self.key, within)
        self.edges = DrawnEdges(self.key, hand, outline, matching,
                                ((each.a, each.b) for each in self.joints), shape.size, within)
        gaps, single = joint_faults(self.joints, self.edges.found, within)
        overruns = _at_one_corner(single, within)
        off = OffFeatures(shape, self.key, self.edges.found, self.joints, within,
                          comparison.within_angle)
        # center lines on the outline's layer are told once, by a rule of their own
        lines = set(comparison.center_evidence.misplaced)
        extra = {j for j in self.edges.extra if not lines.issuperset(hand[j].sources)}
        rest = ExtraChains(shape, self.key, hand, self.edges.missing, extra,
                           [*self.edges.openings, *gaps], within)
        self.slips = (
            *self.edges.slips, *overruns, *map(self._dimensioned, off.slips()), *rest.slips,
            *self._half(),
            *(Slip("open-gap", gap.at, gap.keys, (), gap.curves, gap.size)
              for gap in rest.openings),
            *self._missing(rest.missing), *self._chords(hand), *self._specks())

    def of(self, rule: str) -> tuple[Slip, ...]:
        """Return what one rule deducts for, in reading order."""
        return tuple(sorted((each for each in self.slips if each.rule == rule),
                            key=lambda each: each.at))

    @cached_property
    def words(self) -> OutlineWords:
        """Names of what was to be drawn, as the paper has it where that has the same features."""
        comparison = self._comparison
        if [each.sources for each in self.key] == [each.sources for each in comparison.key.found]:
            return comparison.words
        return OutlineWords(comparison.shape, self.key)

    def entities(self, slip: Slip) -> tuple[int, ...]:
        """Return the entities of the hand-in that show a slip."""
        outline, hand = self._comparison.outline, self._comparison.features
        curves = {*slip.curves, *(n for j in slip.hand for n in hand[j].sources)}
        return tuple(sorted({outline[n].entity for n in curves}))

    def _dimensioned(self, slip: Slip) -> Slip:
        """Return a wrong size as the wrong value that it is, where a dimension says it.

        All rounds that the dimension is of must have that size: one of several is no value.
        """
        if slip.rule != "wrong-size":
            return slip
        shape = self._comparison.shape
        sources = shape.sources_of(*(self.key[i] for i in slip.keys))
        shown = {i for i, each in enumerate(self.key) if sources & shape.sources_of(each)}
        if not self.size_dimension(slip.keys) or shown != set(slip.keys):
            return slip
        return replace(slip, rule="wrong-value", word="size")

    def size_dimension(self, keys: Sequence[int]) -> str:
        """Return the dimension that rounds have their size of; empty where it follows."""
        sources = self._comparison.shape.sources_of(*(self.key[i] for i in keys))
        return next((name for name, b in self._comparison.key.part.bindings.items()
                     if b.drives and b.kind in ("radius", "diameter") and b.of[0] in sources), "")

    def _half(self) -> list[Slip]:
        """Return the slip of a half that is no reflection."""
        if self.mirror is None:
            return []
        return [Slip("not-mirrored", self.mirror.at, amount=self.mirror.move.degrees)]

    def _missing(self, missing: Sequence[int]) -> list[Slip]:
        """Return one slip for each hole, slot or edge that is missing, images of one together."""
        left = set(missing)
        groups: list[tuple[int, ...]] = []
        for loop in joint_loops(len(self.key), self.joints):
            gone = sorted(left.intersection(loop))
            whole = len(gone) == len(loop)
            groups += [tuple(gone)] if gone and whole else [(i,) for i in gone]
        by_source: dict[frozenset[str], list[tuple[int, ...]]] = defaultdict(list)
        for group in groups:
            sources = self._comparison.shape.sources_of(*(self.key[i] for i in group))
            by_source[frozenset(sources)].append(group)
        return [Slip("missing-feature", middle(self.key[same[0][0]].curve),
                     tuple(i for group in same for i in group), count=len(same),
                     word="loop" if len(same[0]) > 1 else "") for same in by_source.values()]

    def _chords(self, hand: Sequence[Feature]) -> list[Slip]:
        """Return one slip for each arc that was drawn in chords."""
        outline = self._comparison.outline
        found = []
        for j, each in enumerate(hand):
            chords = tuple(n for n in each.sources if isinstance(outline[n].curve, Line))
            if not each.is_line and chords:
                keys = tuple(i for i, edge in self.edges.found.items() if j in edge.hand)
                found.append(Slip("chords-for-arc", middle(each.curve), keys, (), chords,
                                  float(len(chords))))
        return found

    def _specks(self) -> list[Slip]:
        """Return the slip of curves without length."""
        comparison = self._comparison
        specks = tuple(n for n, each in enumerate(comparison.outline)
                       if each.curve.length <= comparison.within)
        if not specks:
            return []
        curve = comparison.outline[specks[0]].curve
        at = curve.center if isinstance(curve, Circle) else curve.start
        return [Slip("stray", at, (), (), specks, word="speck", count=len(specks))]


def _at_one_corner(slips: Sequence[Slip], within: float) -> list[Slip]:
    """Return overruns with those that end at one place as one: a corner beside its fillet."""
    found: list[Slip] = []
    for slip in slips:
        same = next((k for k, other in enumerate(found)
                     if dist(slip.at, other.at) <= 2.0 * within), None)
        if same is None:
            found.append(slip)
            continue
        other = found[same]
        found[same] = replace(other, keys=(*other.keys, *slip.keys),
                              curves=(*other.curves, *slip.curves),
                              amount=max(other.amount, slip.amount))
    return found
