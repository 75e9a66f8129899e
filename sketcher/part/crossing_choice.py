"""Which of two crossings a bound point is: a line meets a round, and two rounds meet, twice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sketcher.part.equations import AHEAD, BESIDE
from sketcher.part.operand_forms import EquationRow, line_ends, round_center
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
    curves, bindings = _curves, _bindings  # another thread may put its own part there
    if curves is None or curves[0] is not part.curves:
        ending: dict[str, list[str]] = {}
        for name, curve in part.curves.items():
            if not isinstance(curve, CircleCurve):
                for end in curve.ends:
                    ending.setdefault(end, []).append(name)
        curves = _curves = (part.curves, ending)
    if bindings is None or bindings[0] is not part.bindings:
        pairs = frozenset(
            frozenset(b.of) for b in part.bindings.values() if b.kind == "tangent" and b.drives)
        bindings = _bindings = (part.bindings, pairs)
    return Index(curves[1], bindings[1])


def crossing(part: Part, point: str, curve: str) -> EquationRow | None:
    """Row whose side tells the two crossings apart, for a point bound on `curve`.

    The point has to end another curve, one of the two has to be a round, and they must not be
    tangent; None otherwise.
    """
    known = index(part)
    for other in known.ending.get(point, ()):
        if other != curve and frozenset((curve, other)) not in known.tangent:
            row = _apart(part, point, curve, other)
            if row is not None:
                return row
    return None


def corners(part: Part) -> list[EquationRow]:
    """Rows like those of `crossing` for the points that two curves share as ends."""
    known = index(part)
    out = []
    for point, names in known.ending.items():
        if len(names) == 2 and frozenset(names) not in known.tangent:
            row = _apart(part, point, *names)
            if row is not None:
                out.append(row)
    return out


def _apart(part: Part, point: str, one: str, other: str) -> EquationRow | None:
    lines = [name for name in (one, other) if isinstance(part.curves[name], LineCurve)]
    if len(lines) == 2:
        return None
    if not lines:
        return EquationRow(BESIDE, (round_center(part, one), round_center(part, other), point))
    round_ = other if lines[0] == one else one
    return EquationRow(AHEAD, (*line_ends(part, lines[0]), point, round_center(part, round_)))
