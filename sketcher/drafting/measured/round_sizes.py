"""Sizes of rounds: one callout for all of one size and sort, with the number of places.

Equal sizes are called out once with their count (ASME Y14.5, repeated features; ISO 129-1; both
from memory), however each came to be of that size. A slot has its width instead.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import dist, hypot

from sketcher.drafting.dimension_text import Wording, wording
from sketcher.drafting.hole_notes import hole_note
from sketcher.drafting.measured.paper_measures import Measured, MeasuredRound
from sketcher.drafting.measured.pattern_steps import is_full_turn
from sketcher.drafting.measured.shown_rounds import ShownRounds
from sketcher.drafting.measured.slot_callouts import MOST_IMAGES, SlotCallouts
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.inspect.drilled_holes import DrilledHoles
from sketcher.part.dimension_form import Radial
from sketcher.part.equal_rounds import equal_rounds
from sketcher.part.part_size import part_size
from sketcher.part.value import Binding, Part, PolarPattern
from sketcher.part.whole import Piece

SMOOTH = 1e-6
"""Sine of the angle below which a round runs on into its neighbor."""


@dataclass(frozen=True, slots=True)
class _Size:
    """One bound size of rounds of one sort: the sources, and what is said of one of them."""

    name: str
    binding: Binding
    form: Radial
    sort: str
    sources: frozenset[str]
    note: str


class RoundSizes:
    """The callouts of all radii and diameters of a part.

    Parameters
    ----------
    part : Part
    pieces : sequence of Piece
        What is drawn of the whole part.
    rounds : ShownRounds
    slots : SlotCallouts
    sizes : mapping of str to (Binding, Radial)
        Those bindings that give a size, in their order.
    """

    def __init__(
        self, part: Part, pieces: Sequence[Piece], rounds: ShownRounds, slots: SlotCallouts,
        sizes: Mapping[str, tuple[Binding, Radial]],
    ) -> None:
        self.part = part
        self._rank = {source: k for k, source in enumerate(part.curves)}
        self._rounds, self._slots = rounds, slots
        self._caps = {cap.source for slot in slots.every for cap in slot.caps}
        self._smooth = _smooth_arcs(pieces, 1e-6 * part_size(part))
        alike = equal_rounds(part)
        cut_by = part.drawing.cut_by
        self._drilled = DrilledHoles(part, cut_by) if cut_by else None
        groups: dict[tuple[str, ...], list[_Size]] = {}
        for name, (binding, form) in sizes.items():
            every = alike.get(form.source, frozenset({form.source}))
            every = frozenset(s for s in every if part.curves[s].role == "outline") or every
            # what is traced is called out at the outline, not at the layout beneath it
            for size in self._by_sort(name, binding, form, every):
                groups.setdefault(self._key(size), []).append(size)
        self.sized = frozenset(source for group in groups.values() for size in group
                               for source in size.sources)
        self._found: dict[str, list[Measured]] = {}
        for group in groups.values():
            self._found.setdefault(group[0].name, []).extend(self._callouts(group))

    def of(self, name: str) -> list[Measured]:
        """Return the callouts that stand in the place of a binding, none where another says it."""
        return self._found.get(name, [])

    def _by_sort(
        self, name: str, binding: Binding, form: Radial, sources: frozenset[str]
    ) -> Iterator[_Size]:
        """Part the rounds of one size by what they are; the bound one's sort comes first."""
        sorts: dict[tuple[str, str], set[str]] = {}
        for source in sorted(sources, key=lambda s: (s != form.source, self._rank[s])):
            note = self._note(source) if form.diameter else ""
            sorts.setdefault((self._sort(source), note), set()).add(source)
        for (sort, note), some in sorts.items():
            yield _Size(name, binding, form, sort, frozenset(some), note)

    def _sort(self, source: str) -> str:
        """Tell holes, slot ends and fillets apart; other arcs are alone with their equals."""
        if source in self._caps:
            return "slot"
        if source in self._smooth:
            return "fillet"
        return "hole" if self.part.curves[source].kind == "circle" else "arc"

    def _key(self, size: _Size) -> tuple[str, ...]:
        """What callouts share that are merged into one."""
        said = self._width_said(size, 1) if size.sort == "slot" else wording(
            self.part, size.binding, note=size.note)
        alone = size.name if size.sort == "arc" else ""
        return (size.sort, said.plain, str(said.upper), alone)

    def _width_said(self, size: _Size, count: int) -> Wording:
        factor = 1.0 if size.form.diameter else 2.0
        return wording(self.part, size.binding, count, factor=factor, sign="")

    def _callouts(self, group: Sequence[_Size]) -> Iterator[Measured]:
        sources = frozenset(source for size in group for source in size.sources)
        said_by = tuple(dict.fromkeys(size.name for size in group))
        size = self._speaker(group)
        if size.sort == "slot":
            slots = self._slots.with_ends(sources)
            source = size.form.source
            id_ = size.name if source in sources else f"{size.name}.width"
            width = self._slots.width(id_, slots, self._width_said(size, len(slots)), source)
            if width is not None:
                yield replace(width, stands_for=said_by)
                if size.binding.drives:
                    ends = self._slots.ends(f"{size.name}.ends", slots, source)
                    yield replace(ends, stands_for=said_by)
                return
        first = size.form.source if size.form.source in sources else next(
            s for s in self.part.curves if s in sources)
        curves = self._rounds.shown(first, sources)
        if curves:
            said = wording(self.part, size.binding, self._rounds.count(sources), note=size.note)
            id_ = size.name if size.form.source in sources else f"{size.name}.{first}"
            yield MeasuredRound(id_, curves[0], size.form.diameter, said,
                                tuple(curves[1:1 + MOST_IMAGES]), said_by)

    def _speaker(self, group: Sequence[_Size]) -> _Size:
        """Return the one whose place counts: that which a person has put somewhere, or the first.

        All of one sort say the same; a size of rounds of several sorts has one callout for each.
        """
        placed = self.part.drawing.placed
        own = [s for s in group if s.form.source in s.sources] or list(group)
        return next((s for s in own if s.name in placed), own[0])

    def _note(self, source: str) -> str:
        """Return what stands behind a diameter: its thread, that it is drilled, how it repeats."""
        return " ".join(filter(None, (
            hole_note(self.part, self._drilled, source), self._spacing(source))))

    def _spacing(self, source: str) -> str:
        for pattern in self.part.patterns.values():
            if (isinstance(pattern, PolarPattern) and source in pattern.curves
                    and is_full_turn(self.part, pattern)):
                return "EQ SP" if self.part.drawing.practice == "ASME" else "equally spaced"
        return ""


def _smooth_arcs(pieces: Sequence[Piece], near: float) -> frozenset[str]:
    """Sources of the outline's arcs that run on into both of their neighbors: fillets."""
    outline = [p for p in pieces if p.role == "outline" and not isinstance(p.curve, Circle)]
    ends: dict[tuple[int, int], list[tuple[Piece, XY, XY]]] = {}
    cell = max(1e2 * near, 1e-9)
    for piece in outline:
        for at, way in _ends_of(piece.curve):
            ends.setdefault((round(at[0] / cell), round(at[1] / cell)), []).append(
                (piece, at, way))
    rough, arcs = set[str](), set[str]()
    for piece in outline:
        if not isinstance(piece.curve, Arc):
            continue
        arcs.add(piece.source)
        for at, way in _ends_of(piece.curve):
            i, j = round(at[0] / cell), round(at[1] / cell)
            others = [w for a in (i - 1, i, i + 1) for b in (j - 1, j, j + 1)
                      for other, place, w in ends.get((a, b), ())
                      if other is not piece and dist(place, at) <= cell]
            if not any(abs(way[0] * w[1] - way[1] * w[0]) < SMOOTH for w in others):
                rough.add(piece.source)
    return frozenset(arcs - rough)


def _ends_of(curve: Curve) -> Iterator[tuple[XY, XY]]:
    """Both ends of a curve with the direction of its tangent."""
    assert not isinstance(curve, Circle)
    for at in (curve.start, curve.end):
        if isinstance(curve, Line):
            yield at, curve.direction
        else:
            x, y = at[0] - curve.center[0], at[1] - curve.center[1]
            size = hypot(x, y) or 1.0
            yield at, (-y / size, x / size)
