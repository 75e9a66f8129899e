"""Reflect the half about a line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.mirror import reflector
from sketcher.part.value import Mirror, Part


def set_mirror(
    part: Part,
    axis: str,
    curves: Literal["outline"] | Sequence[str] = "outline",
    second: bool = False,
) -> Edited:
    """Reflect the half about a line: all of its outline, or the named curves.

    The line gets the role axis. A mirror about the same line is changed; otherwise the mirrors
    that are there are replaced, or with `second` the first one stays.

    Parameters
    ----------
    part : Part
        The part.
    axis : str
        Id of a line.
    curves : "outline" or sequence of str
        What is reflected.
    second : bool
        Add a second axis.

    Raises
    ------
    EditError
        When the axis is not a line, a curve is unknown, or there are two axes already.
    GeometryError
        When the axis has no length.
    """
    if axis not in part.curves or part.curves[axis].kind != "line":
        raise EditError(axis, "is not a line", "choose a line as the axis")
    names = curves if curves == "outline" else tuple(dict.fromkeys(curves))
    for name in () if names == "outline" else names:
        if name not in part.curves:
            raise EditError(name, "no curve with this id", "choose curves of the half")
    mirror = Mirror(axis, names if names == "outline" else tuple(n for n in names if n != axis))
    reflector(part, mirror)
    mirrors = [m for m in part.mirrors if m.axis != axis]
    if any(m.axis == axis for m in part.mirrors):
        mirrors = [mirror if m.axis == axis else m for m in part.mirrors]
    elif second and len(mirrors) == 2:
        raise EditError(axis, "there are two axes already", "take one away first")
    else:
        mirrors = [*mirrors, mirror] if second else [mirror]
    draft = Draft(part)
    draft.set_mirrors(mirrors)
    if part.curves[axis].role != "axis":
        draft.change_curve(axis, role="axis")
    what = "outline" if names == "outline" else ", ".join(names)
    return Edited(draft.done(), f"reflected {what} about {axis}", made=(axis,))
