"""Numbers and places as the reports print them, in the part's unit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sketcher.geometry.curves import XY
from sketcher.quantity import format as quantity_format

ROUNDING = 1e-9
"""Share of the size below which a sum over a contour is zero: the demo parts leave up to 3e-16 of
it, and solved points are right to some 1e-12."""
UNADVISED = "none, while more curves cross or cover each other than are named"
"""In place of advice where contours cross so much that nobody can tell what the plate is."""
NO_MATERIAL = "none, while no material is given: name it in Part properties"
"""In place of advice where nobody has said what the plate is of."""
CROSSED, OPEN = "the outline crosses or covers itself", "the outline is open"
"""Where the rules of cutting cannot look at a plate."""


WAY_PLACES = {"mm": 1, "in": 2}
"""Decimals of ways of the torch, which nobody measures."""


def length(value: float, unit: str) -> str:
    """Return a length with its unit; what would round to zero is written as a power of ten."""
    return f"{bare_length(value, unit)} {unit}"


def bare_length(value: float, unit: str) -> str:
    """Return a length without its unit."""
    if value and abs(value) < 0.5e-4:
        return f"{value:.1e}"
    return quantity_format.length(value, unit)


def way_length(value: float, unit: str) -> str:
    """Return the length of a way of the torch with its unit, by decimals that are of use."""
    return f"{quantity_format.length(value, unit, WAY_PLACES[unit])} {unit}"


def angle(degrees: float) -> str:
    """Return an angle in degrees; what would round to zero is written as a power of ten."""
    if degrees and abs(degrees) < 0.5e-4:
        return f"{degrees:.1e}°"
    return quantity_format.angle(degrees)


def bare_amount(value: float, quantity: str | None, unit: str) -> str:
    """Return an angle with its sign, a length without its unit."""
    return angle(value) if quantity == "angle" else bare_length(value, unit)


def amount(value: float, quantity: str | None, unit: str) -> str:
    """Return a length or an angle, whichever `quantity` says.

    Parameters
    ----------
    value : float
        In the part's unit, or in degrees.
    quantity : str or None
        ``angle``; all else is a length.
    unit : str
        ``mm`` or ``in``.
    """
    return angle(value) if quantity == "angle" else length(value, unit)


def without_rounding(value: float, size: float) -> float:
    """Return a value to be read, and 0 where it is only what rounding leaves of zero.

    Parameters
    ----------
    value : float
        A coordinate, or a product of inertia.
    size : float
        What it is small beside: the size of the plate; the sum of its two second moments, for a
        product of inertia of a slender plate is small beside the fourth power of its length.
    """
    return 0.0 if abs(value) < ROUNDING * size else value


def spot(at: XY, unit: str) -> str:
    """Return a place as ``(12.5, 3)``."""
    return f"({quantity_format.length(at[0], unit)}, {quantity_format.length(at[1], unit)})"


def listed(ids: Iterable[str]) -> str:
    """Return ids as ``a``, ``a and b``, ``a, b and c``."""
    names = list(ids)
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def some(ids: Sequence[str], most: int = 3) -> str:
    """Return the first ids, and how many more there are: ``a, b, c and 4 more``."""
    rest = len(ids) - most
    return listed(ids) if rest < 2 else f"{', '.join(ids[:most])} and {rest} more"


def plural(number: int, one: str, many: str = "") -> str:
    """Return ``1 hole`` or ``3 holes``.

    Parameters
    ----------
    number : int
    one : str
        The word for one of them.
    many : str
        The word for several, where adding an s does not make it.
    """
    return f"{number} {one if number == 1 else many or one + 's'}"
