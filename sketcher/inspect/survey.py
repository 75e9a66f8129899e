"""The outline as the clean-up looks at it: pieces, where they end, where they meet."""

from __future__ import annotations

from functools import cached_property

from sketcher.errors import SketcherError
from sketcher.geometry.bounds import size_of, tolerance
from sketcher.geometry.chain import Nodes, goes_round, nodes
from sketcher.geometry.curve_table import CurveTable
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.meet_many import meet_all
from sketcher.geometry.near_misses import NEARLY, Miss, near_misses
from sketcher.inspect.mend import MendStep
from sketcher.part.value import Part
from sketcher.part.whole import Piece, whole

SPECK = 1e-6
"""Share of the size below which a curve is a leftover of editing (common practice, no source)."""

SMALL = 0.5
"""Share of the shorter curve above which a gap is a feature, not a miss (common practice)."""


class Survey:
    """Answers about one part, computed when first asked for.

    Parameters
    ----------
    part : Part
        The part; reflections and patterns count, so that an end on the axis is no open end.
    """

    def __init__(self, part: Part) -> None:
        self.part = part
        self.all = tuple(p for p in whole(part) if p.role == "outline")
        curves = [p.curve for p in self.all]
        self.size = size_of(curves)
        self.tol = tolerance(curves)
        self.reach = NEARLY * self.size
        short = max(self.tol, SPECK * self.size)
        self.pieces = tuple(p for p in self.all if p.curve.length > self.tol)
        self.specks = tuple(p for p in self.all if p.curve.length <= short)
        self._tiny = frozenset(p.id for p in self.specks)

    @cached_property
    def curves(self) -> tuple[Curve, ...]:
        """The pieces' geometry."""
        return tuple(p.curve for p in self.pieces)

    @cached_property
    def net(self) -> Nodes:
        """Which ends are one place."""
        return nodes(self.curves, self.tol)

    @cached_property
    def named(self) -> frozenset[str]:
        """Points and curves that bindings name."""
        return frozenset(name for b in self.part.bindings.values() for name in b.of)

    @cached_property
    def misses(self) -> tuple[Miss, ...]:
        """Where ends nearly meet."""
        items = [(p.id, p.curve) for p in self.pieces]
        found = near_misses(items, self.tol, self.reach) if items else ()
        lengths = {p.id: p.curve.length for p in self.pieces if p.id not in self._tiny}
        # Beside curves that are hardly longer, what lies between them was meant.
        return tuple(m for m in found if m.a in lengths and m.b in lengths
                     and m.size < SMALL * min(lengths[m.a], lengths[m.b]))

    @cached_property
    def contacts(self) -> dict[int, list[tuple[float, int, XY]]]:
        """For each piece where others meet it between its ends: parameter, other piece, place."""
        found: dict[int, list[tuple[float, int, XY]]] = {}
        if not self.pieces:
            return found
        met = meet_all(CurveTable(self.curves), self.tol)
        for a, b, (x, y), ta, tb, shared in zip(
            met.a.tolist(), met.b.tolist(), met.point.tolist(), met.ta.tolist(), met.tb.tolist(),
            met.shared.tolist(), strict=True,
        ):
            if shared:
                continue  # one runs over the other: a matter of its own
            for own, other, t in ((a, b, ta), (b, a, tb)):
                if goes_round(self.curves[own]) or 0.0 < t < 1.0:
                    found.setdefault(own, []).append((t, other, (x, y)))
        return {own: sorted(places) for own, places in found.items()}

    @cached_property
    def loose(self) -> tuple[tuple[int, int], ...]:
        """Ends (piece, 0 or 1) that no other piece ends at and that do not nearly meet one."""
        near = {(m.a, m.at) for m in self.misses} | {(m.b, m.to) for m in self.misses if m.ends}
        found = []
        for k, ends in enumerate(self.net.ends):
            if self.pieces[k].id in self._tiny:
                continue
            for index, node in enumerate(ends):
                if node >= 0 and len(self.net.at[node]) == 1 \
                        and (self.pieces[k].id, self.net.points[node]) not in near:
                    found.append((k, index))
        return tuple(found)

    def lies_on(self, k: int, index: int) -> int | None:
        """Return the piece between whose ends an end of another piece lies, or None."""
        at = self.net.points[self.net.ends[k][index]]
        for other, places in self.contacts.items():
            if other != k and any(mate == k and _near(at, place, 2.0 * self.tol)
                                  for _, mate, place in places):
                return other
        return None

    def axis_of(self, image: Piece) -> str | None:
        """Return the axis about which a piece is reflected once; None for any other piece."""
        about = image.image.mirrors
        return self.part.mirrors[about - 1].axis if about in (1, 2) else None

    def first_that_works(self, *steps: MendStep) -> MendStep | None:
        """Return the first edit that the part allows."""
        for step in steps:
            try:
                if step.apply(self.part).part is not self.part:
                    return step
            except SketcherError:
                continue
        return None


def _near(a: XY, b: XY, reach: float) -> bool:
    return abs(a[0] - b[0]) <= reach and abs(a[1] - b[1]) <= reach
