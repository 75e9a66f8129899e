"""What the sheet shows of dimensions that stand on layout: the outline that was traced from it.

Lengths that only end a layout line or an axis are left out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from sketcher.geometry.bounds import tolerance
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.meet import same_carrier
from sketcher.geometry.project import distance
from sketcher.part.kinds import KINDS
from sketcher.part.value import Binding, CircleCurve, LineCurve, Part
from sketcher.part.whole import curve_value


class Traced:
    """Which outline lies on which layout curve.

    Parameters
    ----------
    part : Part
        A solved part.
    """

    def __init__(self, part: Part) -> None:
        self.part = part
        values = {name: curve_value(part, curve) for name, curve in part.curves.items()}
        self._tol = 1e3 * tolerance(values.values())
        self._outline: dict[str, Curve] = {
            name: value for name, value in values.items() if part.curves[name].role == "outline"
        }
        self._on: Mapping[str, str] = {
            name: found
            for name, curve in part.curves.items()
            if curve.role == "layout" and (found := self._lying_on(values[name])) is not None
        }

    def _lying_on(self, curve: Curve) -> str | None:
        found = [name for name, value in self._outline.items()
                 if value.length and curve.length and same_carrier(value, curve, self._tol)]
        return max(found, key=lambda name: self._outline[name].length, default=None)

    def is_traced(self, name: str) -> bool:
        """Tell whether outline lies on a layout curve."""
        return name in self._on

    def shown(self, binding: Binding) -> Binding | None:
        """Return a dimension as the sheet shows it, None for one that only ends a layout line."""
        if KINDS[binding.kind].extent:
            return None if self._is_extent(binding) else binding
        of = tuple(self._on.get(name, name) for name in binding.of)
        return binding if len(set(of)) < len(of) else replace(binding, of=of)

    def _is_extent(self, binding: Binding) -> bool:
        """Tell whether the length is that of a layout line or axis that ends in the open."""
        curve = self.part.curves.get(binding.of[0])
        if len(binding.of) != 1 or not isinstance(curve, LineCurve) or curve.role == "outline":
            return False
        return any(self._is_open(self.part.points[end], end) for end in curve.ends)

    def _is_open(self, at: XY, point: str) -> bool:
        """Tell whether nothing but layout has to do with a point."""
        part = self.part
        if any(distance(value, at) <= self._tol for value in self._outline.values()):
            return False
        centers = {c.center for c in part.curves.values() if not isinstance(c, LineCurve)}
        ending = [n for n, c in part.curves.items()
                  if not isinstance(c, CircleCurve) and point in c.ends]
        # what holds the ends of scribed lines over those of their base does not name them
        named = any(point in b.of for b in part.bindings.values()
                    if not KINDS[b.kind].aligns)
        return point not in centers and len(ending) == 1 and not named
