"""A dimensioned paper as a list of values and a construction by hand."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Literal

from tests.demo_parts import FOLDER
from tests.hand_ins.strokes import Plate

Values = Mapping[str, float]
"""Numbers of all dimensions by name, in the paper's unit and degrees."""


@dataclass(frozen=True, eq=False)
class PaperValue:
    """A number on the paper, named as the key's file names it: ``b6``, ``n1.step.0``."""

    name: str
    amount: float
    sort: Literal["length", "angle"] = "length"


@dataclass(frozen=True, eq=False)
class PaperParameter:
    """A number that several dimensions are made of: each is ``factor * amount + rest``."""

    name: str
    amount: float
    carries: Mapping[str, tuple[float, float]]


@dataclass(frozen=True, eq=False)
class Paper:
    """A paper: what it says, and the outline that follows from it."""

    key: str
    unit: Literal["mm", "in"]
    listed: tuple[PaperValue, ...]
    construct: Callable[[Values], Plate]
    parameters: tuple[PaperParameter, ...] = ()

    @property
    def path(self) -> Path:
        """The key's part file."""
        return FOLDER / f"{self.key}.profile.json"

    @cached_property
    def values(self) -> dict[str, float]:
        """What the paper says."""
        return {each.name: each.amount for each in self.listed}

    @cached_property
    def plate(self) -> Plate:
        """The outline that the paper asks for."""
        return self.construct(self.values)

    @cached_property
    def carried(self) -> dict[str, Mapping[str, tuple[float, float]]]:
        """What each parameter carries."""
        return {each.name: each.carries for each in self.parameters}

    def spelled(self, changes: Values) -> dict[str, float]:
        """Changes with those of parameters spelled out as dimensions; they alone, not the rest."""
        out: dict[str, float] = {}
        for name, amount in changes.items():
            for carried, (factor, rest) in self.carried.get(name, {name: (1.0, 0.0)}).items():
                out[carried] = factor * amount + rest
        return out

    def drawn(self, changes: Values) -> Plate:
        """The outline with some numbers of the paper, or parameters, taken otherwise.

        Raises
        ------
        ValueError, ZeroDivisionError
            When nothing can be constructed from them.
        """
        return self.construct({**self.values, **self.spelled(changes)})

    def amount(self, name: str) -> float:
        """What the paper says of a value or a parameter."""
        return {each.name: each.amount for each in (*self.listed, *self.parameters)}[name]
