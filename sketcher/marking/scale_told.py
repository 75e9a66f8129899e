"""In which unit a hand-in is drawn, and at which scale: by its header and by the size of the part.

The pose tells how long the file's numbers are on the part. That is a unit, or a unit by a scale of
the trade; where both fit, what the header says and true size come first.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import log
from statistics import median
from types import MappingProxyType

from sketcher.drafting.paper_view import MM_PER
from sketcher.marking.comparison import Comparison
from sketcher.marking.hand_in import HandIn
from sketcher.quantity.units import MM_PER_INCH

NAMES: Mapping[float, str] = MappingProxyType({
    1.0: "millimetres", 10.0: "centimetres", 100.0: "decimetres", 1000.0: "metres",
    25.4: "inches", 304.8: "feet", 914.4: "yards", 0.0254: "thousandths of an inch",
    0.001: "micrometres"})
"""Units by their length in millimetres."""
SCALES = (1.0, 2.0, 0.5, 5.0, 0.2, 10.0, 0.1)
"""Drawn size by true size (ISO 5455, from memory: 2, 5 and 10 to 1 and back)."""
EQUAL = 1e-4
"""Two scales that differ by a smaller part are one."""
USUAL = 3.0
"""Millimetres of usual lettering: between 2.5 and 3.5 (ISO 3098-1, from memory)."""
RATIO = re.compile(r"(?<![\d.,:/])(\d{1,3})\s*:\s*(\d{1,3})(?![\d.,:/])")


@dataclass(frozen=True, slots=True)
class ScaleTold:
    """What a hand-in is drawn in.

    Parameters
    ----------
    stated : float or None
        Millimetres of the unit in the header; None when it does not say.
    unit : float
        Millimetres of the unit of the numbers.
    drawn : float
        Drawn size by true size.
    """

    stated: float | None
    unit: float
    drawn: float

    @property
    def ratio(self) -> str:
        """The scale as a drawing writes it: ``1:2``."""
        if self.drawn >= 1.0:
            return f"{self.drawn:.6g}:1"
        return f"1:{1.0 / self.drawn:.6g}"


def stated_mm(hand_in: HandIn) -> float | None:
    """Return the unit of a header in millimetres; None when it does not say."""
    return None if hand_in.unit is None else hand_in.factor * MM_PER[hand_in.unit]


def scale_told(comparison: Comparison) -> ScaleTold:
    """Return unit and scale of a hand-in that is laid on the key."""
    ours = MM_PER[comparison.key.part.unit]
    stated = stated_mm(comparison.hand_in)
    true = comparison.pose.scale * ours  # millimetres of the part for 1 in the file
    for unit, drawn in _likely(stated, ours):
        if abs(true * drawn / unit - 1.0) <= EQUAL:
            return ScaleTold(stated, unit, drawn)
    unit = stated or ours
    return ScaleTold(stated, unit, unit / true)


def _likely(stated: float | None, ours: float) -> Iterator[tuple[float, float]]:
    """Yield units and scales, the likeliest first; last what was converted the wrong way."""
    first = ours if stated is None else stated
    units = [first, *(each for each in (ours, *MM_PER.values()) if each != first)]
    yield from ((unit, 1.0) for unit in dict.fromkeys(units))
    yield from ((first, scale) for scale in SCALES)
    yield from ((unit, scale) for unit in dict.fromkeys(units) for scale in SCALES)
    yield from ((first / MM_PER_INCH, scale) for scale in SCALES)


def unit_name(mm: float) -> str:
    """Return the name of a unit, for people."""
    return next((name for size, name in NAMES.items() if abs(mm / size - 1.0) < EQUAL),
                f"units of {mm:.6g} mm")


def scales_said(hand_in: HandIn) -> tuple[float, ...]:
    """Return the scales that the words of a hand-in tell, as drawn size by true size."""
    found = [(int(one), int(other)) for words in hand_in.words if words.kind == "text"
             for one, other in RATIO.findall(words.text)]
    return tuple(one / other for one, other in found if one and other)


def printed_scale(comparison: Comparison) -> float:
    """Return how much larger the printed sheet is than what the file holds, mostly 1.

    A part at true size may have its sheet drawn around it, twice as small where the words say 2:1.
    Words may tell a scale by mistake: it is taken where the lettering is nearer to usual with it.
    """
    told, hand_in = scale_told(comparison), comparison.hand_in
    heights = [each.text_height for each in hand_in.dimensions if each.text_height]
    heights += [each.height for each in hand_in.words if each.kind == "text" and each.height]
    if abs(told.drawn - 1.0) > EQUAL or not heights:
        return 1.0
    usual = median(heights) * told.unit / USUAL
    return min((1.0, *scales_said(hand_in)), key=lambda scale: abs(log(usual * scale)))
