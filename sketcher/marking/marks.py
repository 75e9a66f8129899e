"""What a hand-in is given: points by the rubric, each deduction with its place and its reason."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import PurePath
from traceback import extract_tb
from typing import Literal

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import Mistake, Undecided
from sketcher.marking.rubric import Rubric
from sketcher.marking.rules import marking_rules
from sketcher.marking.undecided_values import undecided_values
from sketcher.part.value import frozen

FAULT = "a fault of the program: "
"""How a reason begins for which nobody's drawing is to blame."""

VALUES = "wrong-value"
"""The rule of what a hand-in may not show even though it shows other values."""
Ruling = Literal["as found", "changed", "waived"]


@dataclass(frozen=True, slots=True)
class Deduction:
    """One mistake and what it costs.

    Parameters
    ----------
    number : int
        As ringed on the marked sheet, from 1.
    rule : str
    points : float
        What it takes off, the rule's cap reckoned with.
    mistake : Mistake
    ruling : str
        Whether a person changed or waived it.
    comment : str
        A person's words.
    """

    number: int
    rule: str
    points: float
    mistake: Mistake
    ruling: Ruling = "as found"
    comment: str = ""


@dataclass(frozen=True, slots=True)
class PointsByHand:
    """Points that a person gives beside the rules, below zero takes, and for what.

    What could not be graded has these points and no others.
    """

    points: float
    words: str = ""


@dataclass(frozen=True, slots=True)
class Marks:
    """What one hand-in is given.

    Parameters
    ----------
    file : str
    points, of : float
    deductions : tuple of Deduction
        In the order of the rules.
    undecided : mapping of str to str
        Rules that could not be decided, or not for all values, and why.
    ungraded : str
        Why there are no points at all; empty when there are.
    unit : str
        In which it was drawn.
    turned : float
        Degrees, counter-clockwise, of the hand-in beside the key.
    mirrored : bool
    told : tuple of str
        What was mended or left out in reading.
    by_hand : tuple of PointsByHand
        Reckoned into the points.
    """

    file: str
    points: float
    of: float
    deductions: tuple[Deduction, ...] = ()
    undecided: Mapping[str, str] = field(default_factory=frozen)
    ungraded: str = ""
    unit: str = ""
    turned: float = 0.0
    mirrored: bool = False
    told: tuple[str, ...] = ()
    by_hand: tuple[PointsByHand, ...] = ()

    @property
    def has_points(self) -> bool:
        """Whether it has points: by the rules, or a person's where it could not be graded."""
        return not self.ungraded or bool(self.by_hand)

    @property
    def kept(self) -> tuple[Deduction, ...]:
        """Deductions that a person did not waive."""
        return tuple(each for each in self.deductions if each.ruling != "waived")

    @property
    def given(self) -> float:
        """Points that a person gives in all, below zero takes."""
        return sum(each.points for each in self.by_hand)


def marked(comparison: Comparison, rubric: Rubric) -> Marks:
    """Return what a hand-in is given, rule by rule, each up to its cap.

    A rule that fails is one that could not be decided: that costs nobody a point.
    """
    deductions: list[Deduction] = []
    undecided: dict[str, str] = {}
    for name, rule in marking_rules().items():
        setting = rubric.setting(name)
        if not setting.on:
            continue
        try:
            found = rule.decide(comparison)
        except Exception as error:  # noqa: BLE001 - the other rules must be told all the same
            found = Undecided(program_fault(error))
        if isinstance(found, Undecided):
            undecided[name] = found.reason
            continue
        left = setting.cap
        for mistake in found:
            cost = min(setting.points, left)
            left -= cost
            deductions.append(Deduction(len(deductions) + 1, name, cost, mistake))
    unseen = undecided_values(comparison)
    if unseen and rubric.setting(VALUES).on:
        undecided[VALUES] = unseen
    hand_in, pose = comparison.hand_in, comparison.pose
    lost = sum(each.points for each in deductions)
    return Marks(hand_in.file, max(rubric.base - lost, 0.0), rubric.base, tuple(deductions),
                 frozen(undecided), "", hand_in.unit or comparison.key.part.unit,
                 round(-pose.turn, 9) % 360.0, pose.mirrored, hand_in.told)


def program_fault(error: Exception) -> str:
    """Return what went wrong in the program, and where, as a reason."""
    said = f"{FAULT}{type(error).__name__}: {error}"
    place = extract_tb(error.__traceback__)[-1:]
    return said + "".join(f" ({PurePath(at.filename).name}, line {at.lineno})" for at in place)


def faulty_rules(marks: Marks) -> tuple[str, ...]:
    """Return the rules that a fault of the program kept from being decided."""
    return tuple(name for name, why in marks.undecided.items() if why.startswith(FAULT))


def ungraded(file: str, reason: str, rubric: Rubric) -> Marks:
    """Return what a hand-in is given that could not be compared: no points, and why."""
    return Marks(file, 0.0, rubric.base, ungraded=reason)
