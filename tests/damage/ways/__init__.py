"""The ways of spoiling a drawing, one a module: the folder is the registry."""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache

from tests.damage.ways.way import Way

PLAIN = "plain"
THREES = (
    ("chords-0.01-4", "gaps-0.001", "turned"), ("parted", "twice", "shuffled"),
    ("blocks", "far", "noise-0.0001"), ("unit-none", "gaps-0.01", "shuffled"),
    ("hidden", "polylines", "turned"), ("chords-0.1-4", "shuffled", "far"),
)
"""Three at once."""


@cache
def ways() -> dict[str, Way]:
    """Every single way by name."""
    found = [way for module in sorted(m.name for m in pkgutil.iter_modules(__path__))
             if module != "way"
             for way in importlib.import_module(f"{__name__}.{module}").WAYS]
    return {way.name: way for way in found}


def recipes() -> list[tuple[str, ...]]:
    """No way, each single one, three at once; in the order in which they are put to use."""
    alone = [(name,) for name in ways()]
    return [(), *alone, *(tuple(sorted(names, key=lambda n: ways()[n].rank)) for names in THREES)]


def called(recipe: tuple[str, ...]) -> str:
    """Name of a recipe."""
    return "+".join(recipe) or PLAIN
