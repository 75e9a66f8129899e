"""The tolerance stack of selected dimensions: which way each runs, and what adds up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sketcher.geometry.curves import XY, Arc, Circle
from sketcher.geometry.evaluate import point_at
from sketcher.part.dimension_form import Linear
from sketcher.part.kinds import KINDS
from sketcher.part.limits import Stack, limits, stack
from sketcher.part.printed import printed
from sketcher.part.value import Part
from sketcher.part.whole import curve_value
from sketcher.quantity.format import length

MOST = 30  # dimensions of a chain that are put in order by themselves
SIGNS = {"+": 1, "-": -1, "\N{MINUS SIGN}": -1, "with": 1, "against": -1}
CAUTION = ("The root sum of squares supposes independent deviations, limits at the same number of "
           "sigmas and processes on target: for parts whose failure can hurt, use the worst case.")


def lengths_of(part: Part, names: Sequence[str]) -> tuple[str, ...]:
    """Return those of the names that are dimensions with a length."""
    return tuple(n for n in names if n in part.bindings
                 and KINDS[part.bindings[n].kind].quantity == "length"
                 and part.bindings[n].drives)


def chain_of(part: Part, names: Sequence[str]) -> tuple[tuple[str, int], ...]:
    """Put dimensions that share ends in a row and give each its sign.

    A dimension that runs against the way from the chain's first end to its last counts -1. What
    makes no row keeps its order and counts 1.
    """
    spans = {n: part.bindings[n].of for n in names}
    ordered = _row(spans) if len(names) <= MOST else None
    if ordered is None:
        return tuple((n, 1) for n in names)
    steps = [(n, _along(part, n, ordered[0][0], _place(part, tail), _place(part, head)))
             for n, tail, head in ordered]
    total = sum(step for _, step in steps)
    way = -1.0 if total < 0.0 else 1.0
    return tuple((n, -1 if way * step < 0.0 else 1) for n, step in steps)


def _row(spans: Mapping[str, tuple[str, ...]]) -> list[tuple[str, str, str]] | None:
    """Return (name, tail, head) so that each begins where the one before ends; None if it cannot.

    The first named dimension comes first where it can.
    """
    if any(len(of) != 2 for of in spans.values()):
        return None

    def grow(row: list[tuple[str, str, str]], left: list[str]) -> list[tuple[str, str, str]] | None:
        if not left:
            return row
        for name in left:
            one, other = spans[name]
            for tail, head in ((one, other), (other, one)):
                if not row or row[-1][2] == tail:
                    rest = [n for n in left if n != name]
                    found = grow([*row, (name, tail, head)], rest)
                    if found is not None:
                        return found
        return None

    return grow([], list(spans))


def _place(part: Part, name: str) -> XY:
    if name in part.points:
        return part.points[name]
    curve = curve_value(part, part.curves[name])
    return curve.center if isinstance(curve, Arc | Circle) else point_at(curve, 0.5)


def _along(part: Part, name: str, first: str, tail: XY, head: XY) -> float:
    """Return how far a step goes along the direction of the chain's first dimension."""
    binding = part.bindings[first]
    form = KINDS[binding.kind].dimension(part, binding.of)
    ux, uy = form.direction if isinstance(form, Linear) else (1.0, 0.0)
    return (head[0] - tail[0]) * ux + (head[1] - tail[1]) * uy


def described(part: Part, name: str) -> str:
    """Return one dimension of a chain in words, with its limits."""
    binding = part.bindings[name]
    said = f"{name}  {binding.kind} {' '.join(binding.of)} = {printed(part, binding).text}"
    band = limits(part, binding)
    if band is None:
        return f"{said} (no limits)"
    low, high = (length(v, part.unit) for v in band)
    return f"{said} ({low} to {high})"


def added(part: Part, signs: Mapping[str, str]) -> Stack:
    """Add up a chain by the signs that a person gave; an empty sign leaves a dimension out."""
    from sketcher.errors import QuantityError

    chain = []
    for name, text in signs.items():
        word = text.strip().lower()
        if word in ("", "0"):
            continue
        if word not in SIGNS:
            raise QuantityError(f"bindings.{name}", f"{text!r} is no direction",
                                "write + with the chain, - against it, or leave it empty")
        chain.append((name, SIGNS[word]))
    if not chain:
        raise QuantityError("bindings", "the chain is empty", "give at least one dimension a +")
    return stack(part, chain)


def told(part: Part, found: Stack) -> str:
    """Return a stack in words."""
    unit = part.unit

    def said(value: float) -> str:
        return length(value, unit, 4 if unit == "in" else 3)

    def band(pair: tuple[float, float]) -> str:
        low, high = pair
        return (f"{said(low)} to {said(high)} {unit}   "
                f"({said(0.5 * (low + high))} \N{PLUS-MINUS SIGN} {said(0.5 * (high - low))})")

    return (f"Nominal: {said(found.nominal)} {unit}\nWorst case: {band(found.worst)}\n"
            f"Root sum of squares: {band(found.likely)}\n\n{CAUTION}")
