"""What a dimension says: sign, count, number, tolerance, parentheses, in both practices.

Source: ASME Y14.5M-1994, 1.5 to 1.9 and 2.3 (R and the diameter sign in front; leading and trailing
zeros; ``4X`` for repeated features, this from memory; reference dimensions in parentheses); ISO
129-1 writes ``4x``.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import hypot

from sketcher.drafting.lettering import text_width
from sketcher.drafting.line_classes import Practice
from sketcher.drafting.primitives import Item, Stroke, Text
from sketcher.geometry.curves import XY, Circle
from sketcher.part.kinds import KINDS
from sketcher.part.printed import Number, angle_number, in_minutes, length_number, printed
from sketcher.part.value import Binding, Part
from sketcher.quantity.format import angle as angle_text
from sketcher.quantity.format import length

SMALL = 0.7  # height of stacked deviations by that of the number, where that is tall enough
LEAST = 3.0  # mm: no lettering is smaller (ASME Y14.2 Table 1, from memory)
STACK_STEP = 1.15  # distance of their base lines by their height
BALLOON_NUMBER = 3.0
"""Height in mm of the number in a balloon: the least lettering of a sheet."""
BALLOON_AIR, BALLOON_GAP = 1.0, 1.2
"""Between number and circle on both sides, and before the circle, in mm: common practice, no
source."""


@dataclass(frozen=True, slots=True)
class Wording:
    """A dimension's text; `upper` and `lower` are deviations stacked behind `main`.

    `balloon` is the number in a small circle behind it, by which the inspection record names it.
    """

    main: str
    upper: str = ""
    lower: str = ""
    tail: str = ""
    balloon: str = ""

    @property
    def plain(self) -> str:
        """The whole wording on one line."""
        stacked = f" {self.upper}/{self.lower}" if self.upper else ""
        return f"{self.main}{stacked}{' ' if self.tail else ''}{self.tail}"

    def width(self, height: float) -> float:
        """Return the width in mm at a height of lettering."""
        wide = text_width(self.main, height)
        if self.tail:
            wide += text_width(" " + self.tail, height)
        if self.upper:
            wide += 0.3 * height + max(text_width(t, _small(height))
                                       for t in (self.upper, self.lower))
        if self.balloon:
            wide += BALLOON_GAP + balloon_size(self.balloon)
        return wide

    def height(self, height: float) -> float:
        """Return the height in mm: more where deviations are stacked or it has a balloon."""
        tall = _small(height) * (1.0 + STACK_STEP) if self.upper else height
        return max(tall, balloon_size(self.balloon)) if self.balloon else tall

    def texts(self, middle: XY, turn: XY, height: float, source: str) -> list[Item]:
        """Return the lettering about its middle; `turn` is the unit direction of reading."""
        from math import atan2, degrees

        angle = degrees(atan2(turn[1], turn[0]))
        cx, cy = turn
        start = -0.5 * self.width(height)

        def put(text: str, along: float, up: float, size: float) -> Text:
            at = (middle[0] + along * cx - up * cy, middle[1] + along * cy + up * cx)
            return Text(text, at, size, source, "left", angle)

        found: list[Item] = [put(self.main, start, -0.5 * height, height)]
        at = start + text_width(self.main, height)
        if self.upper:
            at += 0.3 * height
            small = _small(height)
            low = -0.5 * small * (1.0 + STACK_STEP)
            found.append(put(self.upper, at, low + STACK_STEP * small, small))
            found.append(put(self.lower, at, low, small))
            at += max(text_width(t, small) for t in (self.upper, self.lower))
        if self.tail:
            at += text_width(" ", height)
            found.append(put(self.tail, at, -0.5 * height, height))
            at += text_width(self.tail, height)
        if self.balloon:
            size = balloon_size(self.balloon)
            at += BALLOON_GAP + 0.5 * size
            center = (middle[0] + at * cx, middle[1] + at * cy)
            found.append(Stroke(Circle(center, 0.5 * size), "dimension", source))
            at -= 0.5 * text_width(self.balloon, BALLOON_NUMBER)
            found.append(put(self.balloon, at, -0.5 * BALLOON_NUMBER, BALLOON_NUMBER))
        return found


def balloon_size(number: str) -> float:
    """Return the diameter of the circle around a number, in mm: that of two digits at least."""
    wide = max(text_width("00", BALLOON_NUMBER), text_width(number, BALLOON_NUMBER))
    return hypot(wide, BALLOON_NUMBER) + BALLOON_AIR


def _small(height: float) -> float:
    """Height of stacked deviations beside a number of a height, both in mm."""
    return min(height, max(LEAST, SMALL * height))


def wording(
    part: Part, binding: Binding, count: int = 1, factor: float = 1.0, sign: str | None = None,
    note: str = "",
) -> Wording:
    """Return what a dimension says.

    Parameters
    ----------
    part : Part
    binding : Binding
    count : int
        Number of places at which the feature repeats.
    factor : float
        2 where the sheet shows the whole of what the binding says for the half.
    sign : str, optional
        ``R`` or ``Ø`` where it differs from the kind's own.
    note : str
        Words behind the number.
    """
    practice = part.drawing.practice
    number = printed(part, binding, factor)
    mark = KINDS[binding.kind].prefix if sign is None else sign
    said = Wording(times(count, practice) + mark + number.text)
    if not binding.drives:
        return Wording(f"({said.main})", tail=note)
    if binding.tolerance is not None:
        said = _with_deviations(part, binding, said, number, factor)
    return replace(said, tail=note)


def in_parentheses(said: Wording) -> Wording:
    """Return the wording of a reference dimension: in parentheses, without deviations."""
    main = said.main.partition(" ±")[0]
    return Wording(f"({main})", tail=said.tail)


def times(count: int, practice: Practice) -> str:
    """Return ``4x `` or ``4X ``, or nothing for one."""
    if count < 2:
        return ""
    return f"{count}X " if practice == "ASME" else f"{count}x "


def repeated(
    part: Part, step: float, count: int, typed: str, quantity: str = "length"
) -> Wording:
    """Return the wording of equal steps: ``3x 30 (=90)``, or the step alone."""
    total = step * count
    if quantity == "angle":
        one, all_of = (angle_number(part, size, typed).text for size in (step, total))
    else:
        one = length_number(abs(step), part.unit, typed).text
        all_of = length_number(abs(total), part.unit, typed).text
    if count < 2:
        return Wording(one)
    return Wording(f"{times(count, part.drawing.practice)}{one} (={all_of})")


def _with_deviations(
    part: Part, binding: Binding, said: Wording, number: Number, factor: float
) -> Wording:
    upper, lower = max(binding.tolerance or ()), min(binding.tolerance or ())
    upper, lower = factor * upper, factor * lower
    is_angle = KINDS[binding.kind].quantity == "angle"

    def amount(value: float) -> str:
        if is_angle:
            if in_minutes(part, binding.value or "", binding.tolerance):
                return angle_text(abs(value), 0, dms=True)
            return angle_text(abs(value), 3)
        if part.unit == "in":
            places = max(number.places or 0, _places(upper), _places(lower))
            return length(abs(value), "in", places)
        return length(abs(value), "mm", 3)

    main = said.main
    if part.unit == "in" and not is_angle and number.places is not None:
        # An inch dimension has as many decimals as its tolerance (ASME Y14.5M-1994, 2.3.2).
        places = max(number.places, _places(upper), _places(lower))
        longer = printed(part, binding, factor).text
        main = main.removesuffix(longer) + longer + "0" * (places - number.places)
    if upper == -lower:
        return Wording(f"{main} ±{amount(upper)}")
    return Wording(main, _signed(upper, amount(upper)), _signed(lower, amount(lower)))


def _places(value: float) -> int:
    return min(4, len(length(abs(value), "in", 4, zeros=False).partition(".")[2]))


def _signed(value: float, text: str) -> str:
    if value == 0.0:  # in mm and in degrees a plain nought (ASME Y14.5M-1994, 2.3.1)
        return text if text in ("0", "0°") else f"+{text}"
    return f"{'+' if value > 0 else '-'}{text}"
