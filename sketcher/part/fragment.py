"""A piece of a part that stands alone, as the clipboard carries it: curves, and what binds them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from sketcher.errors import EditError, SketcherError
from sketcher.part.expressions import pattern_texts
from sketcher.part.kinds import KINDS
from sketcher.part.value import Binding, CircleCurve, Part, Pattern, PolarPattern, Unit, frozen
from sketcher.part.wanted import evaluator
from sketcher.quantity.format import exact
from sketcher.quantity.parse import names_in
from sketcher.quantity.units import MM_PER_INCH

MM_PER = {"mm": 1.0, "in": MM_PER_INCH}


@dataclass(frozen=True, slots=True)
class Fragment:
    """What was taken out of a part.

    Parameters
    ----------
    part : Part
        The piece as a part of its own, under the ids that it has.
    left : tuple of str
        Bindings and patterns that hold it to what is not in it.
    """

    part: Part
    left: tuple[str, ...]


def fragment(part: Part, ids: Iterable[str]) -> Fragment:
    """Return curves and points of a part with all that is bound among them.

    Patterns whose curves are all chosen come along, and the parameters that a value needs. What is
    fixed stays where it is, and a mirror belongs to its part.

    Raises
    ------
    EditError
        When nothing of the part is named.
    """
    names = dict.fromkeys(ids)
    curves = {n: curve for n, curve in part.curves.items() if n in names}
    points = {p for curve in curves.values() for p in curve.points}
    points |= {n for n in names if n in part.points}
    points |= _marked(part, set(curves))
    if not points:
        raise EditError("selection", "holds no curve and no point", "select what is to be copied")
    within = points | curves.keys()
    bindings = {n: b for n, b in part.bindings.items()
                if b.kind != "fixed" and within.issuperset(b.of)}
    patterns = {n: g for n, g in part.patterns.items() if _is_within(g, within)}
    left = [n for n, b in part.bindings.items()
            if n not in bindings and not within.isdisjoint(b.of)]
    left += [n for n, g in part.patterns.items()
             if n not in patterns and not within.isdisjoint(g.curves)]
    texts = [b.value for b in bindings.values() if b.value]
    texts += [text for g in patterns.values() for text in pattern_texts(g)]
    piece = Part(
        name=part.name, unit=part.unit, parameters=frozen(_needed(part, texts)),
        points=frozen({n: at for n, at in part.points.items() if n in points}),
        curves=frozen(curves), bindings=frozen(bindings), patterns=frozen(patterns))
    return Fragment(piece, tuple(left))


def _marked(part: Part, curves: set[str]) -> set[str]:
    """Return the points that no curve ends in and that lie on the chosen curves alone."""
    used = {p for curve in part.curves.values() for p in curve.points}
    on: dict[str, set[str]] = {}
    for binding in part.bindings.values():
        if KINDS[binding.kind].incident and binding.of[0] not in used:
            on.setdefault(binding.of[0], set()).add(binding.of[1])
    return {point for point, those in on.items() if those <= curves}


def _is_within(pattern: Pattern, within: set[str]) -> bool:
    center = {pattern.center} if isinstance(pattern, PolarPattern) else set()
    return within.issuperset({*pattern.curves, *center})


def _needed(part: Part, texts: list[str]) -> dict[str, str]:
    """Return the parameters that expressions name, and those that these name, in their order."""
    wanted: set[str] = set()
    asked = list(texts)
    while asked:
        try:
            found = set(names_in(asked.pop(), part.unit)) & part.parameters.keys()
        except SketcherError:
            continue
        asked += [part.parameters[name] for name in found - wanted]
        wanted |= found
    return {name: text for name, text in part.parameters.items() if name in wanted}


def in_numbers(piece: Part, unit: Unit) -> Part:
    """Return a piece in a unit, with every value written out as a number; without its patterns.

    Raises
    ------
    SketcherError
        When a value cannot be evaluated.
    """
    factor = MM_PER[piece.unit] / MM_PER[unit]
    value = evaluator(piece)

    def converted(name: str, binding: Binding) -> Binding:
        quantity = KINDS[binding.kind].quantity
        if quantity is None or binding.value is None:
            return binding
        scale = factor if quantity == "length" else 1.0
        amount = value(name, binding, quantity) * scale
        band = binding.tolerance
        return replace(binding, value=exact(round(amount, 9)),
                       tolerance=band and (band[0] * scale, band[1] * scale))

    return piece.having(
        unit=unit, parameters=frozen(), patterns=frozen(),
        points=frozen({n: (x * factor, y * factor) for n, (x, y) in piece.points.items()}),
        curves=frozen({n: replace(c, radius=c.radius * factor)
                       if isinstance(c, CircleCurve) else c
                       for n, c in piece.curves.items()}),
        bindings=frozen({n: converted(n, b) for n, b in piece.bindings.items()}))
