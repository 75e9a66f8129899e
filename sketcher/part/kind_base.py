"""What a binding kind is: its equations and sides, how it is drawn, and how it is said.

A kind says which equations its operands mean (`rows`), which unknowns it makes one (`unions`) or
holds (`held`), and which side it only wishes to keep (`wishes`): level and plumb are substitutions
and cannot carry a sign; a corner of a line and a round has two places and no binding of its own.
The solver checks wishes when it has solved, puts them right (`System.mended`, `System.nearer`) and
solves again.

The rest belongs to it too: its sign (`kind_sign`, strokes in a unit box) and where that stands, the
form of its dimension (`dimension_form`: places, direction, curve; no drawing), the prefix of its
number, its table of general tolerances, its place among what is offered, and its phrases at the
drawing board (`locus`, `found`, `course`, `opening`, in terms of `construction_words.Words`).
Screen, sheet, ledger and construction order ask the kind and know none by name; a form that they do
not know raises. A new kind is one file in `kinds/` with ``KIND = ...``.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from itertools import chain, permutations, product
from typing import Literal, TypeAlias

import numpy as np

from sketcher.part.construction_words import Condition, Words
from sketcher.part.dimension_form import DimensionForm
from sketcher.part.equations import Array
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Course, Found, Locus, Opened
from sketcher.part.operand_forms import (
    ROUNDS,
    EquationRow,
    Incidence,
    MeantJoint,
    Slot,
    local,
    operand_type,
)
from sketcher.part.sign_stand import Stand, stands
from sketcher.part.value import Binding, Part

Feature: TypeAlias = Literal["linear", "radius", "angle"]
"""Tables of general tolerances: lengths, external radii, angles."""


class Kind:
    """Base of all binding kinds: everything that the program knows of one stands in its file.

    A binding is what the literature calls a geometric constraint; one with a value is a dimensional
    constraint. A kind is solved either by the equations of `rows`, or, where `substitutes` is True,
    by making unknowns one (`unions`); its rows then only measure. A kind may do both.

    Attributes
    ----------
    name : str
        Name in files.
    title : str
        Name in the window and in reports where the one in files is too short to be understood.
    quantity : str or None
        ``length`` or ``angle`` for a dimension, None for a kind without a value.
    hint : str
        One sentence for the person who looks for it.
    phrases : tuple of str
        How a binding of this kind is said of its operands, one for each number of them:
        ``"{0} square to {1}"``.
    forms : tuple of tuple of str
        Operand types that it takes; ``round`` stands for an arc or a circle.
    sign : Sign
        What is drawn for it on the scene, in the ledger and on buttons.
    prefix : str
        Stands before the number of a dimension.
    feature : str
        Table of general tolerances that holds for it (`limits.deviation`).
    """

    name = ""
    title = ""
    quantity: str | None = None
    hint = ""
    phrases: tuple[str, ...] = ()
    forms: tuple[tuple[str, ...], ...] = ()
    sign = Sign()
    prefix = ""
    feature: Feature = "linear"
    above_zero = False  # a value of 0 makes no sense
    extent = False  # of a line: from end to end, so that it is the line's own and no other's
    aligns = False  # puts a point over another without saying how far away
    straight_locus = False  # what it leaves of a point is a straight line
    said_in_words = False  # by a note, before a dimension that says the same
    substitutes = False
    incident = False  # says that a point lies on a curve
    joins = False  # may be a tangent joint
    has_sides = True  # False spares a look where no form has any

    @property
    def label(self) -> str:
        """Name on buttons, menus and in tables."""
        return self.title or self.name.capitalize()

    @property
    def noun(self) -> str:
        """Name within a sentence, before "of"."""
        return self.label.lower().removesuffix(" to")

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Equations that measure, and unless `substitutes` solve, the binding."""
        raise NotImplementedError

    def solved(
        self, part: Part, of: Sequence[str], side: str | None, meeting: Incidence
    ) -> list[EquationRow]:
        """Equations for the solver, which knows where curves meet."""
        return [] if self.substitutes else self.rows(part, of, side)

    def wishes(self, part: Part, of: Sequence[str]) -> list[EquationRow]:
        """Rows that are not solved but whose side a solution should keep."""
        return []

    def unions(self, part: Part, of: Sequence[str]) -> list[tuple[Slot, Slot]]:
        """Pairs of unknowns that become one."""
        return []

    def held(self, part: Part, of: Sequence[str]) -> list[Slot]:
        """Unknowns that keep the value which they have."""
        return []

    def joint(self, part: Part, of: Sequence[str], meeting: Incidence) -> MeantJoint | None:
        """Return the tangent joint of its curves; None where they share no point."""
        return None

    def sided(self, part: Part, of: Sequence[str]) -> tuple[str, ...]:
        """Words for the sides of this form; empty where there is none."""
        for row in (*self.rows(part, of, None), *self.wishes(part, of)):
            if row.equation.sides:
                return row.equation.sides
        return ()

    def choices(self, part: Part, of: Sequence[str]) -> tuple[str, ...]:
        """Sides among which only the geometry can choose; empty where the part implies one."""
        return self.sided(part, of)

    def settle(self, part: Part, of: Sequence[str], value: float | None) -> str | None:
        """Word for the side on which the geometry stands; `value` in equation units."""
        both = (*self.rows(part, of, None), *self.wishes(part, of))
        rows = [row for row in both if row.equation.sides]
        if not rows:
            return None
        equation = rows[0].equation
        if len(rows) > 1:
            lean = sum(float(row.equation.lean(local(part, row))[0]) for row in rows)
            return equation.sides[0 if lean >= 0.0 else 1]
        code = equation.settle(local(part, rows[0]), np.array([value or 0.0]))
        return equation.sides[int(code[0])]

    def first_value(
        self, part: Part, of: Sequence[str], side: str | None
    ) -> tuple[float, str | None]:
        """Value as the geometry stands for a dimension made without one, and its side."""
        side = side or self.settle(part, of, None)
        return self.actual(part, Binding(self.name, tuple(of), None, side), None), side

    def code(self, row: EquationRow, side: str | None) -> Array:
        """Position of a side's word, shape (1,)."""
        sides = row.equation.sides
        return np.array([sides.index(side) if side in sides else 0])

    def actual(self, part: Part, binding: Binding, wanted: float | None) -> float:
        """Measured value in equation units, or the worst row as a length for kinds without one.

        Of several rows the one furthest from `wanted` counts.
        """
        worst, size = 0.0, -1.0
        value = np.array([wanted or 0.0])
        for row in self.rows(part, binding.of, binding.side):
            at = local(part, row)
            side = self.code(row, binding.side)
            found = row.equation.residual(at, value, side)
            off = row.equation.deviation(found, side)
            if self.quantity is None and row.equation.angular:
                off = off * row.equation.span(at)[:, None]
            for amount in off.ravel().tolist():
                if abs(amount) > size:
                    worst, size = amount, abs(amount)
        return worst + float(value[0])

    @cached_property
    def accepted(self) -> frozenset[tuple[str, ...]]:
        """Every tuple of operand types that fits as it stands, `round` written out."""
        spread = [product(*(ROUNDS if want == "round" else (want,) for want in form))
                  for form in self.forms]
        return frozenset(chain.from_iterable(spread))

    def arrange(self, part: Part, ids: Sequence[str]) -> tuple[str, ...] | None:
        """Ids in the order that a form wants, or None where no form fits."""
        if len(ids) > max(map(len, self.forms)):
            return None
        types = [operand_type(part, name) or "" for name in ids]
        for order in permutations(range(len(ids))):
            if tuple(types[at] for at in order) in self.accepted:
                return tuple(ids[at] for at in order)
        return None

    def instead_of_zero(self, of: Sequence[str]) -> str:
        """What to do where 0 was typed and `above_zero` refuses it."""
        return "give it as the paper prints it, positive"

    # How it is drawn.

    def dimension(self, part: Part, of: Sequence[str]) -> DimensionForm | None:
        """Form of its dimension; None without a value, or where the geometry leaves it no shape."""
        return None

    def shows_itself(self, part: Part, of: Sequence[str]) -> bool:
        """Tell whether a drawing shows the condition without a word, as level, square, tangent."""
        return False

    def instead(self, part: Part, of: Sequence[str]) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Kinds and operands of dimensions that would say the same in the condition's stead."""
        return ()

    def stands(self, part: Part, of: Sequence[str]) -> tuple[Stand, ...]:
        """Places of its sign on the scene, each with the direction away from the geometry."""
        return stands(part, of)

    def preference(self, part: Part, of: Sequence[str]) -> float:
        """Where it stands among the dimensions offered for a selection; the least comes first."""
        return 10.0

    def phrase(self, of: Sequence[str]) -> str:
        """Say the binding in words: ``e1 square to e4``."""
        for phrase in self.phrases:
            if phrase.count("{") == len(of):
                return phrase.format(*of)
        return f"{self.name} {' '.join(of)}"

    # What it means at the drawing board. None where it has no such meaning: what depends on it is
    # then taken from the computation, and said to be.

    def locus(self, words: Words, condition: Condition, point: str) -> Locus | None:
        """Line or circle on which a condition puts a point."""
        return None

    def found(self, words: Words, condition: Condition, point: str) -> Found | None:
        """Place that a condition alone gives to a point."""
        return None

    def course(self, words: Words, condition: Condition, line: str) -> Course | None:
        """How a condition makes a line run."""
        return None

    def opening(self, words: Words, condition: Condition, name: str) -> Opened | None:
        """How far a condition opens the compass for a round."""
        return None
