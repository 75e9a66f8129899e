"""The half as a person at a drawing board sees it: points, lines and circles that carry them.

The solver's unknowns are points and radii. A drawing board has more: a line can be scribed long
before its ends are known. Here every line therefore has two unknowns of its own, `turn` and `place`
(half the difference and half the sum of its shifts at both ends, square to it), and its ends are
points that lie on it. Bindings become rows of derivatives at the solved geometry, taken from their
kinds' equations; where an equation knows a line only as a straight edge its row is put to the
line's unknowns and no longer to its ends. A tangent joint is put as what the drawer uses: the
distance of the center first, the point of tangency as its foot afterwards.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from heapq import heapify, heappop, heappush

import numpy as np

from sketcher.geometry.curves import Line
from sketcher.interrupt import check
from sketcher.part.construction_words import Role
from sketcher.part.equations import RADIAL
from sketcher.part.kind_base import Kind
from sketcher.part.kinds import KINDS
from sketcher.part.loci import Amount, Locus
from sketcher.part.operand_forms import EquationRow, Slot, local
from sketcher.part.value import ArcCurve, LineCurve, Part
from sketcher.solve.assemble import meeting_of
from sketcher.solve.rank import Floats

NOTHING = 1e-7  # of the largest derivative in a row: does not depend on it
INDEPENDENT = 1e-8
ROUNDING = 1e-13  # what is left where amounts cancel

Terms = dict[Slot, float]


@dataclass(frozen=True, slots=True)
class Relation:
    """One condition with its derivatives.

    Parameters
    ----------
    terms : dict of (id, axis) to float
        Axis is ``x``, ``y`` of a point, ``r`` of a round, ``turn``, ``place`` of a line.
    kind : Kind or None
        Kind of the binding; None for the end of a curve and for a choice.
    owner : str
        Binding id, or the curve whose end it is, or empty for a choice.
    points, rounds : tuple of str
        Operands of the equation.
    role : str
        ``row`` for an equation of a binding, ``held`` for a place that it gives, ``touch`` for the
        distance part of a tangency, ``end`` for the end of a curve, ``choice`` for what nothing
        says, ``worked out`` for a length that several of the paper's give.
    by_value : float
        Derivative by the value of the binding, in equation units.
    meant : Amount, Locus or None
        The radius or the locus, where it is worked out.
    owners : tuple of str
        The bindings behind it then.
    """

    terms: Terms
    kind: Kind | None
    owner: str = ""
    points: tuple[str, ...] = ()
    rounds: tuple[str, ...] = ()
    role: Role = "row"
    by_value: float = 0.0
    meant: Amount | Locus | None = None
    owners: tuple[str, ...] = ()

    @property
    def passes(self) -> bool:
        """True where it puts its last point on a curve."""
        return self.role == "end" or (self.kind is not None and self.kind.incident)

    @property
    def straight(self) -> bool:
        """True where what it leaves of a point is a straight line."""
        return self.kind is not None and self.kind.straight_locus


@dataclass(slots=True)
class _Reading:
    """Where the lines are while rows are put to them."""

    part: Part
    lines: dict[str, tuple[Floats, Floats]] = field(default_factory=dict)  # along, square to it

    def __post_init__(self) -> None:
        at = self.part.points
        for name, curve in self.part.curves.items():
            if isinstance(curve, LineCurve):
                ux, uy = Line(*(at[p] for p in curve.ends)).direction
                if (ux, uy) != (0.0, 0.0):
                    self.lines[name] = np.array([ux, uy]), np.array([-uy, ux])

    def edge(self, of: Iterable[str], pair: tuple[str, ...]) -> str | None:
        """The operand line that has these ends."""
        for name in of:
            curve = self.part.curves.get(name)
            if isinstance(curve, LineCurve) and curve.ends == pair and name in self.lines:
                return name
        return None

    def edge_at(self, of: Iterable[str], point: str) -> str | None:
        """The only operand line that ends at this point, which is no operand itself."""
        found = [name for name in of if name in self.lines
                 and point in self.part.curves[name].points]
        return found[0] if len(found) == 1 and point not in of else None

    def terms(self, row: EquationRow, gradient: Floats, of: Sequence[str]) -> Terms:
        """Derivatives by the unknowns of the board."""
        found: Terms = {}

        def add(slot: Slot, amount: float) -> None:
            found[slot] = found.get(slot, 0.0) + amount

        count, at = len(row.points), 0
        while at < count:
            here = gradient[2 * at : 2 * at + 2]
            name = self.edge(of, row.points[at : at + 2])
            if name is not None:
                along, square = self.lines[name]
                there = gradient[2 * at + 2 : 2 * at + 4]
                if max(abs(here @ along), abs(there @ along)) <= NOTHING:
                    add((name, "turn"), float((there - here) @ square))
                    add((name, "place"), float((there + here) @ square))
                    at += 2
                    continue
            point = row.points[at]
            name = self.edge_at(of, point)
            if name is not None and abs(here @ self.lines[name][0]) <= NOTHING:
                amount = float(here @ self.lines[name][1])
                sense = 1.0 if self.part.curves[name].points[1] == point else -1.0
                add((name, "turn"), sense * amount)
                add((name, "place"), amount)
            else:
                add((point, "x"), float(here[0]))
                add((point, "y"), float(here[1]))
            at += 1
        for name, amount in zip(row.radii, gradient[2 * count :].tolist(), strict=True):
            add((name, "r"), amount)
        largest = max(map(abs, found.values()), default=0.0)
        return {slot: v for slot, v in found.items() if abs(v) > NOTHING * largest}

    def rows(
        self, row: EquationRow, kind: Kind | None, owner: str, of: Sequence[str], role: Role = "row"
    ) -> Iterator[Relation]:
        """Relations of one equation."""
        side = _side(self.part, row, owner)
        here, nothing = local(self.part, row), np.zeros(1)
        jacobian = row.equation.jacobian(here, nothing, side)
        moved = (row.equation.residual(here, np.ones(1), side)
                 - row.equation.residual(here, nothing, side)).ravel().tolist()
        for gradient, by_value in zip(jacobian[0], moved, strict=True):
            terms = self.terms(row, gradient, of)
            if terms:
                yield Relation(terms, kind, owner, row.points, row.radii, role, by_value)

    def same(
        self, one: Slot, other: Slot, kind: Kind, owner: str, of: Sequence[str]
    ) -> Relation:
        """Relation that makes two unknowns one."""
        if one[1] == "r":
            return Relation({one: 1.0, other: -1.0}, kind, owner, (), (one[0], other[0]))
        name = self.edge(of, (one[0], other[0]))
        axis = np.array([1.0, 0.0]) if one[1] == "x" else np.array([0.0, 1.0])
        if name is not None and abs(axis @ self.lines[name][0]) <= NOTHING:
            return Relation({(name, "turn"): 1.0}, kind, owner, (one[0], other[0]))
        return Relation({one: 1.0, other: -1.0}, kind, owner, (one[0], other[0]))


def _side(part: Part, row: EquationRow, owner: str) -> np.ndarray:
    binding = part.bindings.get(owner)
    side = binding.side if binding is not None else None
    sides = row.equation.sides
    return np.array([sides.index(side) if side in sides else 0])


def relations(part: Part, without: Iterable[str] = ()) -> list[Relation]:
    """Return all conditions of a solved part, ends of curves first, then plain before valued.

    Parameters
    ----------
    part : Part
        Solved, with its sides.
    without : iterable of str
        Bindings to leave out (those said twice).
    """
    board, dropped = _Reading(part), set(without)
    driving = {n: b for n, b in part.bindings.items() if b.drives and n not in dropped}
    meeting = meeting_of(part, driving.values())
    out = list(_ends(board, meeting.signed))
    plain = [(n, b) for n, b in driving.items() if KINDS[b.kind].quantity is None]
    valued = [(n, b) for n, b in driving.items() if KINDS[b.kind].quantity is not None]
    for name, binding in (*plain, *valued):
        kind = KINDS[binding.kind]
        of = binding.of
        for slot in kind.held(part, of):
            out.append(Relation({slot: 1.0}, kind, name, (slot[0],), role="held"))
        for one, other in kind.unions(part, of):
            if one != other:  # two rounds about one and the same point
                out.append(board.same(one, other, kind, name, of))
        if kind.incident and of in meeting.signed:
            continue  # follows from the tangency at this point
        solved = kind.solved(part, of, binding.side, meeting)
        if kind.joins:
            for row in kind.rows(part, of, binding.side):
                out += board.rows(row, kind, name, of, "touch")
            if of not in meeting.joints:
                continue
        out += _parted([r for row in solved for r in board.rows(row, kind, name, of)])
    return out


def _parted(found: list[Relation]) -> list[Relation]:
    """Two conditions on one edge (both ends of a parallel) as one on its turn, one on its place."""
    if len(found) != 2:
        return found
    one, other = (r.terms for r in found)
    for name in dict.fromkeys(name for name, axis in one if axis == "turn"):
        turn, place = (name, "turn"), (name, "place")
        a, b, c, d = one.get(turn, 0.0), one.get(place, 0.0), other.get(turn, 0.0), other.get(
            place, 0.0)
        if abs(a * d - b * c) > NOTHING:
            first, second = (r.by_value for r in found)
            return [replace(found[0], terms=_sum(one, d, other, -b),
                            by_value=d * first - b * second),
                    replace(found[1], terms=_sum(one, c, other, -a),
                            by_value=c * first - a * second)]
    return found


def _sum(one: Terms, times: float, other: Terms, factor: float) -> Terms:
    """Combination of two rows without what cancels."""
    total = {s: times * one.get(s, 0.0) + factor * other.get(s, 0.0) for s in {**one, **other}}
    largest = max(map(abs, total.values()), default=0.0)
    return {s: v for s, v in total.items() if abs(v) > NOTHING * largest}


def _ends(board: _Reading, signed: Container[tuple[str, ...]]) -> Iterator[Relation]:
    """Ends lie on their curves; the end of an arc at a tangent joint does so by the tangency."""
    for name, curve in board.part.curves.items():
        if isinstance(curve, LineCurve) and name in board.lines:
            square = board.lines[name][1]
            for end, sense in zip(curve.ends, (1.0, -1.0), strict=True):
                terms = {(end, "x"): float(square[0]), (end, "y"): float(square[1]),
                         (name, "place"): -1.0, (name, "turn"): sense}
                yield Relation({s: v for s, v in terms.items() if abs(v) > NOTHING}, None, name,
                               (end,), role="end")
        elif isinstance(curve, ArcCurve):
            for end in curve.ends:
                if (end, name) not in signed:
                    row = EquationRow(RADIAL, (end, curve.center), (name,))
                    yield from board.rows(row, None, name, (), "end")


def unknowns(part: Part) -> list[Slot]:
    """Return every unknown of the board in the order of the curves, points without curve last."""
    order: dict[Slot, None] = {}
    for name, curve in part.curves.items():
        first, *rest = curve.points
        order.update(dict.fromkeys([(first, "x"), (first, "y")]))
        if isinstance(curve, LineCurve):
            order.update(dict.fromkeys([(name, "turn"), (name, "place")]))
        else:
            order[name, "r"] = None
        order.update(dict.fromkeys((p, axis) for p in rest for axis in "xy"))
    order.update(dict.fromkeys((p, axis) for p in part.points for axis in "xy"))
    return list(order)


class Basis:
    """Independent rows in echelon form, sparse: each begins at a pivot that no later one has.

    A row is judged by what is left of it without the pivots of all rows before. That does not
    depend on how those are stored, and stored as they were taken they stay as short as they are.
    """

    def __init__(self) -> None:
        self.rows: list[dict[int, float]] = []
        self.number: dict[int, int] = {}
        """Number of the row that has its pivot in a column."""

    def take(self, row: Mapping[int, float]) -> bool:
        """Add a row (amounts by column) unless it depends on those before; True when it was."""
        largest = max(map(abs, row.values()), default=0.0)
        rest, number = dict(row), self.number
        queue = [number[column] for column in rest if column in number]
        heapify(queue)
        done = -1
        while queue:
            at = heappop(queue)
            if at == done:
                continue
            done = at
            pivot, *others = self.rows[at].items()
            factor = rest.pop(pivot[0])
            if not factor:
                continue
            for column, amount in others:
                if column not in rest:
                    rest[column] = -factor * amount
                    if column in number:
                        heappush(queue, number[column])
                else:
                    rest[column] -= factor * amount
        if not rest:
            return False
        column = max(rest, key=lambda k: (abs(rest[k]), -k))
        if abs(rest[column]) <= INDEPENDENT * largest:
            return False
        first = rest.pop(column)
        number[column] = len(self.rows)
        least = ROUNDING * max(abs(first), largest)
        self.rows.append({column: 1.0,
                          **{k: v / first for k, v in rest.items() if abs(v) > least}})
        return True


def determined(found: Sequence[Relation], slots: Sequence[Slot]) -> list[Relation]:
    """Return as many independent relations as there are unknowns.

    Relations in their order; then, where nothing more is said, choices of single unknowns in
    theirs. A line's `place` follows from its first point and its `turn`, which come before it.
    """
    number = {slot: k for k, slot in enumerate(slots)}
    basis = Basis()
    out: list[Relation] = []
    first = sorted(slots, key=lambda slot: slot[1] != "r")  # a chosen radius makes arcs simple
    choices = (Relation({s: 1.0}, None, "", (s[0],), role="choice") for s in first)
    for relation in (*found, *choices):
        if len(out) == len(slots):
            break
        check()
        if basis.take({number[slot]: amount for slot, amount in relation.terms.items()}):
            out.append(relation)
    return out
