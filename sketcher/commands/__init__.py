"""The commands, one a file; the registry is the folder.

Each module has `COMMAND`, a `sketcher.terminal.Command`. It imports what it works with when it
runs, so that a command starts as fast as it can.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from sketcher.registry import collect
from sketcher.terminal import Command


def _collected() -> Mapping[str, Command]:
    return MappingProxyType({command.name: command for command in collect(__name__, "COMMAND")})


COMMANDS: Mapping[str, Command] = _collected()
"""Every command by the word that calls it."""
