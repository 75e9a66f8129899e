"""What ``sketcher export`` makes, one output a file; the registry is the folder.

Each module has `OUTPUT`, a `sketcher.terminal.ExportOutput`. It imports what it works with when it
runs.
"""

from __future__ import annotations

from functools import cache

from sketcher.registry import collect
from sketcher.terminal import ExportOutput


@cache
def deliverables() -> tuple[ExportOutput, ...]:
    """Return every output in the folder, in the order of the help."""
    return tuple(sorted(collect(__name__, "OUTPUT", "_output"), key=lambda one: one.rank))
