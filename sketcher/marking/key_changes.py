# mypy: ignore-errors
"""What a hand-in may have drawn otherwise than the key says: values, counts, sides."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from sketcher.part.kinds import KINDS
from sketcher.part.value import GridPattern, Part, PolarPattern

KeyChangeSort = Literal["dimension", "parameter", "pattern", "count", "side"]


@dataclass(frozen=True, slots=True)
class KeyChange:
    """One thing of the key that was drawn otherwise.

    Parameters
    ----------
    sort : str
        ``dimension``, ``parameter``, ``pattern`` (a step, span or angle), ``count``, ``side``.
    name : str
        Binding id, parameter, or pattern id with the field: ``p1.step.0``.
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
        """What it costs to suppose it beside a feature that is off (at 1.9)."""
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
            pattern = patterns[name]
            if field == "step":
                assert isinstance(pattern, GridPattern)
                step = list(pattern.step)
                step[int(rest[0])] = each.found
                patterns[name] = replace(pattern, step=(step[0], step[1]))
            elif field == "count" and isinstance(pattern, GridPattern):
                count = list(pattern.count)
                count[int(rest[0])] = int(each.found)
                patterns[name] = replace(pattern, count=(count[0], count[1]))
            elif field == "count":
                assert isinstance(pattern, PolarPattern)
                patterns[name] = replace(pattern, count=int(each.found))
            else:
                patterns[name] = replace(pattern, **{field: each.found})
    return part.having(parameters=parameters, bindings=bindings, patterns=patterns)


def grouped(part: Part, found: Mapping[str, float], within: Mapping[str, float]) -> None:
    """..."""


def dimension_names(part: Part) -> tuple[str, ...]:
    """Ids of the dimensions that drive."""
    return tuple(name for name, b in part.bindings.items()
                 if b.drives and KINDS[b.kind].quantity is not None)
