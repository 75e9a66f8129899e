"""Named parameters: their order, their values, and circles among them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sketcher.errors import QuantityError
from sketcher.quantity.parse import names_in, value_of
from sketcher.quantity.physical_dimension import Value
from sketcher.quantity.tokens import NAME, RESERVED

MAX_NAME = 60


def check_name(name: str, place: str = "parameters") -> None:
    """Raise a QuantityError unless `name` can name a parameter."""
    if name in RESERVED:
        raise QuantityError(place, f"'{name}' is a word of the expressions", "choose another name")
    if not NAME.fullmatch(name) or len(name) > MAX_NAME:
        raise QuantityError(
            place,
            f"'{name[:MAX_NAME]}' cannot name a parameter",
            f"use letters, digits and _, a letter first, at most {MAX_NAME}",
        )


def in_order(parameters: Mapping[str, str], unit: str = "mm") -> tuple[str, ...]:
    """Return the names so that each comes after those it uses.

    Raises
    ------
    QuantityError
        When parameters go round in a circle (the error names it) or use an unknown name.
    """
    uses = {name: _uses(name, text, unit) for name, text in parameters.items()}
    done: dict[str, None] = {}
    under_way: set[str] = set()
    for first in parameters:
        path: list[str] = [] if first in done else [first]
        ahead: list[Iterator[str]] = [iter(uses[name]) for name in path]
        while path:
            name = next(ahead[-1], None)
            if name is None:
                done[path.pop()] = None
                ahead.pop()
                under_way.discard(next(reversed(done)))
            elif name in under_way or name == first:
                circle = " -> ".join([*path[path.index(name):], name])
                raise QuantityError(f"parameters.{name}", f"goes round in a circle: {circle}",
                                    "give one of them a value of its own")
            elif name not in done:
                if name not in uses:
                    raise _unknown(path[-1], name, parameters)
                path.append(name)
                under_way.add(name)
                ahead.append(iter(uses[name]))
    return tuple(done)


def evaluate_all(parameters: Mapping[str, str], unit: str) -> dict[str, Value]:
    """Evaluate every parameter.

    Parameters
    ----------
    parameters : mapping of str to str
        Expressions by name, in any order.
    unit : {"mm", "in"}
        The part's unit.

    Returns
    -------
    dict of str to Value
        In the order of `parameters`.

    Raises
    ------
    QuantityError
        With the place ``parameters.NAME``.
    """
    values: dict[str, Value] = {}
    for name in in_order(parameters, unit):
        values[name] = value_of(parameters[name], "any", unit, values, f"parameters.{name}")
    return {name: values[name] for name in parameters}


def _uses(name: str, text: str, unit: str) -> tuple[str, ...]:
    check_name(name, f"parameters.{name}")
    try:
        return names_in(text, unit)
    except QuantityError as error:
        raise QuantityError(f"parameters.{name}", error.problem, error.remedy) from None


def _unknown(user: str, name: str, parameters: Mapping[str, str]) -> QuantityError:
    import difflib

    near = difflib.get_close_matches(name, list(parameters), 1)
    remedy = f"did you mean '{near[0]}'" if near else "add it to the parameters"
    return QuantityError(f"parameters.{user}", f"no parameter named '{name}'", remedy)


__all__ = ["Value", "check_name", "evaluate_all", "in_order"]
