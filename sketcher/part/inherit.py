"""Traced outline and the conditions that it inherits from the layout below it.

Every new end has two unknowns and every new arc one, its radius; each gets exactly what fixes it:

- at a corner the end lies on both curves: bound `on` a line, by the arc itself on a round, whose
  center it shares and whose radius is bound `equal`;
- at a tangent place the joint is bound tangent, which with the arc fixes the end; so the line is
  not bound on its layout line there a second time;
- of arcs that run smoothly into each other only one is bound equal: the tangencies give the others;
- where such arcs close in a ring (a curved slot), or hang between two things that stand already,
  the tangencies fix one center too: that arc gets a center of its own, kept on the line of the two
  centers, or an equal radius.

So traced outline says each thing once. No edit solves; what the solver still finds said twice
`board.mending.redundancy` takes back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import dist

from sketcher.geometry.curves import XY, Arc, Circle
from sketcher.geometry.evaluate import end_of, start_of
from sketcher.geometry.project import distance
from sketcher.part.arranged import Arranged
from sketcher.part.edits.draft import Draft
from sketcher.part.kind_base import Kind
from sketcher.part.operand_forms import round_center
from sketcher.part.tracing import TracedPiece, is_smooth
from sketcher.part.value import Binding, CircleCurve, LineCurve

SIZES = ("radius", "diameter", "offset", "equal")


@dataclass(slots=True)
class PieceEnd:
    """Where a piece ends and the next begins; None stands for the open end of a walk.

    `fixed` is True when the point stands already, so that it fixes what ends there.
    """

    before: int | None
    after: int | None
    point: str = ""
    smooth: bool = False
    fixed: bool = False


@dataclass(slots=True)
class Inherited:
    """What was made: curves and bindings, in that order."""

    curves: list[str] = field(default_factory=list)
    bindings: list[str] = field(default_factory=list)


class Inheritance:
    """Puts one run of pieces into a draft.

    Parameters
    ----------
    draft : Draft
        Part under construction.
    known : Arranged
        The part's regions.
    pieces : sequence of TracedPiece
        The run.
    closed : bool
        Whether it closes.
    """

    def __init__(
        self, draft: Draft, known: Arranged, pieces: Sequence[TracedPiece], closed: bool
    ) -> None:
        self.draft = draft
        self.known = known
        self.pieces = pieces
        self.closed = closed
        self.tol = 10.0 * known.tol  # places of the arrangement are good to its own tolerance
        self.made = Inherited()
        self.names: list[str] = [p.base if p.kept else "" for p in pieces]
        self.ends = self._find_nodes()

    def put(self) -> Inherited:
        """Draw the run and bind it."""
        if len(self.pieces) == 1 and isinstance(self.pieces[0].curve, Circle):
            self._circle(self.pieces[0])
            return self.made
        for node in self.ends:
            self._place(node)
        rings = self._arc_runs()
        own = {run[-1] for run, spare in rings if spare}
        for number, each in enumerate(self.pieces):
            if not each.kept:
                self.names[number] = self._curve(number, each, number in own)
                self.made.curves.append(self.names[number])
        for node in self.ends:
            self._bind_node(node)
        for run, spare in rings:
            self._size(run, spare)
        return self.made

    # Curves.

    def _circle(self, each: TracedPiece) -> None:
        if each.kept or not isinstance(each.curve, Circle):
            return
        center = round_center(self.known.part, each.base)
        name = self.draft.circle(center, each.curve.radius)
        self.made.curves.append(name)
        self._bind("equal", name, each.base)

    def _curve(self, number: int, each: TracedPiece, own: bool) -> str:
        start, end = self._end_at(number, False).point, self._end_at(number, True).point
        if not isinstance(each.curve, Arc):
            return self.draft.line(start, end)
        center: str | XY = each.curve.center if own else round_center(self.known.part, each.base)
        return self.draft.arc(start, end, center, "ccw" if each.curve.ccw else "cw")

    def _end_at(self, number: int, arrives: bool) -> PieceEnd:
        return next(n for n in self.ends if (n.before if arrives else n.after) == number)

    # Nodes.

    def _find_nodes(self) -> list[PieceEnd]:
        count = len(self.pieces)
        if self.closed:
            nodes = [PieceEnd(k, (k + 1) % count) for k in range(count)]
        else:
            nodes = [PieceEnd(None, 0), *(PieceEnd(k, k + 1) for k in range(count - 1)),
                     PieceEnd(count - 1, None)]
        for node in nodes:
            if node.before is not None and node.after is not None:
                a, b = self.pieces[node.before], self.pieces[node.after]
                node.smooth = is_smooth(a, b) and not (a.is_line and b.is_line)
        return nodes

    def _at(self, node: PieceEnd) -> XY:
        if node.after is not None:
            return start_of(self.pieces[node.after].curve)
        assert node.before is not None
        return end_of(self.pieces[node.before].curve)

    def _sides(self, node: PieceEnd) -> list[int]:
        return [k for k in (node.before, node.after) if k is not None]

    def _place(self, node: PieceEnd) -> None:
        """Find or make the point of a node, and bind it where no new curve does."""
        at, sides = self._at(node), self._sides(node)
        if all(self.pieces[k].kept for k in sides) and len(sides) == 2:
            return
        bases = [self.pieces[k].base for k in sides]
        found = self._standing(at, sides, bases)
        if found is not None:
            node.point, node.fixed = found, True
            return
        node.point = self.draft.point(at)
        for k in sides:
            each = self.pieces[k]
            on_line = each.is_line and not each.kept and not node.smooth
            if on_line or each.kept:
                self._bind("on", node.point, each.base)
        if len(sides) == 1:
            self._end_of_walk(node, at, bases[0])

    def _standing(self, at: XY, sides: list[int], bases: list[str]) -> str | None:
        """Return a point that lies there for good: an end of outline, or of all the lines."""
        part = self.known.part
        here = [n for n, place in part.points.items() if dist(place, at) <= self.tol]
        for k in sides:
            each = self.pieces[k]
            value = part.curves[each.base]
            if each.kept and each.base not in self.known.axes and not isinstance(
                value, CircleCurve
            ):
                found = next((n for n in here if n in value.ends), None)
                if found is not None:
                    return found
        if len(sides) == 1:
            value = part.curves[bases[0]]
            ends = () if isinstance(value, CircleCurve) else value.ends
            return next((n for n in here if n in ends), None)
        if all(self.pieces[k].is_line for k in sides):
            return next((n for n in here if all(self._lies_on(n, b) for b in bases)), None)
        return None

    def _lies_on(self, point: str, line: str) -> bool:
        value = self.known.part.curves[line]
        return (isinstance(value, LineCurve) and point in value.ends) or any(
            b.kind == "on" and b.of == (point, line) and b.drives
            for b in self.known.part.bindings.values()
        )

    def _end_of_walk(self, node: PieceEnd, at: XY, base: str) -> None:
        """Bind the open end of a walk on what crosses there."""
        for name, curve in self.known.curves.items():
            if name != base and distance(curve, at) <= self.tol:
                self._bind("on", node.point, name)
                return

    def _bind_node(self, node: PieceEnd) -> None:
        """Bind a tangent place; where the point stands already it is tangent or it is not."""
        if not node.smooth or node.fixed or not node.point:
            return
        assert node.before is not None
        assert node.after is not None
        self._bind("tangent", self.names[node.before], self.names[node.after])

    # Radii.

    def _arc_runs(self) -> list[tuple[list[int], bool]]:
        """Return new arcs that run smoothly into each other, and whether one condition is spare."""
        arcs = [k for k, p in enumerate(self.pieces)
                if not p.kept and isinstance(p.curve, Arc)]
        onward = {n.before: n.after for n in self.ends
                  if n.smooth and not n.fixed and n.before in arcs and n.after in arcs}
        firsts = [k for k in arcs if k not in onward.values()]
        runs, seen = [], set()
        for first in (*firsts, *arcs):
            run: list[int] = []
            here: int | None = first
            while here is not None and here not in seen:
                seen.add(here)
                run.append(here)
                here = onward.get(here)
            if run:
                runs.append(run)
        out = []
        for run in runs:
            ring = onward.get(run[-1]) == run[0]
            if ring:
                run = self._cap_last(run)
            hangs = 0 if ring else self._held(run[0], False) + self._held(run[-1], True)
            out.append((run, ring or hangs == 2))
        return out

    def _held(self, number: int, end: bool) -> int:
        """Return 1 where something that stands already gives an arc its radius at one end."""
        node = self._end_at(number, end)
        if node.fixed:
            return 1
        other = node.after if end else node.before
        return int(node.smooth and other is not None and self.pieces[other].kept)

    def _cap_last(self, run: list[int]) -> list[int]:
        """Turn a ring so that it ends with an arc between two that are concentric."""
        part = self.known.part
        centers = [round_center(part, self.pieces[k].base) for k in run]
        for k in range(len(run)):
            if centers[k - 1] == centers[(k + 1) % len(run)] != centers[k]:
                return run[k + 1:] + run[: k + 1]
        return run

    def _size(self, run: list[int], spare: bool) -> None:
        """Bind the radii of arcs that run smoothly into each other."""
        ring = spare and self._end_at(run[0], False).before == run[-1]
        hangs = 0 if ring else self._held(run[0], False) + self._held(run[-1], True)
        if hangs == 0:
            free = run[:-1] if spare and len(run) > 1 else run
            chosen = next((k for k in free if self._is_sized(self.pieces[k].base)), free[0])
            self._equal(chosen)
        if not spare:
            return
        last = run[-1]
        around = {round_center(self.known.part, self.pieces[k].base) for k in (run[0], run[-2])} \
            if ring else set()
        if len(around) == 1:
            (middle,) = around
            own = round_center(self.draft.done(), self.names[last])
            layout = round_center(self.known.part, self.pieces[last].base)
            self._bind("in line", middle, layout, own)
        else:
            self._equal(last)

    def _equal(self, number: int) -> None:
        self._bind("equal", self.names[number], self.pieces[number].base)

    def _is_sized(self, base: str) -> bool:
        return any(b.kind in SIZES and base in b.of for b in self.known.part.bindings.values())

    def _bind(self, kind: str, *of: str) -> None:
        """Add a binding whose side is where the geometry stands, at a horn as well."""
        from sketcher.part.kinds import KINDS, bind

        part = self.draft.done()
        binding = bind(part, kind, of)
        if kind == "tangent":
            side = Kind.settle(KINDS[kind], part, binding.of, None)
            binding = Binding(kind, binding.of, None, side)
        self.made.bindings.append(self.draft.binding(binding))


def follow_mirrors(draft: Draft, curves: Sequence[str]) -> None:
    """Let new outline belong to every mirror that names its curves one by one."""
    from dataclasses import replace

    mirrors = [
        m if m.curves == "outline" else replace(m, curves=(*m.curves, *curves))
        for m in draft.mirrors
    ]
    if mirrors != list(draft.mirrors):
        draft.set_mirrors(mirrors)



