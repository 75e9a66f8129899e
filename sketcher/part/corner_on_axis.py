"""The corner that a curve makes with its own reflection, on the axis."""

from __future__ import annotations

from typing import NamedTuple

from sketcher.errors import EditError
from sketcher.geometry import corner_blends as rounding
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.part.edits.draft import Draft
from sketcher.part.image_id import ImageId
from sketcher.part.lost_corner import check_sharp
from sketcher.part.mirror import reflector
from sketcher.part.splice import amount, changed_end, curve_of, put_end
from sketcher.part.value import Part


class CornerOnAxis(NamedTuple):
    """A draft with a curve whose corner on the axis is to be cut.

    Parameters
    ----------
    draft : Draft
        The part under construction.
    name : str
        The curve.
    curve, image : Line or Arc
        The curve and its reflection.
    size, text : float, str
        How much is cut, above zero.
    """

    draft: Draft
    name: str
    curve: Line | Arc
    image: Line | Arc
    size: float
    text: str

    def end_at(self, kept: Curve, contact: XY) -> tuple[str, str]:
        """Let the curve end at a new point; return that and the end that it had.

        Raises
        ------
        EditError
            When it would not change.
        """
        index = changed_end(self.curve, kept)
        if index is None:
            raise EditError(self.name, "would stay as it is", "give another size")
        point = self.draft.point(contact)
        return point, put_end(self.draft, self.name, index, point, keep=True)


def corner_on_axis(
    part: Part, name: str, axis: str, value: str | float, place: str
) -> CornerOnAxis:
    """Return a curve that meets its reflection at a corner, ready to be cut.

    Parameters
    ----------
    part : Part
        The part.
    name, axis : str
        A line or an arc that ends on the axis of one of the part's mirrors or would reach it.
    value : str or float
        Expression, or number in the part's unit, above zero.
    place : str
        What the value is called in an error: ``"leg"``, ``"radius"``.

    Returns
    -------
    CornerOnAxis
        A draft of the part in which the curve reaches the axis; the curve and its image as values,
        places of shape (2,) and the size in the part's unit.

    Raises
    ------
    EditError
        When the part is not mirrored about the axis, the curve crosses it smoothly, or the value
        is not above zero.
    """
    mirror = next((m for m in part.mirrors if m.axis == axis), None)
    if mirror is None:
        raise EditError(axis, "is no axis of a mirror", "choose two curves, or mirror the half")
    draft = Draft(part)
    curve = curve_of(draft, name)
    if isinstance(curve, Circle):
        raise EditError(name, "a circle has no corner", "choose a line or an arc")
    size, text = amount(part, value, "length", place)
    if not size > 0.0:
        raise EditError(place, f"{text} is not above zero", f"give a positive {place}")
    image = reflector(part, mirror).curve(curve)
    assert not isinstance(image, Circle)
    names = name, ImageId(name).reflected(0).name
    check_sharp(names, (curve, image), rounding.shared_corner(curve, image))
    return CornerOnAxis(draft, name, curve, image, size, text)
