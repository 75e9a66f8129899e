"""Doubts of a part: which binding they are about, what is left of them after a change."""

from __future__ import annotations

from collections.abc import Callable, Container, Mapping
from dataclasses import replace

from sketcher.errors import EditError
from sketcher.part.value import Binding, CircleCurve, Doubt, Part, frozen


def doubts_about(part: Part, name: str) -> tuple[Doubt, ...]:
    """Return the doubts in which a binding would have another side."""
    return tuple(doubt for doubt in part.doubts if name in doubt.sides)


def doubt_about(part: Part, name: str) -> Doubt:
    """Return the first doubt about a binding, the nearest one.

    Raises
    ------
    EditError
        When there is no such binding, or no doubt about it.
    """
    if name not in part.bindings:
        raise EditError(name, "no binding with this id", "choose a row of the ledger")
    found = doubts_about(part, name)
    if not found:
        names = dict.fromkeys(n for doubt in part.doubts for n in doubt.sides)
        raise EditError(name, "is not in doubt",
                        f"in doubt are {', '.join(names)}" if names else "nothing is")
    return found[0]


def taken(part: Part, doubt: Doubt) -> Part:
    """Return the part with the other sides of a doubt, its geometry brought there, not solved."""
    bindings = {name: replace(b, side=doubt.sides[name]) if name in doubt.sides else b
                for name, b in part.bindings.items()}
    curves = {name: replace(c, radius=doubt.radii[name])
              if isinstance(c, CircleCurve) and name in doubt.radii else c
              for name, c in part.curves.items()}
    left = living(tuple(d for d in part.doubts if d is not doubt), part.points, curves, bindings)
    return part.having(points={**part.points, **doubt.points}, curves=curves, bindings=bindings,
                       doubts=left)


def confirmed(part: Part, name: str) -> Part:
    """Return the part without the doubts about a binding: its side is the one that is meant."""
    gone = doubts_about(part, name)
    return part.having(doubts=tuple(d for d in part.doubts if d not in gone)) if gone else part


def living(
    doubts: tuple[Doubt, ...], points: Container[str], curves: Container[str],
    bindings: Mapping[str, Binding],
) -> tuple[Doubt, ...]:
    """Return the doubts that are left among what there is; the same value where all are.

    A doubt ends with a binding of it, and when all its sides are those of the bindings by now.
    """
    if not doubts:
        return doubts
    left = []
    for doubt in doubts:
        if not doubt.sides.keys() <= bindings.keys():
            continue
        sides = {n: side for n, side in doubt.sides.items() if bindings[n].side not in (None, side)}
        if sides:
            left.append(Doubt(
                frozen(sides), frozen({n: at for n, at in doubt.points.items() if n in points}),
                frozen({n: r for n, r in doubt.radii.items() if n in curves})))
    return tuple(left)


def renamed(doubt: Doubt, name: Callable[[str], str]) -> Doubt:
    """Return a doubt with other ids."""
    return Doubt(
        frozen({name(key): side for key, side in doubt.sides.items()}),
        frozen({name(key): at for key, at in doubt.points.items()}),
        frozen({name(key): radius for key, radius in doubt.radii.items()}))
