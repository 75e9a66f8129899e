"""Lengths that several of the paper's numbers give together: R48 is 52 less 4.

How much a length changes with each number of the paper follows from the conditions, solved
backwards from it block by block (the adjoint of a block triangular system). Where all these shares
are plain fractions, and the numbers with their shares add up to the length, that sum is the
drafter's arithmetic. A sum that only happens to fit is not found, for the shares are derivatives.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from heapq import heapify, heappop, heappush
from math import dist

import numpy as np

from sketcher.lesson.board_entities import Entity, entity_of
from sketcher.lesson.board_words import BoardWords
from sketcher.lesson.relations import Relation
from sketcher.part.kinds import KINDS, wanted
from sketcher.part.loci import Amount, Axis, Beside, RoundAbout, Term
from sketcher.part.operand_forms import Slot, round_center
from sketcher.part.part_size import part_size
from sketcher.part.value import LineCurve, Part

SHARES = [Fraction(n, d) for d in (1, 2) for n in (-4, -3, -2, -1, 1, 2, 3, 4)]
NOUGHT = 1e-7  # a share below it is none
EXACT = 1e-9  # of the part's size: a sum that misses by more is none
MOST = 3  # numbers in a sum; more is no arithmetic for the board


@dataclass
class Structure:
    """The conditions in block triangular form.

    Parameters
    ----------
    blocks : sequence of (slots, relations)
        Each after all that it needs.
    """

    blocks: Sequence[tuple[Sequence[Slot], Sequence[Relation]]]
    at: dict[Slot, int] = field(init=False)

    def __post_init__(self) -> None:
        self.at = {slot: k for k, (slots, _) in enumerate(self.blocks) for slot in slots}

    def shares(self, target: Mapping[Slot, float]) -> tuple[dict[str, float], dict[Slot, float]]:
        """Derivatives of a combination of unknowns by the paper's values and by held unknowns."""
        wish = dict(target)
        queue = sorted({-self.at[slot] for slot in wish})
        heapify(queue)
        done, by_value, held = set(), dict[str, float](), dict[Slot, float]()
        while queue:
            number = -heappop(queue)
            if number in done:
                continue
            done.add(number)
            slots, rows = self.blocks[number]
            matrix = np.array([[row.terms.get(slot, 0.0) for slot in slots] for row in rows])
            weights = np.linalg.solve(matrix.T, np.array([wish.pop(s, 0.0) for s in slots]))
            for weight, row in zip(weights.tolist(), rows, strict=True):
                if abs(weight) <= NOUGHT:
                    continue
                if row.role in ("held", "choice"):
                    slot = next(iter(row.terms))
                    held[slot] = held.get(slot, 0.0) + weight
                if row.by_value and row.owner:
                    by_value[row.owner] = by_value.get(row.owner, 0.0) - weight * row.by_value
                for slot, amount in row.terms.items():
                    if self.at[slot] != number:
                        wish[slot] = wish.get(slot, 0.0) - weight * amount
                        heappush(queue, -self.at[slot])
        return ({k: v for k, v in by_value.items() if abs(v) > NOUGHT},
                {k: v for k, v in held.items() if abs(v) > NOUGHT})


def worked_out(
    part: Part, structure: Structure, why: Mapping[Entity, Sequence[Relation]]
) -> Iterator[Relation]:
    """Yield the lengths that are sums of the paper's: radii, and places within larger blocks.

    Parameters
    ----------
    part : Part
        Solved.
    structure : Structure
    why : mapping of Entity to sequence of Relation
    """
    words = BoardWords(part, why)
    for name, curve in part.curves.items():
        if isinstance(curve, LineCurve) or isinstance(words.opening(name), Amount):
            continue
        if len(structure.blocks[structure.at[name, "r"]][0]) == 1:
            continue  # the compass is opened by what is drawn, whatever sum that may come to
        by_value, held = structure.shares({(name, "r"): 1.0})
        amount = None if held else _sum(part, words, by_value, words.size(name))
        if amount is not None:
            yield Relation({(name, "r"): 1.0}, None, "", (), (name,), "worked out",
                           meant=amount, owners=tuple(by_value))
    for slots, rows in structure.blocks:
        if len({entity_of(slot) for slot in slots}) > 1:
            yield from _places(part, structure, words, slots, rows)


def _places(
    part: Part, structure: Structure, words: BoardWords, slots: Iterable[Slot],
    rows: Iterable[Relation],
) -> Iterator[Relation]:
    """Distances of the points of a block from points known before."""
    points = list(dict.fromkeys(name for name, axis in slots if axis in "xy"))
    number = structure.at[next(iter(slots))]
    given = [name for name, axis in structure.at if axis == "x" and any(
        r.role == "held" for r in structure.blocks[structure.at[name, axis]][1])]
    centers = [round_center(part, name) for row in rows for name in row.rounds]
    for point in points:
        for other in dict.fromkeys((*centers, *given)):
            if any(structure.at[other, a] >= number for a in "xy"):
                continue
            yield from _from_point(part, structure, words, point, other, other in centers)


def _from_point(
    part: Part, structure: Structure, words: BoardWords, point: str, other: str, radial: bool
) -> Iterator[Relation]:
    (px, py), (qx, qy) = part.points[point], part.points[other]
    apart = dist((px, py), (qx, qy))
    steps = {"x": px - qx, "y": py - qy}
    if radial and apart > EXACT * part_size(part):
        terms = {(p, a): sense * step / apart for p, sense in ((point, 1.0), (other, -1.0))
                 for a, step in steps.items() if step}
        by_value, held = structure.shares(terms)
        amount = None if held else _sum(part, words, by_value, apart)
        if amount is not None:
            yield Relation(terms, None, "", (point, other), (), "worked out",
                           meant=RoundAbout(other, amount), owners=tuple(by_value))
    axes: tuple[tuple[str, Axis], ...] = (("x", 0), ("y", 1))
    for letter, axis in axes:
        terms = {(point, letter): 1.0, (other, letter): -1.0}
        by_value, held = structure.shares(terms)
        step = steps[letter]
        amount = None if held else _sum(part, words, by_value, abs(step), 1 if step > 0 else -1)
        if amount is not None and amount.size:
            sign = 1.0 if step > 0.0 else -1.0
            yield Relation(terms, None, "", (point, other), (), "worked out",
                           meant=Beside(other, axis, amount, sign), owners=tuple(by_value))


def _sum(
    part: Part, words: BoardWords, by_value: Mapping[str, float], size: float, sense: int = 1
) -> Amount | None:
    """The sum with plain shares that gives a length, if there is one."""
    if not 1 <= len(by_value) <= MOST:
        return None
    shares: list[tuple[Fraction, str]] = []
    total = 0.0
    for owner, by in by_value.items():
        binding = part.bindings[owner]
        share = next((s for s in SHARES if abs(float(s) - sense * by) <= NOUGHT), None)
        if share is None or KINDS[binding.kind].quantity != "length":
            return None
        value = wanted(part, binding) or 0.0
        total += float(share) * value
        shares.append((share if value >= 0.0 else -share, owner))
    if abs(total - size) > EXACT * part_size(part):
        return None
    shares.sort(key=lambda each: (
        each[0] < 0, -abs(each[0]) * (wanted(part, part.bindings[each[1]]) or 0.0)))
    reason = ", ".join(KINDS[part.bindings[owner].kind].phrase(part.bindings[owner].of)
                       for _, owner in shares)
    amounts = [words.amount(owner) for _, owner in shares]
    made = ""
    for (share, owner), amount in zip(shares, amounts, strict=True):
        sign = KINDS[part.bindings[owner].kind].prefix
        text = words.text(amount)
        text = f"Ø{text}" if sign == "Ø" and not text.isidentifier() else text
        if abs(share.numerator) != 1:
            text = f"{abs(share.numerator)} x {text}"
        if share.denominator != 1:
            text = f"{text} / {share.denominator}"
        made += f" {'-' if share < 0 else '+'} {text}" if made else text
    if len(shares) == 1 and abs(shares[0][0]) == 1 and "Ø" not in made:
        return replace(amounts[0], reason=reason)
    text = words.number(size, *amounts)
    return Amount(size, text, made, reason, (Term(1, size, text=f"{text} = {made}"),))


