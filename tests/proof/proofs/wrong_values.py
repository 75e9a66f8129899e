"""The dimensions that a hand-in was drawn wrong with are named, and no other is blamed.

One case is a series of hand-ins that were drawn by plain trigonometry (`tests/hand_ins/`): none to
three wrong values, with and without another fault. Its list is fixed, A or B; which of its hand-ins
can be decided at all is said by the construction alone (`tests/hand_ins/decidable.py`).
"""

from __future__ import annotations

from math import ceil

from tests.hand_ins.series import COUNT, counted, series
from tests.proof.proof import Proof
from tests.proof.tally import Case

SEEDS = ("A", "B")
RIGHT, BLAMED = 0.98, 0.01
"""Least share of what is decidable that is named right, most that is blamed falsely."""


def one_series(case: Case) -> None:
    """Draw a series, ask which values are wrong, and judge the shares."""
    count = ceil(COUNT * case.scale)
    answers = []
    for each in series(SEEDS[case.number], range(count), case.folder):
        answers.append(each)
        case.tally.count("hand-ins")
        if each.trouble:
            case.tally.fault("unread", each.told())
    found = counted(answers)
    for name in ("decidable", "right", "blamed"):
        case.tally.count(name, found[name])
    missed = [each.told() for each in answers if not (each.right or each.hand_in.rival)]
    if found["right"] < RIGHT * found["decidable"]:
        case.tally.fault("missed", " | ".join([f"{found['right']} of {found['decidable']}",
                                              *missed]))
    if found["blamed"] > BLAMED * found["decidable"]:
        case.tally.fault("false blame", f"{found['blamed']} of {found['decidable']}")


PROOF = Proof(
    "wrong_values", "wrong values of hand-ins are named, 98 of 100, and right ones not blamed",
    "hand-ins", ("unread", "missed", "false blame"), whole=2, short=1, case=one_series,
    limit=1800.0, short_scale=0.016, minutes=6.0,
)
