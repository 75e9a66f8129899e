"""Where the signs of bindings without a value stand."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass

from sketcher.geometry.curves import XY
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part
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
    off : tuple of float, optional
        Pixels from the geometry to where there is room for it; without one it stands in its slot.
    """

    binding: str
    kind: str
    at: XY
    away: XY
    slot: int
    state: str = "ok"
    off: XY | None = None

    def place(self, px: float) -> XY:
        """Return the middle of the sign; `px` is one pixel in the part's unit."""
        if self.off is not None:
            return (self.at[0] + px * self.off[0], self.at[1] + px * self.off[1])
        size = (OFF + STEP * self.slot) * px
        return (self.at[0] + size * self.away[0], self.at[1] + size * self.away[1])


def glyphs(part: Part, report: SolveReport) -> tuple[Glyph, ...]:
    """Return the signs of every binding without a value, in the order of the ledger."""
    clashing = report.troubled
    doubled = set(report.doubled)
    slots: dict[XY, int] = defaultdict(int)
    found = []
    for name, binding in part.bindings.items():
        if KINDS[binding.kind].quantity is not None:
            continue  # its dimension stands there
        state = "clashing" if name in clashing else "doubled" if name in doubled else "ok"
        for at, away in KINDS[binding.kind].stands(part, binding.of):
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
