"""One dimension of a sheet as it is read."""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.drafting.rebuild.read_wording import ReadWording
from sketcher.geometry.curves import XY


@dataclass(frozen=True, slots=True)
class ShownDimension:
    """One dimension of the sheet in the sheet's unit: what it says and where its parts stand."""

    id: str
    form: str
    points: tuple[XY, ...]
    way: XY
    said: ReadWording
    text: str
