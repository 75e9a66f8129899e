"""From a part to arrays: all rows of one equation in one block, with their owners."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from math import nan, radians

import numpy as np

from sketcher.part.crossing_choice import corners
from sketcher.part.equations import Array, Equation
from sketcher.part.kinds import KINDS, Kind
from sketcher.part.operand_forms import EquationRow, Incidence
from sketcher.part.value import ArcCurve, Binding, Part
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
        self.sides: list[str | None] = []
        self.owners: list[int] = []

    def add(self, row: EquationRow, side: str | None, owner: int) -> None:
        """Put a row on the pile."""
        self.points += row.points
        self.radii += row.radii
        self.sides.append(side)
        self.owners.append(owner)

    def block(self, equation: Equation, slots: Slots, wanted: Array) -> Block:
        """Return the arrays; `wanted` has the value of each owner, NaN for one without."""
        count, points = len(self.owners), equation.points
        side = np.zeros(count, int)
        if equation.sides:
            codes: dict[str | None, int] = {
                word: code for code, word in enumerate(equation.sides)}
            side[:] = [codes.get(word, 0) for word in self.sides]
        places = np.empty((count, equation.width), int)
        x = np.fromiter(map(slots.points.__getitem__, self.points), int, len(self.points))
        places[:, : 2 * points : 2] = x.reshape(count, points)
        places[:, 1 : 2 * points : 2] = places[:, : 2 * points : 2] + 1
        r = np.fromiter(map(slots.radii.__getitem__, self.radii), int, len(self.radii))
        places[:, 2 * points :] = r.reshape(count, equation.radii)
        owner = np.array(self.owners, int)
        value = wanted[owner]
        valued = ~np.isnan(value)
        value[~valued] = 0.0
        return Block(equation, places, side, owner, value, valued)


class Piles(defaultdict[Equation, Pile]):
    """Rows by their equation."""

    def __init__(self) -> None:
        super().__init__(Pile)

    def blocks(self, slots: Slots, wanted: Array) -> list[Block]:
        """Return the arrays of each equation, in the order in which they came."""
        return [pile.block(equation, slots, wanted) for equation, pile in self.items()]


def meeting_of(part: Part, driving: Iterable[Binding]) -> Incidence:
    """Find which points lie on which curves, and the tangent joints."""
    meeting = Incidence(part.curves)
    joining = []
    for binding in driving:
        kind = KINDS[binding.kind]
        if kind.joins:
            joining.append((kind, binding))
        elif kind.incident:
            point, curve = binding.of
            meeting.bound.setdefault(curve, []).append(point)
    for kind, binding in joining:
        joint = kind.joint(part, binding.of, meeting)
        if joint is not None:
            meeting.joints[binding.of] = joint
            meeting.signed.setdefault(joint.place, binding)
    return meeting


def _telling(method: str) -> frozenset[str]:
    """Names of the kinds that have a method of their own: asking the others costs more."""
    return frozenset(name for name, kind in KINDS.items()
                     if getattr(type(kind), method) is not getattr(Kind, method))


TELLING = _telling("held") | _telling("unions") | _telling("wishes")
"""Kinds that may say something besides their rows."""


class Assembly:
    """Collects what a part's bindings say: rows by equation, unknowns held and made one.

    Attributes
    ----------
    owners : list of str
        Ids that rows belong to: arcs first (their ends lie on them), then driving bindings.
    first_binding : int
        Number of the first binding among the owners.
    blocks : list of Block
        Solved rows.
    wishes : list of Block
        Rows that are not solved and whose side the solver prefers to keep.
    open : list of Block
        Crossings that are shared ends: which of two is meant only the sketch can tell.
    held : list of (str, list of int)
        Bindings that hold slots.
    joined : list of (str, list of (int, int), bool)
        Bindings that make slots one, and whether they have rows besides.
    """

    def __init__(self, part: Part, slots: Slots) -> None:
        self.part, self.slots = part, slots
        driving = {name: b for name, b in part.bindings.items() if b.drives}
        self.meeting = meeting_of(part, driving.values())
        arcs = {name: c for name, c in part.curves.items() if isinstance(c, ArcCurve)}
        self.owners, self.first_binding = [*arcs, *driving], len(arcs)
        self.held: list[tuple[str, list[int]]] = []
        self.joined: list[tuple[str, list[tuple[int, int]], bool]] = []
        piles, wished, crossings = Piles(), Piles(), Piles()
        self._arcs(arcs, piles)
        self._bindings(driving, piles, wished)
        for row in corners(part):
            crossings[row.equation].add(row, None, 0)
        wanted = self._wanted(driving)
        self.blocks, self.wishes, self.open = (
            each.blocks(slots, wanted) for each in (piles, wished, crossings))

    def _arcs(self, arcs: dict[str, ArcCurve], piles: Piles) -> None:
        for owner, (name, arc) in enumerate(arcs.items()):
            for end in arc.ends:
                row, side = self.meeting.radial(end, name)
                piles[row.equation].add(row, side, owner)

    def _bindings(self, driving: dict[str, Binding], piles: Piles, wished: Piles) -> None:
        part, meeting = self.part, self.meeting
        for owner, (name, binding) in enumerate(driving.items(), self.first_binding):
            kind, of, side = KINDS[binding.kind], binding.of, binding.side
            rows = kind.solved(part, of, side, meeting)
            if kind.incident and of in meeting.signed:
                row, side = meeting.radial(*of)
                rows = [row]
            for row in rows:
                piles[row.equation].add(row, side, owner)
            if binding.kind in TELLING:
                self._besides(name, binding, bool(rows))
                for row in kind.wishes(part, of) if binding.side else ():
                    if binding.side in row.equation.sides:
                        wished[row.equation].add(row, binding.side, owner)

    def _besides(self, name: str, binding: Binding, has_rows: bool) -> None:
        """Take note of the slots that a binding holds or makes one."""
        kind, at = KINDS[binding.kind], self.slots.at
        held = kind.held(self.part, binding.of)
        if held:
            self.held.append((name, [at(slot) for slot in held]))
        pairs = kind.unions(self.part, binding.of)
        if pairs:
            self.joined.append((name, [(at(one), at(other)) for one, other in pairs], has_rows))

    def _wanted(self, driving: dict[str, Binding]) -> Array:
        """Value of each owner in equation units; NaN for one without."""
        value_of = evaluator(self.part)
        wanted = [nan] * len(self.owners)
        for owner, (name, binding) in enumerate(driving.items(), self.first_binding):
            quantity = KINDS[binding.kind].quantity
            if quantity is not None:
                amount = value_of(name, binding, quantity)
                wanted[owner] = radians(amount) if quantity == "angle" else amount
        return np.array(wanted)
