"""Refusals as the window names things, and sentences with their first letter."""

from __future__ import annotations

import re
from collections.abc import Mapping

from sketcher.errors import SketcherError
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part

KEYS = re.compile(r"(bindings|parameters|patterns|curves|points)\.([^.]+)(?:\.(.+))?")
"""A place as a file names it: a table, an id in it, a key of that entry."""


def named(error: SketcherError, before: Part, after: Part) -> SketcherError:
    """Return a refusal whose place is told as in the window: ``b5, distance p2 to p7``.

    An edit names a place by its keys in the file, which nobody who draws has seen. A binding that
    the edit was only about to make has no row yet, so its id is left out.

    Parameters
    ----------
    error : SketcherError
        Why an edit was refused.
    before, after : Part
        The part as it stands, and as the edit left it.
    """
    found = KEYS.fullmatch(error.place)
    if found is None:
        return error
    table, name, key = found.groups()
    if table == "bindings":
        return type(error)(_binding(name, before, after), error.problem, error.remedy)
    tables: Mapping[str, str] = {"parameters": f"parameter {name}", "patterns": f"pattern {name}"}
    place = tables.get(table, name)
    return type(error)(f"{place}, {key}" if key else place, error.problem, error.remedy)


def _binding(name: str, before: Part, after: Part) -> str:
    binding = after.bindings.get(name) or before.bindings.get(name)
    if binding is None:
        return name
    said = KINDS[binding.kind].phrase(binding.of)
    return f"{name}, {said}" if name in before.bindings else said


def begun(text: str, *parts: Part) -> str:
    """Return a sentence with a capital at its beginning, unless it begins with an id."""
    first = re.split(r"[\s,:;]", text, maxsplit=1)[0]
    own = any(mark in first for mark in "0123456789.'#/\\_") or any(
        first in table for part in parts
        for table in (part.points, part.curves, part.bindings, part.patterns, part.parameters))
    return text if own else text[:1].upper() + text[1:]
