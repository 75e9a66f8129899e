"""Numbers of a DXF in fixed point: no exponent, no minus before zero, always a decimal point.

Simple controllers read no exponent, and take ``-3.99e-24`` for -3.99 or stop at it.
"""

from __future__ import annotations

PLACES = 12
"""Decimals of lengths and of angles in degrees. A double holds no more of a length of 1000; what
solving leaves in the last digits goes with them, and ends that met before still do to 1e-9."""

BEND_PLACES = 15
"""Decimals of a bulge, whose error counts a quarter of the chord's length: all that a double holds
of one below 1."""

BULGE_CODE = 42

REALS = (range(10, 60), range(110, 150), range(210, 240), range(460, 470), range(1010, 1060))
"""Group codes of floating-point values (DXF reference, group code value types)."""


def fixed(value: float, places: int = PLACES) -> str:
    """Return a number in fixed point with up to `places` decimals, one at least.

    Examples
    --------
    >>> fixed(-3.99e-24), fixed(12.499999999999998), fixed(1e-7)
    ('0.0', '12.5', '0.0000001')
    """
    text = f"{value:.{places}f}".rstrip("0")
    text += "0" if text.endswith(".") else ""
    return "0.0" if text == "-0.0" else text


def in_fixed_point(text: str) -> str:
    """Return a DXF with all its floating-point values in fixed point.

    Parameters
    ----------
    text : str
        Lines of group codes and values by turns.
    """
    lines = text.split("\n")
    for index in range(0, len(lines) - 1, 2):
        code = int(lines[index])
        if any(code in codes for codes in REALS):
            places = BEND_PLACES if code == BULGE_CODE else PLACES
            lines[index + 1] = fixed(float(lines[index + 1]), places)
    return "\n".join(lines)
