"""From a part to arrays: all rows of one equation in one block, with their owners."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import chain
from math import radians

import numpy as np

from sketcher.part.crossing_choice import corners
from sketcher.part.equations import RADIAL, Array, Equation
from sketcher.part.kinds import KINDS
from sketcher.part.operand_forms import Meeting, Row
from sketcher.part.value import ArcCurve, Binding, CircleCurve, Part
from sketcher.part.wanted import evaluator
from sketcher.solve.unknowns import Slots


@dataclass(slots=True)
class Block:
    """All uses of one equation.

    Attributes
    ----------
    equation : Equation
    slots : int array
        Raw slots of the local vector, shape (m, n).
    side, owner : int array
        Code of the side and number of the owner, shape (m,).
    value : float array
        Wanted value in equation units, shape (m,).
    valued : bool array
        Whether the value comes from a dimension.
    """

    equation: Equation
    slots: Array
    side: Array
    owner: Array
    value: Array
    valued: Array


@dataclass(slots=True)
class Pile:
    """Rows on their way into a block."""

    points: list[tuple[str, ...]] = field(default_factory=list)
    radii: list[tuple[str, ...]] = field(default_factory=list)
    sides: list[int] = field(default_factory=list)
    owners: list[int] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    valued: list[bool] = field(default_factory=list)

    def add(
        self, row: Row, side: str, owner: int, value: float = 0.0, valued: bool = False
    ) -> None:
        """Put a row on the pile."""
        sides = row.equation.sides
        self.points.append(row.points)
        self.radii.append(row.radii)
        self.sides.append(sides.index(side) if side in sides else 0)
        self.owners.append(owner)
        self.values.append(value)
        self.valued.append(valued)

    def block(self, equation: Equation, slots: Slots) -> Block:
        """Return the arrays."""
        count, at, rounds = len(self.owners), slots.points, slots.radii
        flat = chain.from_iterable(self.points)
        x = np.fromiter((at[p] for p in flat), int).reshape(count, equation.points)
        r = np.fromiter((rounds[name] for name in chain.from_iterable(self.radii)), int)
        places = np.stack([x, x + 1], axis=2).reshape(count, 2 * equation.points)
        return Block(
            equation, np.hstack([places, r.reshape(count, equation.radii)]),
            np.array(self.sides, int), np.array(self.owners, int),
            np.array(self.values, float), np.array(self.valued, bool))


def meeting_of(part: Part, driving: Iterable[Binding]) -> Meeting:
    """Find which points lie on which curves, and the tangent joints."""
    meeting = Meeting()
    for name, curve in part.curves.items():
        ends = () if isinstance(curve, CircleCurve) else curve.ends
        meeting.on[name] = dict.fromkeys(ends)
    joining = []
    for binding in driving:
        kind = KINDS[binding.kind]
        if kind.incident:
            meeting.on[binding.of[1]][binding.of[0]] = None
        elif kind.joins:
            joining.append((kind, binding))
    for kind, binding in joining:
        found = kind.signed(part, binding.of, meeting)
        if found is not None:
            meeting.signed.setdefault(found[0], (found[1], binding.side or ""))
    return meeting


class Assembly:
    """Collects the rows of a part by equation.

    Attributes
    ----------
    owners : list of str
        Ids that rows belong to: arcs first (their ends lie on them), then driving bindings.
    blocks : list of Block
        Solved rows.
    wishes : list of Block
        Rows that are not solved and whose side the solver prefers to keep.
    open : list of Block
        Crossings that are shared ends: which of two is meant only the sketch can tell.
    """

    def __init__(self, part: Part, slots: Slots) -> None:
        self.part, self.slots = part, slots
        self.driving = {name: b for name, b in part.bindings.items() if b.drives}
        self.meeting = meeting_of(part, self.driving.values())
        arcs = {name: c for name, c in part.curves.items() if isinstance(c, ArcCurve)}
        self.owners = [*arcs, *self.driving]
        self.piles: dict[Equation, Pile] = {}
        self.wished: dict[Equation, Pile] = {}
        self._arcs(arcs)
        self._bindings(len(arcs))
        self.corners: dict[Equation, Pile] = {}
        for row in corners(part):
            self._add(self.corners, row, "", 0, 0.0, False)
        self.blocks = [pile.block(eq, slots) for eq, pile in self.piles.items()]
        self.wishes = [pile.block(eq, slots) for eq, pile in self.wished.items()]
        self.open = [pile.block(eq, slots) for eq, pile in self.corners.items()]

    def _arcs(self, arcs: dict[str, ArcCurve]) -> None:
        for owner, (name, arc) in enumerate(arcs.items()):
            for end in arc.ends:
                row, side = self.meeting.signed.get((end, name), (None, ""))
                if row is None:
                    row = Row(RADIAL, (end, arc.center), (name,))
                self._add(self.piles, row, side, owner, 0.0, False)

    def _bindings(self, owner: int) -> None:
        value_of = evaluator(self.part)
        signed = self.meeting.signed
        for name, binding in self.driving.items():
            kind = KINDS[binding.kind]
            of, side = binding.of, binding.side or ""
            amount = 0.0
            if kind.quantity is not None:
                amount = value_of(name, binding, kind.quantity)
                if kind.quantity == "angle":
                    amount = radians(amount)
            rows = kind.solved(self.part, of, binding.side, self.meeting)
            if kind.incident and of in signed:
                row, side = signed[of]
                rows = [row]
            for row in rows:
                self._add(self.piles, row, side, owner, amount, kind.quantity is not None)
            if binding.side:
                for row in kind.wishes(self.part, of):
                    if binding.side in row.equation.sides:
                        self._add(self.wished, row, binding.side, owner, amount, False)
            owner += 1

    @staticmethod
    def _add(
        piles: dict[Equation, Pile], row: Row, side: str, owner: int, value: float, valued: bool
    ) -> None:
        pile = piles.get(row.equation)
        if pile is None:
            pile = piles[row.equation] = Pile()
        pile.add(row, side, owner, value, valued)

    def held(self) -> list[tuple[str, list[int]]]:
        """Slots that bindings hold."""
        out = []
        for name, binding in self.driving.items():
            slots = KINDS[binding.kind].held(self.part, binding.of)
            if slots:
                out.append((name, [self.slots.at(slot) for slot in slots]))
        return out

    def joined(self) -> list[tuple[str, list[tuple[int, int]], bool]]:
        """Slots that bindings make one, and whether the binding has rows besides."""
        out = []
        at = self.slots.at
        with_rows = {int(o) for block in self.blocks for o in block.owner}
        number = len(self.owners) - len(self.driving)
        for name, binding in self.driving.items():
            pairs = KINDS[binding.kind].unions(self.part, binding.of)
            if pairs:
                out.append((name, [(at(a), at(b)) for a, b in pairs], number in with_rows))
            number += 1
        return out
