"""From a part to arrays: all rows of one equation in one block, with their owners."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from math import radians

import numpy as np

from sketcher.part.crossing_choice import corners
from sketcher.part.equations import RADIAL, Array, Equation
from sketcher.part.kinds import KINDS, Kind
from sketcher.part.operand_forms import EquationRow, Incidence
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


class Pile:
    """Rows on their way into a block."""

    def __init__(self) -> None:
        # flat lists of names and numbers: nothing in them is for the collector of garbage to walk
        self.points: list[str] = []
        self.radii: list[str] = []
        self.sides: list[str] = []
        self.owners: list[int] = []
        self.values: list[float] = []
        self.valued: list[bool] = []

    def add(
        self, row: EquationRow, side: str, owner: int, value: float = 0.0, valued: bool = False
    ) -> None:
        """Put a row on the pile."""
        self.points += row.points
        self.radii += row.radii
        self.sides.append(side)
        self.owners.append(owner)
        self.values.append(value)
        self.valued.append(valued)

    def block(self, equation: Equation, slots: Slots) -> Block:
        """Return the arrays."""
        count = len(self.owners)
        side = np.zeros(count, int)
        if equation.sides:
            codes = {word: code for code, word in enumerate(equation.sides)}
            side[:] = [codes.get(word, 0) for word in self.sides]
        x = np.fromiter(map(slots.points.__getitem__, self.points), int, len(self.points))
        r = np.fromiter(map(slots.radii.__getitem__, self.radii), int, len(self.radii))
        places = np.empty((count, equation.width), int)
        places[:, : 2 * equation.points : 2] = x.reshape(count, equation.points)
        places[:, 1 : 2 * equation.points : 2] = places[:, : 2 * equation.points : 2] + 1
        places[:, 2 * equation.points :] = r.reshape(count, equation.radii)
        return Block(
            equation, places, side,
            np.array(self.owners, int), np.array(self.values, float),
            np.array(self.valued, bool))


def meeting_of(part: Part, driving: Iterable[Binding]) -> Incidence:
    """Find which points lie on which curves, and the tangent joints."""
    meeting = Incidence()
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


def telling(method: str) -> frozenset[str]:
    """Names of the kinds that have a method of their own: asking the others costs more."""
    return frozenset(name for name, kind in KINDS.items()
                     if getattr(type(kind), method) is not getattr(Kind, method))


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
        self.piles: dict[Equation, Pile] = defaultdict(Pile)
        self.wished: dict[Equation, Pile] = defaultdict(Pile)
        self._arcs(arcs)
        self._bindings(len(arcs))
        self.corners: dict[Equation, Pile] = defaultdict(Pile)
        for row in corners(part):
            self.corners[row.equation].add(row, "", 0)
        self.blocks = [pile.block(eq, slots) for eq, pile in self.piles.items()]
        self.wishes = [pile.block(eq, slots) for eq, pile in self.wished.items()]
        self.open = [pile.block(eq, slots) for eq, pile in self.corners.items()]

    def _arcs(self, arcs: dict[str, ArcCurve]) -> None:
        piles, signed = self.piles, self.meeting.signed
        for owner, (name, arc) in enumerate(arcs.items()):
            for end in arc.ends:
                found = signed.get((end, name))
                row, side = found or (EquationRow(RADIAL, (end, arc.center), (name,)), "")
                piles[row.equation].add(row, side, owner)

    def _bindings(self, owner: int) -> None:
        value_of = evaluator(self.part)
        part, meeting, piles, wished = self.part, self.meeting, self.piles, self.wished
        wishing = telling("wishes")
        for name, binding in self.driving.items():
            kind = KINDS[binding.kind]
            of, side = binding.of, binding.side or ""
            amount, valued = 0.0, kind.quantity is not None
            if kind.quantity is not None:
                amount = value_of(name, binding, kind.quantity)
                if kind.quantity == "angle":
                    amount = radians(amount)
            rows = kind.solved(part, of, binding.side, meeting)
            if kind.incident and of in meeting.signed:
                row, side = meeting.signed[of]
                rows = [row]
            for row in rows:
                piles[row.equation].add(row, side, owner, amount, valued)
            if binding.side and binding.kind in wishing:
                for row in kind.wishes(part, of):
                    if binding.side in row.equation.sides:
                        wished[row.equation].add(row, binding.side, owner, amount)
            owner += 1

    def held(self) -> list[tuple[str, list[int]]]:
        """Slots that bindings hold."""
        out = []
        saying = telling("held")
        for name, binding in self.driving.items():
            if binding.kind not in saying:
                continue
            slots = KINDS[binding.kind].held(self.part, binding.of)
            if slots:
                out.append((name, [self.slots.at(slot) for slot in slots]))
        return out

    def joined(self) -> list[tuple[str, list[tuple[int, int]], bool]]:
        """Slots that bindings make one, and whether the binding has rows besides."""
        out = []
        at, saying = self.slots.at, telling("unions")
        with_rows = np.zeros(len(self.owners), bool)
        for block in self.blocks:
            with_rows[block.owner] = True
        number = len(self.owners) - len(self.driving) - 1
        for name, binding in self.driving.items():
            number += 1
            if binding.kind not in saying:
                continue
            pairs = KINDS[binding.kind].unions(self.part, binding.of)
            if pairs:
                out.append((name, [(at(a), at(b)) for a, b in pairs], bool(with_rows[number])))
        return out
