"""What is kept about detail views follows the curves and dimensions that it is kept for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from sketcher.part.value import Drawing, frozen


def without_details_of(drawing: Drawing, gone: Callable[[str], bool]) -> Drawing:
    """Return the drawing without settings of things that are gone: an id may be given again."""
    kept = {name: entry for name, entry in drawing.details.items() if not gone(name)}
    return drawing if len(kept) == len(drawing.details) else replace(drawing, details=frozen(kept))


def with_details_named(drawing: Drawing, renamed: Callable[[str], str]) -> Drawing:
    """Return the drawing with every id in its settings of details renamed."""
    if all(renamed(name) == name for name in drawing.details):
        return drawing
    return replace(drawing, details=frozen(
        {renamed(name): entry for name, entry in drawing.details.items()}))
