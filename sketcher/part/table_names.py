"""The names by which a drawing says from where its table of holes measures, kept with the part."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from sketcher.part.image_id import read_image_id
from sketcher.part.value import Drawing

WORDS = {"table_zero": "auto", "table_along": "level"}
"""Fields of a drawing that name points and curves, each with the word that names none."""


def with_table_named(drawing: Drawing, renamed: Callable[[str], str]) -> Drawing:
    """Return the drawing with every id in the axes of its table renamed."""
    changes: dict[str, Any] = {}
    for field, word in WORDS.items():
        said = getattr(drawing, field)
        new = said if said == word else ",".join(
            _renamed(name.strip(), renamed) for name in said.split(","))
        if new != said.replace(" ", ""):
            changes[field] = new
    return replace(drawing, **changes) if changes else drawing


def without_table_of(drawing: Drawing, is_gone: Callable[[str], bool]) -> Drawing:
    """Return the drawing with the axes that named something which is gone as they are unsaid."""
    changes: dict[str, Any] = {
        field: word for field, word in WORDS.items()
        if any(is_gone(read_image_id(name.strip()).source)
               for name in getattr(drawing, field).split(","))}
    return replace(drawing, **changes) if changes else drawing


def _renamed(name: str, renamed: Callable[[str], str]) -> str:
    source = read_image_id(name).source
    return renamed(source) + name[len(source):]
