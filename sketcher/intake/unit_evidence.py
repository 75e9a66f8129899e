"""Step 2: the unit that the numbers of a file are in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sketcher.exchange.dxf_content import DxfContent
from sketcher.intake.linework import Question
from sketcher.intake.wishes import Wishes
from sketcher.part.value import Unit, frozen


@dataclass(frozen=True, slots=True)
class UnitVerdict:
    """The unit of a file: what it is, the factor of the numbers, why, and the scores of both."""

    unit: Unit
    factor: float
    why: str
    scores: Mapping[Unit, float] = field(default_factory=frozen)
    question: Question | None = None


def unit_verdict(content: DxfContent, wishes: Wishes) -> UnitVerdict:
    """Return the unit that a file's numbers are in."""
    if wishes.unit is not None:
        return UnitVerdict(wishes.unit, 1.0, "as asked")
    if content.unit is not None:
        return UnitVerdict(content.unit, content.factor, "the header says so")
    return UnitVerdict("mm", 1.0, "the header does not say", question=Question(
        "--unit", "the file does not say its unit", ("mm", "in")))
