"""How wide the cut will be: the kerf that is set, else the process's start value."""

from __future__ import annotations

from sketcher.inspect.stock import usual_kerf
from sketcher.shop.cut_plan import CutSettings


def assumed_kerf(settings: CutSettings, unit: str) -> float:
    """Return the width to keep clear of the part, in its unit; 0 where nothing is known of it.

    A file of nominal size is cut with a kerf all the same: the controller sets it off.
    """
    if settings.kerf > 0.0 or settings.process is None:
        return settings.kerf
    return usual_kerf(settings.process, unit)
