"""Binding kinds, one a file; the registry is the folder.

`KINDS` maps a name to its kind. The functions here are what the rest of the program uses. A binding
is the literature's geometric constraint, a dimension its dimensional constraint; a driving one is
part of the system, a reference dimension only measures. Sides choose one root of a constraint that
has several: the root identification problem (Bouma, Fudos, Hoffmann, Cai & Paige,
"Geometric constraint solver", Computer-Aided Design 27(6), 1995; from memory).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import degrees, radians
from types import MappingProxyType

from sketcher.errors import EditError, SketcherError
from sketcher.part.kind_base import Kind
from sketcher.part.operand_forms import operand_type
from sketcher.part.value import Binding, Part
from sketcher.part.wanted import evaluator
from sketcher.quantity.format import exact
from sketcher.registry import collect

__all__ = ["KINDS", "Kind", "bind", "fitting", "in_order", "measure", "residual", "settle_sides",
           "sides", "wanted"]


def _collected() -> Mapping[str, Kind]:
    return MappingProxyType({kind.name: kind for kind in collect(__name__, "KIND")})


KINDS: Mapping[str, Kind] = _collected()


def fitting(part: Part, ids: Sequence[str]) -> tuple[str, ...]:
    """Names of the kinds that this selection allows, in the order of their names."""
    return tuple(name for name, kind in KINDS.items() if kind.arrange(part, ids) is not None)


def sides(part: Part, binding: Binding) -> tuple[str, ...]:
    """Words that the side of this binding can have; empty where it has none."""
    return KINDS[binding.kind].sided(part, binding.of)


def bind(
    part: Part, kind: str, ids: Sequence[str], value: str | None = None, drives: bool = True
) -> Binding:
    """Return a binding with its operands in order and its side as the geometry stands.

    Parameters
    ----------
    part : Part
    kind : str
        Name in `KINDS`.
    ids : sequence of str
        Points and curves in any order.
    value : str or None
        Expression; for a dimension without one the measured value is taken.
    drives : bool
        False makes a reference dimension, one that follows where it has no value.

    Raises
    ------
    EditError
        When the kind is unknown, an id is, or the selection does not fit.
    """
    if kind not in KINDS:
        raise EditError("kind", f"no binding kind named {kind!r}", f"use one of {', '.join(KINDS)}")
    for name in ids:
        if operand_type(part, name) is None:
            raise EditError(kind, f"no point or curve named {name!r}")
    known = KINDS[kind]
    of = known.arrange(part, ids)
    if of is None or len(set(of)) < len(of):
        takes = " or ".join(" + ".join(form) for form in known.forms)
        raise EditError(kind, f"does not fit {', '.join(ids) or 'an empty selection'}",
                        f"select {takes}")
    if known.quantity is None:
        return Binding(kind, of, None, known.settle(part, of, None), drives)
    if value is None:
        amount, side = known.first_value(part, of, None)
        amount = degrees(amount) if known.quantity == "angle" else amount
        if amount < 0.0:
            raise EditError(kind, f"of {' and '.join(of)} measures {amount:g} here",
                            "give the value that it should have, positive")
        return Binding(kind, of, exact(round(amount, 9)) if drives else None, side, drives)
    binding = Binding(kind, of, value, None, drives)
    amount = _wanted(part, kind, binding)
    return Binding(kind, of, value, known.settle(part, of, amount), drives)


def in_order(part: Part, binding: Binding) -> Binding:
    """Return the binding with its operands in the order of a form; itself where they are.

    Raises
    ------
    EditError
        When no form fits.
    """
    kind = KINDS[binding.kind]
    if tuple([operand_type(part, name) or "" for name in binding.of]) in kind.accepted:
        return binding
    of = kind.arrange(part, binding.of)
    if of is None:
        takes = " or ".join(" + ".join(form) for form in kind.forms)
        raise EditError(" ".join((binding.kind, *binding.of)),
                        "does not take these points and curves", f"give {takes}")
    return replace(binding, of=of)


def _wanted(part: Part, name: str, binding: Binding) -> float:
    """Value in equation units: lengths in the part's unit, angles in radians."""
    quantity = KINDS[binding.kind].quantity or "length"
    amount = evaluator(part)(name, binding, quantity)
    return radians(amount) if quantity == "angle" else amount


def wanted(part: Part, binding: Binding) -> float | None:
    """Value of a dimension in the part's unit or in degrees; None where it names none.

    Raises
    ------
    QuantityError
        When its expression cannot be evaluated.
    """
    quantity = KINDS[binding.kind].quantity
    if quantity is None or binding.value is None:
        return None
    return evaluator(part)(" ".join((binding.kind, *binding.of)), binding, quantity)


def measure(part: Part, binding: Binding) -> float:
    """Actual value as the paper prints it: positive, in the part's unit or in degrees.

    For a kind without a value its residual as a length. The side of the binding counts: a point
    on the other side of its line measures negative.
    """
    binding = in_order(part, binding)
    kind = KINDS[binding.kind]
    side = binding.side
    target = None
    if kind.quantity is not None:
        try:
            target = _wanted(part, binding.kind, binding)
        except SketcherError:
            target = None  # measuring does not depend on a readable value
        if target is None:
            return _shown(kind, kind.first_value(part, binding.of, side)[0])
    if side is None:
        side = kind.settle(part, binding.of, target)
    placed = Binding(kind.name, binding.of, None, side)
    return _shown(kind, kind.actual(part, placed, target))


def _shown(kind: Kind, amount: float) -> float:
    return degrees(amount) if kind.quantity == "angle" else amount


def residual(part: Part, binding: Binding) -> float:
    """Actual minus wanted, in the part's unit or in degrees; 0 for a reference that follows."""
    if binding.follows and KINDS[binding.kind].quantity is not None:
        return 0.0
    return measure(part, binding) - (wanted(part, binding) or 0.0)


def settle_sides(part: Part) -> Part:
    """Return the part with every missing side taken from where the geometry stands.

    Operands are put in the order of the kind's form. The very same part where nothing changes.
    """
    found: dict[str, Binding] = {}
    types = dict.fromkeys(part.points, "point")
    types.update({name: curve.kind for name, curve in part.curves.items()})
    for name, given in part.bindings.items():
        kind, binding = KINDS[given.kind], given
        if tuple(map(types.get, given.of)) not in kind.accepted:
            binding = in_order(part, given)
        if binding.side is None and kind.has_sides and kind.sided(part, binding.of):
            asks = kind.quantity is not None and binding.value is not None
            side = kind.settle(part, binding.of, _wanted(part, name, binding) if asks else None)
            binding = binding if side is None else replace(binding, side=side)
        if binding is not given:
            found[name] = binding
    if not found:
        return part
    return part.having(bindings={name: found.get(name, b) for name, b in part.bindings.items()})
