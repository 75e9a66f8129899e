"""Replace the half by its reflection."""

from __future__ import annotations

from dataclasses import replace

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.mirror import reflector
from sketcher.part.pattern_edits import reflected_pattern
from sketcher.part.shift import shift
from sketcher.part.splice import finished
from sketcher.part.value import Part, frozen


def flip(part: Part, axis: str | None = None) -> Edited:
    """Put the whole half on the other side of a mirror's axis; the whole part looks the same.

    Parameters
    ----------
    part : Part
        The part.
    axis : str, optional
        Which axis, where there are two.

    Raises
    ------
    EditError
        When the half is not reflected about it.
    """
    mirror = next((m for m in part.mirrors if axis in (None, m.axis)), None)
    if mirror is None:
        raise EditError(axis or "mirror", "the half is not reflected", "choose an axis first")
    draft = Draft(part)
    reflection = reflector(part, mirror)
    ids = [name for name in (*part.curves, *part.points) if name != mirror.axis]
    shift(draft, ids, reflection.point, flips=True)
    for name, pattern in part.patterns.items():
        draft.change_pattern(name, reflected_pattern(pattern, reflection))
    done = finished(draft, f"flipped the half about {mirror.axis}")
    drawing = done.part.drawing
    if drawing.placed:
        flipped = {key: reflection.point(at) for key, at in drawing.placed.items()}
        drawing = replace(drawing, placed=frozen(flipped))
        done = replace(done, part=done.part.having(drawing=drawing))
    return done
