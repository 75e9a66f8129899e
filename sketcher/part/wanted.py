"""What the expressions of a part's bindings come to."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from sketcher.errors import QuantityError
from sketcher.part.value import Binding, Part

_last: tuple[Mapping[str, str], str, Mapping[str, Any]] | None = None


def parameter_values(part: Part) -> Mapping[str, Any]:
    """Values of the part's parameters by name.

    Raises
    ------
    QuantityError
        For a parameter that cannot be evaluated.
    """
    global _last
    if not part.parameters:
        return {}
    last = _last  # another thread may put its own part there
    if last is not None and last[0] is part.parameters and last[1] == part.unit:
        return last[2]
    from sketcher.quantity.parameters import evaluate_all

    values = evaluate_all(part.parameters, part.unit)
    _last = (part.parameters, part.unit, values)
    return values


def evaluator(part: Part) -> Callable[[str, Binding, str], float]:
    """Return a function (id, binding, quantity) that gives a binding's value.

    Lengths are in the part's unit, angles in degrees. Plain numbers take a short way.

    Raises
    ------
    QuantityError
        From the returned function, with the place ``bindings.ID.value``.
    """
    from sketcher.quantity.parse import evaluate

    known: dict[tuple[str, str], float] = {}

    def value(name: str, binding: Binding, quantity: str) -> float:
        text = binding.value
        if text is None:
            raise QuantityError(f"bindings.{name}.value", f"{binding.kind} has no value",
                                "give the dimension that the paper prints")
        key = (text, quantity)
        found = known.get(key)  # papers print the same numbers over and over
        if found is None:
            found = known[key] = amount(name, text, quantity)
        return found

    def amount(name: str, text: str, quantity: str) -> float:
        if text.isascii() and text.replace(".", "", 1).isdigit():
            return float(text)
        try:
            return evaluate(text, quantity, part.unit, parameter_values(part))
        except QuantityError as error:
            place = f"bindings.{name}.value"
            raise QuantityError(place, error.problem, error.remedy) from error

    return value
