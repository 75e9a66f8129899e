"""A dimension as drawn: what it measures, its place, and the strokes, arrowheads and lettering."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from sketcher.drafting.primitives import Item
from sketcher.geometry.curves import XY

Form: TypeAlias = Literal["linear", "aligned", "radius", "diameter", "angle", "label"]


@dataclass(frozen=True, slots=True)
class Drawn:
    """One dimension on paper, in mm.

    Parameters
    ----------
    id : str
        The binding's id, or a pattern's with a word behind it.
    form : Form
        Which kind of measure it is.
    points : tuple of XY
        ``linear``, ``aligned``: the two measured points and one on the dimension line;
        ``radius``, ``diameter``: center and the point on the curve where the arrow is;
        ``label``: as those, where a leader with a letter points at what a note names;
        ``angle``: vertex, a point on each side, and one on the arc of the dimension.
    angle : float
        Direction of a linear dimension in degrees.
    text : str
        The whole wording as a reader reads it.
    place : XY
        Middle of the lettering; what a person drags.
    items : tuple of Item
        What is drawn.
    stands_for : tuple of str
        Every binding that it says, its own among them.
    """

    id: str
    form: Form
    points: tuple[XY, ...]
    angle: float
    text: str
    place: XY
    items: tuple[Item, ...]
    stands_for: tuple[str, ...] = ()
