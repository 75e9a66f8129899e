"""What the edits of patterns share."""

from __future__ import annotations

from dataclasses import replace
from math import atan2, degrees

from sketcher.errors import EditError
from sketcher.part.check import MAX_INSTANCES, check_pattern
from sketcher.part.mirror import Reflector
from sketcher.part.value import GridPattern, Part, Pattern, PolarPattern
from sketcher.quantity.format import exact


def checked(part: Part, pattern: Pattern, place: str) -> Pattern:
    """Return the pattern if the part allows it.

    Raises
    ------
    EditError
        When it names what is not there, or has too few or too many instances.
    QuantityError
        When one of its expressions cannot be evaluated.
    """
    if not pattern.curves:
        raise EditError(place, "repeats nothing", "choose the curves to repeat")
    for name in pattern.curves:
        if name not in part.curves:
            raise EditError(place, f"no curve named '{name}'", "choose curves of the half")
    if len(set(pattern.curves)) < len(pattern.curves):
        raise EditError(place, "names a curve twice", "name it once")
    counts = pattern.count if isinstance(pattern, GridPattern) else (pattern.count, 1)
    if min(counts) < 1 or counts[0] * counts[1] > MAX_INSTANCES:
        raise EditError(place, f"{' by '.join(map(str, counts))} instances",
                        f"use 1 to {MAX_INSTANCES}")
    if isinstance(pattern, PolarPattern) and pattern.center not in part.points:
        raise EditError(place, f"no point named '{pattern.center}'", "choose a center")
    check_pattern(part, pattern, place)
    return pattern


def reflected_pattern(pattern: Pattern, reflection: Reflector) -> Pattern:
    """Return the pattern that the reflected curves have; curves and center are not renamed."""
    if isinstance(pattern, PolarPattern):
        return replace(pattern, span=negative(pattern.span))
    dx, dy = reflection.axis.direction
    twice = exact(2.0 * degrees(atan2(dy, dx)) % 360.0)
    angle = f"{twice} - ({pattern.angle})" if pattern.angle.strip() != "0" else twice
    across, up = pattern.step
    return replace(pattern, step=(across, negative(up)), angle=angle)


def negative(text: str) -> str:
    """Return the expression for the negative of another."""
    text = text.strip()
    if text.startswith("-(") and text.endswith(")") and ")" not in text[:-1]:
        return text[2:-1]
    return f"-({text})"
