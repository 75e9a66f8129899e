"""One row of the readout as plain data."""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.part.value import Unit

LABELS = {
    "x": "X", "y": "Y", "length": "Length", "angle": "Angle", "run": "Run", "rise": "Rise",
    "radius": "Radius", "diameter": "Diameter", "distance": "Distance", "gap": "Gap",
    "tangency": "Tangency", "sum": "Sum of lengths", "area": "Area", "width": "Width",
    "height": "Height", "sweep": "Sweep", "count": "Count", "reach": "Reach",
    "ladder": "Offsets",
}


@dataclass(frozen=True, slots=True)
class Row:
    """A value of the readout.

    Parameters
    ----------
    name : str
        What it is, a key of `LABELS`.
    value : float or None
        In the part's unit, degrees or square units; None while there is nothing to show.
    text : str
        As shown: in the unit on display, or as it was typed where it is held.
    held : bool
        True while a typed value holds it.
    quantity : str
        ``"length"``, ``"angle"``, ``"area"`` or ``"number"``.
    unit : str
        Sign of the unit on display: ``mm``, ``in``, a degree sign, ``mm²`` or nothing.
    takes : bool
        Whether a value can be typed here.
    """

    name: str
    value: float | None
    text: str
    held: bool = False
    quantity: str = "length"
    unit: str = ""
    takes: bool = False

    @property
    def label(self) -> str:
        """Word beside the digits."""
        return LABELS.get(self.name, self.name.capitalize())


def unit_sign(quantity: str, shown: Unit) -> str:
    """Return the sign of a quantity's unit on display."""
    if quantity == "length":
        return shown
    if quantity == "area":
        return f"{shown}\N{SUPERSCRIPT TWO}"
    return "\N{DEGREE SIGN}" if quantity == "angle" else ""
