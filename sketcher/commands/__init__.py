"""The commands, one a file; the registry is the folder.

Each module has `COMMAND`, a `sketcher.terminal.Command`. It imports what it works with when it
runs, so that a command starts as fast as it can.
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from pkgutil import iter_modules
from types import MappingProxyType

from sketcher.terminal import Command


def _collected() -> Mapping[str, Command]:
    found = [
        import_module(f"{__name__}.{module.name}").COMMAND for module in iter_modules(__path__)
    ]
    return MappingProxyType({command.name: command for command in found})


COMMANDS: Mapping[str, Command] = _collected()
"""Every command by the word that calls it."""
