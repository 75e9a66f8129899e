"""Say on which side of the view a detail stands, at which scale it is, or that there is none."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.set_drawing import set_drawing
from sketcher.part.value import Part, frozen


def place_detail(part: Part, of: Sequence[str], **settings: Any) -> Edited:
    """Change the detail view that shows some curves or dimensions.

    Parameters
    ----------
    part : Part
    of : sequence of str
        Ids of what it is for. The first that has settings keeps them, else the first gets them, so
        that they follow what the detail shows and not a place on paper.
    **settings
        ``side`` ("right", "left", "above", "below"), ``scale`` ("10:1"), ``off`` (True); None
        takes one back.

    Raises
    ------
    EditError
        When nothing of the part is named, or a setting is none.
    """
    known = [name for name in of if name in part.curves or name in part.bindings]
    if not known:
        raise EditError(", ".join(of) or "detail", "there is no such curve or dimension",
                        "name what the detail is for")
    details = dict(part.drawing.details)
    name = next((each for each in known if each in details), known[0])
    kept = {key: value for key, value in {**details.pop(name, {}), **settings}.items()
            if value is not None}
    if kept:
        details[name] = frozen(kept)
    return set_drawing(part, details=details)
