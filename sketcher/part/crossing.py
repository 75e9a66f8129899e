"""Which of two crossings a bound point is: a line meets a round, and two rounds meet, twice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sketcher.part.equations import AHEAD, BESIDE
from sketcher.part.forms import Row, center_of, line_ends
from sketcher.part.value import Binding, CircleCurve, LineCurve, Part, PartCurve


@dataclass(frozen=True, slots=True)
class Index:
    """Curves by the points that end them, and pairs of curves that are bound tangent."""

    ending: Mapping[str, list[str]]
    tangent: frozenset[frozenset[str]]


_curves: tuple[Mapping[str, PartCurve], Mapping[str, list[str]]] | None = None
_bindings: tuple[Mapping[str, Binding], frozenset[frozenset[str]]] | None = None


def index(part: Part) -> Index:
    """Return the index of a part; kept for the last part, found by identity."""
    global _curves, _bindings
    if _curves is None or _curves[0] is not part.curves:
        ending: dict[str, list[str]] = {}
        for name, curve in part.curves.items():
            if not isinstance(curve, CircleCurve):
                for end in curve.ends:
                    ending.setdefault(end, []).append(name)
        _curves = (part.curves, ending)
    if _bindings is None or _bindings[0] is not part.bindings:
        pairs = frozenset(
            frozenset(b.of) for b in part.bindings.values() if b.kind == "tangent" and b.drives)
        _bindings = (part.bindings, pairs)
    return Index(_curves[1], _bindings[1])


def crossing(part: Part, point: str, curve: str) -> Row | None:
    """Row whose side tells the two crossings apart, for a point bound on `curve`.

    The point has to end another curve, one of the two has to be a round, and they must not be
    tangent; None otherwise.
    """
    known = index(part)
    is_line = isinstance(part.curves[curve], LineCurve)
    for other in known.ending.get(point, ()):
        if other == curve or frozenset((curve, other)) in known.tangent:
            continue
        other_is_line = isinstance(part.curves[other], LineCurve)
        if is_line and other_is_line:
            continue
        if is_line or other_is_line:
            line, round_ = (curve, other) if is_line else (other, curve)
            return Row(AHEAD, (*line_ends(part, line), point, center_of(part, round_)))
        return Row(BESIDE, (center_of(part, curve), center_of(part, other), point))
    return None
