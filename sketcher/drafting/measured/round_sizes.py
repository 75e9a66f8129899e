"""Sizes of rounds: one callout for all of one size and sort, with the number of places.

Equal sizes are called out once with their count (ASME Y14.5, repeated features; ISO 129-1; both
from memory), however each came to be of that size. A slot is sized by its width and the centers of
its ends, whose radius follows and is marked ``R`` without a number (ASME Y14.5, slotted holes; ISO
129-1, a radius that follows from other dimensions; both from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import dist, floor, hypot

from sketcher.drafting.dimension_text import Wording, times, wording
from sketcher.drafting.measured.binding_reader import across
from sketcher.drafting.measured.paper_measures import Measured, MeasuredLength, MeasuredRound
from sketcher.drafting.measured.pattern_steps import is_full_turn
from sketcher.drafting.measured.wedges import upright
from sketcher.drafting.paper_view import View
from sketcher.drafting.slots import Slot, slots_among
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.part.dimension_form import Linear, Radial, Side
from sketcher.part.kinds import KINDS
from sketcher.part.part_size import part_size
from sketcher.part.value import Binding, Part, PolarPattern
from sketcher.part.whole import Piece

MOST_IMAGES = 5
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


class _Places:
    """Places that are known, each once."""

    def __init__(self, near: float) -> None:
        self._near, self._cell = near, max(10.0 * near, 1e-12)
        self._known: dict[tuple[int, int], list[XY]] = {}

    def add(self, at: XY) -> bool:
        """Add a place; False where it is known."""
        i, j = floor(at[0] / self._cell), floor(at[1] / self._cell)
        if any(dist(at, other) < self._near for a in (i - 1, i, i + 1) for b in (j - 1, j, j + 1)
               for other in self._known.get((a, b), ())):
            return False
        self._known.setdefault((i, j), []).append(at)
        return True


class RoundSizes:
    """The callouts of all radii and diameters of a part.

    Parameters
    ----------
    part : Part
    view : View
    pieces : sequence of Piece
        What is drawn of the whole part.
    sizes : mapping of str to (Binding, Radial)
        Those bindings that give a size, in their order.
    """

    def __init__(
        self, part: Part, view: View, pieces: Sequence[Piece],
        sizes: Mapping[str, tuple[Binding, Radial]],
    ) -> None:
        self.part, self.view, self.pieces = part, view, pieces
        self._near = 1e-6 * part_size(part)
        self._rank = {source: k for k, source in enumerate(part.curves)}
        self._slots = slots_among(pieces)
        self._caps = {cap.source for slot in self._slots for cap in slot.caps}
        self._smooth = _smooth_arcs(pieces, self._near)
        alike = _alike(part)
        groups: dict[tuple[str, ...], list[_Size]] = {}
        for name, (binding, form) in sizes.items():
            every = alike.get(form.source, frozenset({form.source}))
            every = frozenset(s for s in every if part.curves[s].role == "outline") or every
            # what is traced is called out at the outline, not at the layout beneath it
            for size in self._by_sort(name, binding, form, every):
                groups.setdefault(self._key(size), []).append(size)
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
        sorts: dict[str, set[str]] = {}
        for source in sorted(sources, key=lambda s: (s != form.source, self._rank[s])):
            sorts.setdefault(self._sort(source), set()).add(source)
        for sort, some in sorts.items():
            note = self._spacing(some) if form.diameter else ""
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
            slots = [s for s in self._slots if any(cap.source in sources for cap in s.caps)]
            width = self._width(size, slots, said_by)
            if width is not None:
                yield width
                if size.binding.drives:
                    yield self._ends(size, slots, said_by)
                return
        first = size.form.source if size.form.source in sources else next(
            s for s in self.part.curves if s in sources)
        curves = self._shown(first, sources)
        if curves:
            said = wording(self.part, size.binding, self._count(sources), note=size.note)
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

    def _shown(self, first: str, sources: frozenset[str]) -> list[Arc | Circle]:
        """Rounds of some sources that the sheet shows, the first one's own first, each once."""
        half = self.part.drawing.show_half
        order = sorted((p for p in self.pieces if p.source in sources
                        and not (half and p.image.mirrors)),
                       key=lambda p: (p.source != first, not p.drawn))
        found: list[Arc | Circle] = []
        seen = _Places(self._near)
        for piece in order:
            if not isinstance(piece.curve, Line) and seen.add(piece.curve.center):
                curve = self.view.curve(piece.curve)
                assert not isinstance(curve, Line)
                found.append(curve)
        return found

    def _count(self, sources: frozenset[str]) -> int:
        """Number of places of some rounds with all their images."""
        seen = _Places(self._near)
        return sum(seen.add(piece.curve.center) for piece in self.pieces
                   if piece.source in sources and not isinstance(piece.curve, Line))

    def _spacing(self, sources: set[str]) -> str:
        for pattern in self.part.patterns.values():
            if (isinstance(pattern, PolarPattern) and not sources.isdisjoint(pattern.curves)
                    and is_full_turn(self.part, pattern)):
                return "EQ SP" if self.part.drawing.practice == "ASME" else "equally spaced"
        return ""

    # Slots.

    def _width(
        self, size: _Size, slots: Sequence[Slot], said_by: tuple[str, ...]
    ) -> MeasuredLength | None:
        """Return the width of the slot that the size is bound at; None where a half hides it."""
        source = size.form.source
        order = sorted(slots, key=lambda s: not any(c.source == source and c.drawn for c in s.caps))
        id_ = size.name if source in size.sources else f"{size.name}.width"
        said = self._width_said(size, len(slots))
        for slot in order:
            sides = [self._seen(side) for side in slot.sides]
            if not all(sides):
                continue
            if slot.middle is not None:
                return replace(self._radial_width(id_, slot, sides, said), stands_for=said_by)
            way = Line(*slot.ends).direction
            first, second = (tuple(self.view.point(at) for curve in side
                                   for at in (curve.start, curve.end)) for side in sides)
            return MeasuredLength(id_, upright((-way[1], way[0])), first, second, said,
                                  stands_for=said_by)
        return None

    def _seen(self, side: Sequence[Piece]) -> list[Line | Arc]:
        half = self.part.drawing.show_half
        return [p.curve for p in side if not isinstance(p.curve, Circle)
                and not (half and p.image.mirrors)]

    def _radial_width(
        self, id_: str, slot: Slot, sides: Sequence[Sequence[Curve]], said: Wording
    ) -> MeasuredLength:
        inner, outer = (side[0] for side in sides)
        assert isinstance(inner, Arc)
        assert isinstance(outer, Arc)
        form = Linear(Side((inner.start,)), Side((outer.start,)), (1.0, 0.0), around=inner)
        return across(id_, form, inner, self.view, said)

    def _ends(
        self, size: _Size, slots: Sequence[Slot], said_by: tuple[str, ...]
    ) -> MeasuredRound:
        """Return the mark of round ends, whose radius follows from the width."""
        source = size.form.source
        sources = frozenset(cap.source for slot in slots for cap in slot.caps)
        curves = self._shown(source if source in sources else min(sources), sources)
        said = Wording(f"{times(2 * len(slots), self.part.drawing.practice)}R")
        return MeasuredRound(f"{size.name}.ends", curves[0], False, said,
                             tuple(curves[1:1 + MOST_IMAGES]), said_by)


def _alike(part: Part) -> dict[str, frozenset[str]]:
    """Rounds that bindings make one size."""
    groups: dict[str, set[str]] = {}
    for binding in part.bindings.values():
        for (one, axis), (other, _) in KINDS[binding.kind].unions(part, binding.of):
            if axis != "r":
                continue
            joined = groups.get(one, {one}) | groups.get(other, {other})
            for name in joined:
                groups[name] = joined
    return {name: frozenset(group) for name, group in groups.items()}


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
