"""Finds what a folder holds: one tool, action or snap a file, no list to keep."""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules
from typing import Any


def collect(package: str, attribute: str) -> dict[str, Any]:
    """Return `attribute` of every module in a package by module name, in alphabetical order.

    The last word of a module's name says what the folder holds and does not count for the order.

    Raises
    ------
    AttributeError
        When a module of the folder lacks it: a file that registers nothing is a mistake.
    """
    folder = import_module(package)
    found = {}
    names = [module.name for module in iter_modules(folder.__path__)]
    for name in sorted(names, key=lambda name: name.rpartition("_")[0]):
        found[name] = getattr(import_module(f"{package}.{name}"), attribute)
    return found
