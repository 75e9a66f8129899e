"""Finds what a folder holds: one thing a file, no list to keep."""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules
from typing import Any


def collect(package: str, attribute: str, ending: str = "") -> list[Any]:
    """Return `attribute` of every module in a package, in alphabetical order of the modules.

    A folder in the package is passed over: it is a registry of its own.

    Parameters
    ----------
    package : str
        Dotted name of the folder.
    attribute : str
        What each module holds: ``"KIND"``, ``"RULE"``.
    ending : str
        End that all names of the modules share; it does not count for their order.

    Raises
    ------
    AttributeError
        When a module of the folder lacks it: a file that registers nothing is a mistake.
    """
    names = [module.name for module in iter_modules(import_module(package).__path__)
             if not module.ispkg]
    names.sort(key=lambda name: name.removesuffix(ending))
    return [getattr(import_module(f"{package}.{name}"), attribute) for name in names]
