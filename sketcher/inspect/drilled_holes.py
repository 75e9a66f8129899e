"""Which holes a process does not cut well: they are drilled, and at most marked by the cutter.

Small ones, threaded ones, and those that have a closer tolerance than the process holds. The sheet
calls them out to be drilled, the cutter's file has a punch mark in place of each.
"""

from __future__ import annotations

from collections.abc import Collection

from sketcher.inspect.rules import drill_instead
from sketcher.inspect.rules.hole_size import least_diameter
from sketcher.inspect.rules.tolerance import deviation
from sketcher.inspect.stock import Process, usual_kerf
from sketcher.inspect.words import bare_length, length
from sketcher.part.equal_rounds import equal_rounds
from sketcher.part.value import Part
from sketcher.quantity.units import convert


class DrilledHoles:
    """Tells which holes of a part are drilled.

    Parameters
    ----------
    part : Part
    process : "laser" or "plasma"
        What it is cut by.
    kerf : float
        Width of its cut in the part's unit; 0 for the usual one.
    """

    def __init__(self, part: Part, process: Process, kerf: float = 0.0) -> None:
        self.part, self.process = part, process
        self.least = self._least(kerf or usual_kerf(process, part.unit))
        self._closest = self._closest_of_rounds()

    def _least(self, kerf: float) -> float:
        """Smallest diameter that is cut, and that is not better drilled."""
        thickness = self.part.material.thickness
        return max(least_diameter(self.process, thickness, kerf, self.part.unit),
                   drill_instead.TIMES.get(self.process, 0.0) * thickness)

    def why(self, sources: Collection[str], diameter: float) -> str:
        """Return why a hole is drilled, or an empty text where it is cut.

        Parameters
        ----------
        sources : collection of str
            Curves that were drawn for it.
        diameter : float
        """
        unit = self.part.unit
        thread = next((t for name, t in self.part.drawing.threads.items() if name in sources), "")
        if thread:
            return f"thread {thread}"
        if diameter < self.least * (1.0 - 1e-9):
            return f"smaller than {length(self.least, unit)}, the least for {self.process}"
        close = [self._closest[name] for name in sources if name in self._closest]
        given = min(close, default=None)
        if given is None:
            return ""
        holds = deviation(self.process, convert(self.part.material.thickness, unit, "mm"),
                          convert(diameter, unit, "mm"))
        if holds is None or given >= convert(holds, "mm", unit) * (1.0 - 1e-9):
            return ""
        return (f"±{bare_length(given, unit)} is closer than {self.process} holds, "
                f"±{bare_length(convert(holds, 'mm', unit), unit)}")

    def _closest_of_rounds(self) -> dict[str, float]:
        """Half of the closest band of a diameter that a tolerance of its own gives, by curve."""
        alike = equal_rounds(self.part)
        found: dict[str, float] = {}
        for binding in self.part.bindings.values():
            times = {"diameter": 1.0, "radius": 2.0}.get(binding.kind)
            if times is None or binding.tolerance is None or not binding.drives:
                continue
            band = 0.5 * times * abs(binding.tolerance[0] - binding.tolerance[1])
            for name in alike.get(binding.of[0], frozenset({binding.of[0]})):
                found[name] = min(band, found.get(name, band))
        return found
