"""Settings of the finished sheet."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.file_text import check_writable
from sketcher.part.value import Drawing, Part, frozen


def set_drawing(part: Part, **settings: Any) -> Edited:
    """Change fields of the part's `Drawing`; mappings replace the whole mapping.

    Raises
    ------
    EditError
        When there is no such field, or it cannot have such a value.
    """
    known = {field.name for field in fields(Drawing)}
    for key, value in settings.items():
        if key not in known:
            raise EditError(f"drawing.{key}", "no such setting", f"use {', '.join(sorted(known))}")
        if isinstance(value, dict):
            settings[key] = frozen(value)
    drawing = replace(part.drawing, **settings)
    if drawing == part.drawing:
        return Edited(part, "nothing changed")
    check_writable(Part(drawing=drawing))
    return Edited(part.having(drawing=drawing), f"changed {', '.join(settings)}")
