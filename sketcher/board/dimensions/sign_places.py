"""Where the signs of bindings without a value stand."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass
from math import hypot

from sketcher.geometry.curves import XY, Line
from sketcher.geometry.evaluate import midpoint
from sketcher.part.curve_questions import ends_of
from sketcher.part.kinds import KINDS
from sketcher.part.value import Binding, Part
from sketcher.part.whole import curve_value
from sketcher.solve.solve_report import SolveReport

OFF, STEP = 14.0, 17.0
"""Pixels from the geometry to the first sign, and from sign to sign."""


@dataclass(frozen=True, slots=True)
class Glyph:
    """A sign beside the geometry.

    Parameters
    ----------
    binding, kind : str
        Id and kind of the binding.
    at : tuple of float
        Place on the geometry, in the part's unit.
    away : tuple of float
        Unit direction from the geometry to the sign.
    slot : int
        0 for the sign next to the geometry, 1 for the one beyond it ...
    state : str
        ``"ok"``, ``"doubled"`` or ``"clashing"``.
    """

    binding: str
    kind: str
    at: XY
    away: XY
    slot: int
    state: str = "ok"

    def place(self, px: float) -> XY:
        """Return the middle of the sign; `px` is one pixel in the part's unit."""
        size = (OFF + STEP * self.slot) * px
        return (self.at[0] + size * self.away[0], self.at[1] + size * self.away[1])


def glyphs(part: Part, report: SolveReport) -> tuple[Glyph, ...]:
    """Return the signs of every binding without a value, in the order of the ledger."""
    clashing = {name for clash in report.clashes for name in clash}
    doubled = set(report.doubled)
    slots: dict[XY, int] = defaultdict(int)
    found = []
    for name, binding in part.bindings.items():
        if KINDS[binding.kind].quantity is not None:
            continue
        state = "clashing" if name in clashing else "doubled" if name in doubled else "ok"
        for at, away in places(part, binding):
            key = (round(at[0], 6), round(at[1], 6))
            found.append(Glyph(name, binding.kind, at, away, slots[key], state))
            slots[key] += 1
    return tuple(found)


def told(part: Part, glyph: Glyph, chosen: Collection[str]) -> bool:
    """Tell whether a sign is shown while not all are: it tells of trouble, or of what is chosen.

    Parameters
    ----------
    part : Part
    glyph : Glyph
    chosen : collection of str
        Ids of bindings, curves and points that are selected or pointed at.
    """
    if glyph.state != "ok" or glyph.binding in chosen:
        return True
    return any(name in chosen for name in part.bindings[glyph.binding].of)


def places(part: Part, binding: Binding) -> tuple[tuple[XY, XY], ...]:
    """Return where a binding's signs stand, with the direction away from the geometry.

    At the shared point of a joint; else at the first point; else at the middle of each curve.
    """
    curves = [name for name in binding.of if name in part.curves]
    points = [name for name in binding.of if name in part.points]
    if len(curves) == 2 and not points:
        shared = set(ends_of(part.curves[curves[0]])) & set(ends_of(part.curves[curves[1]]))
        if len(shared) == 1:
            at = part.points[shared.pop()]
            return ((at, _beside(part, curves[0])),)
    if points:
        at = part.points[points[0]]
        return ((at, _beside(part, curves[0]) if curves else (0.6, -0.8)),)
    return tuple((midpoint(curve_value(part, part.curves[name])), _beside(part, name))
                 if part.curves[name].kind != "circle" else _on_circle(part, name)
                 for name in curves)


def _beside(part: Part, name: str) -> XY:
    """Return the direction square to a curve at its middle, to its left, outward for rounds."""
    curve = curve_value(part, part.curves[name])
    if isinstance(curve, Line):
        x, y = curve.direction
        return (-y, x) if (x, y) != (0.0, 0.0) else (0.0, 1.0)
    place = midpoint(curve)
    x, y = place[0] - curve.center[0], place[1] - curve.center[1]
    size = hypot(x, y)
    return (x / size, y / size) if size else (0.0, 1.0)


def _on_circle(part: Part, name: str) -> tuple[XY, XY]:
    curve = curve_value(part, part.curves[name])
    assert not isinstance(curve, Line)
    return (curve.center[0] + 0.8 * curve.radius, curve.center[1] + 0.6 * curve.radius), (0.8, 0.6)
