"""Give a dimension deviations of its own."""

from __future__ import annotations

from math import isfinite

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part


def set_tolerance(part: Part, name: str, tolerance: tuple[float, float] | None) -> Edited:
    """Set the upper and lower deviation of a dimension, or take them away with None.

    Parameters
    ----------
    part : Part
        The part.
    name : str
        Id of the binding.
    tolerance : tuple of float or None
        Upper and lower deviation in the part's unit or in degrees.

    Raises
    ------
    EditError
        When there is no such dimension, or the upper deviation is below the lower one.
    """
    binding = part.bindings.get(name)
    if binding is None:
        raise EditError(name, "no binding with this id", "choose a row of the ledger")
    if tolerance is not None:
        if KINDS[binding.kind].quantity is None:
            raise EditError(name, f"'{binding.kind}' has no value", "choose a dimension")
        if not all(map(isfinite, tolerance)) or tolerance[0] < tolerance[1]:
            raise EditError(name, "the upper deviation is below the lower one",
                            "give the upper one first")
        tolerance = (float(tolerance[0]), float(tolerance[1]))
    if tolerance == binding.tolerance:
        return Edited(part, f"{name} stays as it is")
    draft = Draft(part)
    draft.change_binding(name, tolerance=tolerance)
    return Edited(draft.done(), f"{name} has {'general' if tolerance is None else 'own'} limits")
