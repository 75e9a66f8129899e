"""Take the reflection away."""

from __future__ import annotations

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.value import Part


def clear_mirror(part: Part, axis: str | None = None) -> Edited:
    """Reflect no longer: about one axis, or about any; the axis stays as a line.

    Raises
    ------
    EditError
        When there is no such mirror.
    """
    gone = [m.axis for m in part.mirrors if axis in (None, m.axis)]
    if not gone:
        raise EditError(axis or "mirror", "the half is not reflected", "choose an axis first")
    kept = tuple(m for m in part.mirrors if m.axis not in gone)
    return Edited(part.having(mirrors=kept), f"no reflection about {', '.join(gone)}")
