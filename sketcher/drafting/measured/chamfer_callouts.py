"""Chamfers of 45 degrees: leg and angle in one callout, counted.

``4 × 45°`` is the form of ISO 129-1, ``4 X 45°`` that of ASME Y14.5 (both from memory). Any other
bevel keeps two dimensions.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import dist, hypot

from sketcher.drafting.dimension_text import Wording, times
from sketcher.drafting.measured.paper_measures import Measured, MeasuredAngle, MeasuredLength
from sketcher.drafting.paper_view import View
from sketcher.geometry.chain import nodes
from sketcher.geometry.curves import XY, Line
from sketcher.part.value import Part
from sketcher.part.whole import Piece

SQUARE = 1e-6
"""Cosine within which edges are square."""


@dataclass(frozen=True, slots=True)
class CornerCut:
    """An edge that cuts off a square corner at 45 degrees, in the part's unit.

    Parameters
    ----------
    piece : Piece
    leg : float
    ways : (XY, XY)
        Directions of the two edges that it joins.
    """

    piece: Piece
    leg: float
    ways: tuple[XY, XY]


def chamfers_among(pieces: Iterable[Piece], near: float) -> tuple[CornerCut, ...]:
    """Return the chamfers among outline pieces; ends within `near` are joined."""
    lines = [p for p in pieces if p.role == "outline" and isinstance(p.curve, Line)]
    net = nodes([p.curve for p in lines], near)
    found = []
    for number, piece in enumerate(lines):
        edge = piece.curve
        others = [lines[k].curve for end in net.ends[number] for k in net.at[end] if k != number]
        assert isinstance(edge, Line)
        if len(others) == 2 and edge.length > near:
            chamfer = _chamfer(piece, edge, [o for o in others if isinstance(o, Line)])
            found += [] if chamfer is None else [chamfer]
    return tuple(found)


def _chamfer(piece: Piece, edge: Line, beside: Sequence[Line]) -> CornerCut | None:
    (ux, uy), (vx, vy), (dx, dy) = (line.direction for line in (*beside, edge))
    leg = edge.length / 2.0**0.5
    slant = abs(abs(ux * dx + uy * dy) - 0.5**0.5)
    if abs(ux * vx + uy * vy) > SQUARE or slant > SQUARE or min(b.length for b in beside) <= leg:
        return None
    return CornerCut(piece, leg, ((ux, uy), (vx, vy)))


class ChamferCallouts:
    """Puts leg and angle of chamfers together.

    Parameters
    ----------
    part : Part
    view : View
    chamfers : sequence of CornerCut
        All of the whole part.
    near : float
        Distance in mm on paper within which two places are one.
    """

    def __init__(
        self, part: Part, view: View, chamfers: Sequence[CornerCut], near: float
    ) -> None:
        self.part, self.view, self.chamfers, self.near = part, view, chamfers, near

    def merged(self, found: Sequence[Measured]) -> list[Measured]:
        """Return dimensions with those of a chamfer as one, and those of its equals in it."""
        said: dict[str, list[tuple[MeasuredLength, list[Measured], CornerCut]]] = {}
        taken: set[str] = set()
        for chamfer in self.chamfers:
            if chamfer.piece.drawn:
                for leg, others in self._said_of(chamfer, found, taken):
                    said.setdefault(leg.wording.main, []).append((leg, others, chamfer))
                    taken |= {leg.id, *(o.id for o in others)}
        replaced: dict[str, Measured] = {}
        for main, group in said.items():
            leg, _, first = group[0]
            count = sum(abs(c.leg - first.leg) * self.view.factor < self.near
                        for c in self.chamfers)
            names = tuple(dict.fromkeys(name for leg, others, _ in group for one in (leg, *others)
                                        for name in one.stands_for or (one.id,)))
            replaced[leg.id] = replace(leg, wording=self._wording(main, count), stands_for=names)
        return [replaced.get(one.id, one) for one in found
                if one.id not in taken or one.id in replaced]

    def _wording(self, leg: str, count: int) -> Wording:
        practice = self.part.drawing.practice
        by = "X" if practice == "ASME" else "×"
        return Wording(f"{times(count, practice)}{leg} {by} 45°")

    def _said_of(
        self, chamfer: CornerCut, found: Sequence[Measured], taken: set[str]
    ) -> Iterator[tuple[MeasuredLength, list[Measured]]]:
        """Give a leg with what goes into its callout, where that is all of the chamfer."""
        legs: list[list[MeasuredLength]] = [[], []]
        angles = []
        for one in found:
            if one.id in taken:
                continue
            if isinstance(one, MeasuredLength) and self._is_plain(one):
                for number, way in enumerate(chamfer.ways):
                    if self._spans(one, chamfer, way):
                        legs[number].append(one)
            elif isinstance(one, MeasuredAngle) and self._opens(one, chamfer):
                angles.append(one)
        every = [*legs[0], *legs[1]]
        alike = len({leg.wording.main for leg in every}) == 1
        if alike and (angles or (legs[0] and legs[1])):
            yield every[0], [*every[1:], *angles]

    def _is_plain(self, one: MeasuredLength) -> bool:
        binding = self.part.bindings.get(one.id)
        return binding is not None and binding.drives and binding.tolerance is None

    def _spans(self, one: MeasuredLength, chamfer: CornerCut, way: XY) -> bool:
        """Tell whether a length is one leg: along an edge, from end to end of the cut."""
        (ux, uy), (x, y) = one.direction, way
        if abs(ux * y - uy * x) > SQUARE:
            return False
        edge = self.view.curve(chamfer.piece.curve)
        assert isinstance(edge, Line)
        wanted, there = (sorted(p[0] * x + p[1] * y for p in ends)
                         for ends in ((edge.start, edge.end), (one.first[0], one.second[0])))
        beside = all(min(dist(at, end) for end in (edge.start, edge.end)) < hypot(
            edge.length, self.near) for at in (one.first[0], one.second[0]))
        return beside and all(abs(a - b) < self.near for a, b in zip(wanted, there, strict=True))

    def _opens(self, one: MeasuredAngle, chamfer: CornerCut) -> bool:
        binding = self.part.bindings.get(one.id)
        return (binding is not None and binding.drives and binding.tolerance is None
                and chamfer.piece.source in binding.of and one.wording.main == "45°")
