"""What a hand-in may have drawn otherwise than the key says: values, counts, sides."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from sketcher.part.value import GridPattern, Part, Pattern, PolarPattern

KeyChangeSort = Literal["dimension", "parameter", "pattern", "count", "side"]


@dataclass(frozen=True, slots=True)
class KeyChange:
    """One thing of the key that was drawn otherwise.

    Parameters
    ----------
    sort : str
        ``dimension``, ``parameter``, ``pattern`` (a step, span or angle), ``count``, ``side``.
    name : str
        Binding id, parameter, or pattern id with the field: ``p1.step.0``, ``p1.count``.
    wanted, found : str
        Expression or word of the key, and what takes its place.
    share : float
        Relative change of a value; 0 for a side or count.
    rank : int
        How plain the figure found is: `round_figures` ranks; -1 where it is not round.
    """

    sort: KeyChangeSort
    name: str
    wanted: str
    found: str
    share: float = 0.0
    rank: int = 1

    @property
    def cost(self) -> float:
        """What it costs to suppose it, beside a feature that is off (`laid.OFF`)."""
        if self.sort in ("side", "count"):
            return 0.9
        base = 1.3 if self.rank < 0 else 0.9 if self.rank <= 2 else 1.1
        return base + 0.01 * min(abs(self.share), 1.0)


def changed(part: Part, changes: Iterable[KeyChange]) -> Part:
    """Return the key with some changes made; not solved."""
    parameters, bindings, patterns = dict(part.parameters), dict(part.bindings), dict(part.patterns)
    for each in changes:
        if each.sort == "parameter":
            parameters[each.name] = each.found
        elif each.sort == "dimension":
            bindings[each.name] = replace(bindings[each.name], value=each.found)
        elif each.sort == "side":
            bindings[each.name] = replace(bindings[each.name], side=each.found)
        else:
            name, field, *rest = each.name.split(".")
            patterns[name] = _patterned(patterns[name], field, rest, each.found)
    return part.having(parameters=parameters, bindings=bindings, patterns=patterns)


def _patterned(pattern: Pattern, field: str, rest: list[str], found: str) -> Pattern:
    if isinstance(pattern, PolarPattern):
        return replace(pattern, count=int(found)) if field == "count" else (
            replace(pattern, span=found))
    if field == "angle":
        return replace(pattern, angle=found)
    at = int(rest[0])
    if field == "count":
        count = (int(found), pattern.count[1]) if at == 0 else (pattern.count[0], int(found))
        return replace(pattern, count=count)
    step = (found, pattern.step[1]) if at == 0 else (pattern.step[0], found)
    return replace(pattern, step=step)


def pattern_value(part: Part, name: str) -> str:
    """Return the expression of a pattern's field that is named as in `KeyChange.name`."""
    pattern_id, field, *rest = name.split(".")
    pattern = part.patterns[pattern_id]
    if isinstance(pattern, GridPattern):
        return pattern.angle if field == "angle" else pattern.step[int(rest[0])]
    return pattern.span


def pattern_quantity(name: str) -> Literal["length", "angle"]:
    """Return what a pattern's field measures."""
    return "length" if ".step." in name else "angle"


def pattern_fields(part: Part) -> tuple[str, ...]:
    """Return the names of all fields of patterns that hold a value."""
    found: list[str] = []
    for name, pattern in part.patterns.items():
        if isinstance(pattern, GridPattern):
            found += [f"{name}.step.{k}" for k in (0, 1) if pattern.count[k] > 1]
            found.append(f"{name}.angle")
        else:
            found.append(f"{name}.span")
    return tuple(found)
