"""What each rule costs in a class, and what the class agreed on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sketcher.marking.hand_in import LayerRole
from sketcher.marking.rules import marking_rules
from sketcher.part.value import frozen


@dataclass(frozen=True, slots=True)
class RuleSetting:
    """What a rule costs: points for each mistake, at most `cap`; its limit; whether it counts."""

    points: float
    cap: float
    limit: float | None = None
    on: bool = True


@dataclass(frozen=True, slots=True)
class Rubric:
    """How a class is marked.

    Parameters
    ----------
    settings : mapping of str to RuleSetting
        By name of the rule, where it differs from the rule's own.
    base : float
        Points of a hand-in without mistakes.
    tolerance : float or None
        In the key's unit; None for 0.01 mm or 0.001 in.
    angle_tolerance : float
        Degrees.
    layers : mapping of str to LayerRole
        What the layers of this class are for, by name in lower case, where it was asked.
    comments : tuple of str
        Sentences that a teacher keeps at hand.
    """

    settings: Mapping[str, RuleSetting] = field(default_factory=frozen)
    base: float = 100.0
    tolerance: float | None = None
    angle_tolerance: float = 0.05
    layers: Mapping[str, LayerRole] = field(default_factory=frozen)
    comments: tuple[str, ...] = ()

    def setting(self, name: str) -> RuleSetting:
        """Return what a rule costs in this class."""
        if name in self.settings:
            return self.settings[name]
        rule = marking_rules()[name]
        return RuleSetting(rule.points, rule.cap, rule.limit)
