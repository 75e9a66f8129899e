"""Which dimension is under the pointer."""

from __future__ import annotations

from sketcher.board.bench import Bench
from sketcher.board.preview import Pointer


def dimension_at(bench: Bench, pointer: Pointer, text_only: bool = False) -> str | None:
    """Return the id of the binding whose dimension is drawn under the pointer, or None."""
    return None
