"""What a person says of single deductions, and marks given again without comparing anew.

A class is compared once with every rule on: its marks hold each mistake, whatever it costs. A
rubric and the rulings of a person are then put upon them, as often as either changes. A ruling
finds its deduction again by rule, place and what was wanted there, so it outlives a new marking.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import dist
from typing import Literal

from sketcher.geometry.curves import XY
from sketcher.marking.marks import Deduction, Marks, PointsByHand, Ruling
from sketcher.marking.rubric import Rubric
from sketcher.marking.rules import marking_rules
from sketcher.part.value import frozen

Verdict = Literal["open", "accepted", "changed", "waived"]
"""What a person said of a deduction; ``open`` is nothing yet."""
REACH = 0.5
"""Millimetres that a mistake may move from one marking to the next and still be the same one."""
RULINGS: dict[Verdict, Ruling] = {
    "open": "as found", "accepted": "as found", "changed": "changed", "waived": "waived"}


@dataclass(frozen=True, slots=True)
class HandRuling:
    """What a person said of one deduction.

    Parameters
    ----------
    rule : str
    at : (x, y)
        Place of the mistake, in the key's unit.
    wanted : str
        What the key has there.
    verdict : Verdict
    points : float
        That it takes off, where they were changed.
    comment : str
    """

    rule: str
    at: XY
    wanted: str = ""
    verdict: Verdict = "open"
    points: float = 0.0
    comment: str = ""

    @property
    def says_nothing(self) -> bool:
        """Whether it may be forgotten."""
        return self.verdict == "open" and not self.comment


def with_all_rules(rubric: Rubric) -> Rubric:
    """Return a rubric with every rule on, by which a class is compared."""
    return replace(rubric, settings=frozen(
        {name: replace(rubric.setting(name), on=True) for name in marking_rules()}))


def needs_comparing(before: Rubric, after: Rubric) -> bool:
    """Tell whether marks by one rubric do not tell those by another: limits or layers differ."""
    def looks(rubric: Rubric) -> object:
        limits = [rubric.setting(name).limit for name in marking_rules()]
        return rubric.tolerance, rubric.angle_tolerance, dict(rubric.layers), limits

    return looks(before) != looks(after)


def ruled(
    deductions: Sequence[Deduction], rulings: Iterable[HandRuling], reach: float = REACH
) -> dict[int, HandRuling]:
    """Return which deduction, counted from 0, each ruling is for; each has one at most.

    Parameters
    ----------
    deductions : sequence of Deduction
    rulings : iterable of HandRuling
    reach : float
        In the key's unit.
    """
    known = tuple(rulings)
    near = sorted(
        (each.mistake.wanted != ruling.wanted, dist(each.mistake.at, ruling.at), number, row)
        for row, ruling in enumerate(known)
        for number, each in enumerate(deductions)
        if each.rule == ruling.rule and dist(each.mistake.at, ruling.at) <= reach)
    found: dict[int, HandRuling] = {}
    spent: set[int] = set()
    for _, _, number, row in near:
        if number not in found and row not in spent:
            found[number] = known[row]
            spent.add(row)
    return found


def said_anew(
    deductions: Sequence[Deduction], deduction: Deduction, rulings: Sequence[HandRuling],
    reach: float, verdict: Verdict | None = None, points: float | None = None,
    comment: str | None = None,
) -> tuple[HandRuling, ...]:
    """Return the rulings of a hand-in with one deduction ruled on; what is None stays as it was.

    Parameters
    ----------
    deductions : sequence of Deduction
        As they were found, all of them.
    deduction : Deduction
        One of them, whatever it costs by now.
    rulings : sequence of HandRuling
    reach : float
        In the key's unit.
    verdict : str, optional
    points : float, optional
        What it takes off from now on; makes the verdict ``changed``.
    comment : str, optional
    """
    mistake = deduction.mistake
    own = next(n for n, each in enumerate(deductions)
               if each.mistake is mistake and each.rule == deduction.rule)
    said = ruled(deductions, rulings, reach).get(own)
    ruling = said or HandRuling(deduction.rule, mistake.at, mistake.wanted)
    if points is not None:
        ruling = replace(ruling, verdict="changed", points=points)
    if verdict is not None:
        ruling = replace(ruling, verdict=verdict)
    if comment is not None:
        ruling = replace(ruling, comment=comment)
    others = tuple(each for each in rulings if each is not said)
    return others if ruling.says_nothing else (*others, ruling)


def remarked(
    marks: Marks, rubric: Rubric, rulings: Iterable[HandRuling] = (), reach: float = REACH,
    by_hand: tuple[PointsByHand, ...] = (),
) -> Marks:
    """Return marks by another rubric and by what a person said.

    A waived deduction costs nothing and leaves the cap to others; a changed one costs what was
    said, also beyond the cap, and takes from it. Points by hand come last, and may go beyond all
    that there are.

    Parameters
    ----------
    marks : Marks
        By a rubric that has every rule on.
    rubric : Rubric
    rulings : iterable of HandRuling
        Of this hand-in.
    reach : float
        In the key's unit.
    by_hand : tuple of PointsByHand
    """
    marks = replace(marks, of=rubric.base, by_hand=by_hand)
    if marks.ungraded:
        return replace(marks, points=max(marks.given, 0.0))
    said = ruled(marks.deductions, rulings, reach)
    left: dict[str, float] = {}
    found: list[Deduction] = []
    for number, each in enumerate(marks.deductions):
        setting = rubric.setting(each.rule)
        if not setting.on:
            continue
        ruling = said.get(number, HandRuling(each.rule, each.mistake.at))
        rest = left.setdefault(each.rule, setting.cap)
        cost = {"waived": 0.0, "changed": ruling.points}.get(
            ruling.verdict, min(setting.points, rest))
        left[each.rule] = max(rest - cost, 0.0)
        found.append(Deduction(len(found) + 1, each.rule, cost, each.mistake,
                               RULINGS[ruling.verdict], ruling.comment))
    undecided = {name: why for name, why in marks.undecided.items() if rubric.setting(name).on}
    lost = sum(each.points for each in found)
    return replace(marks, points=max(max(rubric.base - lost, 0.0) + marks.given, 0.0),
                   deductions=tuple(found), undecided=frozen(undecided))
