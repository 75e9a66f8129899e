"""Reflect points and curves about a line."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.image import add_images
from sketcher.part.mirror import reflector
from sketcher.part.shift import chosen, shift
from sketcher.part.splice import finished
from sketcher.part.value import Mirror, Part


def reflect(part: Part, ids: Sequence[str], axis: str, keep: bool = True) -> Edited:
    """Reflect points and curves about a line of the part.

    Parameters
    ----------
    part : Part
        The part.
    ids : sequence of str
        Points and curves.
    axis : str
        Id of the line.
    keep : bool
        True adds images that are bound reflected; curves that are their own reflection are left
        alone. False puts the curves themselves on the other side and drops what no longer holds.

    Returns
    -------
    Edited
        `made` holds the images.

    Raises
    ------
    EditError
        When the axis is not a line, is among what is reflected, or nothing is left to reflect.
    """
    draft = Draft(part)
    if axis not in part.curves or part.curves[axis].kind != "line":
        raise EditError(axis, "is not a line", "choose a line to reflect about")
    if axis in ids:
        raise EditError(axis, "is the axis", "leave it out of what is reflected")
    reflection = reflector(part, Mirror(axis))
    curves, _ = chosen(draft, ids)
    if not keep:
        shift(draft, ids, reflection.point, flips=True)
        return finished(draft, f"reflected {', '.join(ids)} about {axis}")
    from sketcher.part.whole import half

    values = half(part)
    images = [name for name in curves if not reflection.keeps(values[name])]
    if not images:
        raise EditError("selection", "is its own reflection", "choose curves beside the axis")
    copies = add_images(draft, images, axis, reflection)
    made = [copies[name] for name in images]
    return finished(draft, f"reflected {', '.join(images)} about {axis}", *made)
