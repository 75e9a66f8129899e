"""What a DIMENSION of a file reads: its measure as its style has it written.

The variables are those of DXF's DIMSTYLE (DXF Reference, from memory): DIMDEC, DIMRND and DIMZIN
for decimals, DIMLUNIT 4 and 5 for fractions, DIMAUNIT and DIMADEC for angles, DIMPOST for what
stands around the number, DIMTP and DIMTM for its limits.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import gcd
from typing import Any

SIGNS = {"radius": "R", "diameter": "Ø", "arc length": "⌒"}
FRACTIONS = (4, 5)  # of DIMLUNIT
NO_LEADING, NO_TRAILING = 4, 8  # bits of DIMZIN


def written(measured: float, kind: str, style: Mapping[str, Any]) -> str:
    """Return a measure as a reader of the file sees it.

    Parameters
    ----------
    measured : float
    kind : str
        As in `FileDimension.kind`.
    style : mapping of str to object
        Variables by name in lower case, as far as they are known.
    """
    if kind == "angular":
        return _angle(measured, style)
    number = length(measured, style)
    post = str(style.get("dimpost") or "")
    head, found, tail = post.partition("<>")
    if not found:
        head, tail = "", post
    return f"{head or SIGNS.get(kind, '')}{number}{_limits(style)}{tail}"


def length(value: float, style: Mapping[str, Any]) -> str:
    """Return a length in the style's format, without signs."""
    step = float(style.get("dimrnd") or 0.0)
    if step > 0.0:
        value = step * round(value / step)
    if int(style.get("dimlunit") or 2) in FRACTIONS:
        return _fraction(value, int(style.get("dimdec") or 0))
    places = decimals(style)
    if places is None:
        return f"{value:.6g}"
    said = f"{value:.{places}f}"
    zeros = int(style.get("dimzin") or 0)
    if zeros & NO_TRAILING and "." in said:
        said = said.rstrip("0").rstrip(".")
    if zeros & NO_LEADING and said.startswith("0."):
        said = said[1:]
    return said.replace(".", chr(int(style.get("dimdsep") or ord("."))))


def decimals(style: Mapping[str, Any]) -> int | None:
    """Return to how many decimals a style writes lengths; None where it does not say."""
    places = style.get("dimdec")
    return None if places is None else max(0, min(int(places), 8))


def _fraction(value: float, power: int) -> str:
    under = 1 << max(0, min(power, 8))
    over = round(abs(value) * under)
    whole, over = divmod(over, under)
    common = gcd(over, under)
    parts = [str(whole)] if whole or not over else []
    if over:
        parts.append(f"{over // common}/{under // common}")
    return ("-" if value < 0.0 else "") + " ".join(parts)


def _angle(value: float, style: Mapping[str, Any]) -> str:
    places = int(style.get("dimadec", -1) if style.get("dimadec") is not None else -1)
    if places < 0:
        places = decimals(style) or 0
    if int(style.get("dimaunit") or 0) == 1:
        if places == 0:
            return f"{value:.0f}°"
        seconds = round(value * 3600.0) if places > 2 else 60 * round(value * 60.0)
        degrees, rest = divmod(seconds, 3600)
        text = f"{degrees}°{rest // 60}'"
        return f'{text}{rest % 60}"' if places > 2 else text
    said = f"{value:.{places}f}"
    if int(style.get("dimazin") or 0) & 2 and "." in said:
        said = said.rstrip("0").rstrip(".")
    return f"{said}°"


def _limits(style: Mapping[str, Any]) -> str:
    if not int(style.get("dimtol") or 0):
        return ""
    plus, minus = float(style.get("dimtp") or 0.0), float(style.get("dimtm") or 0.0)
    own = {**style, "dimrnd": 0.0, "dimdec": style.get("dimtdec", style.get("dimdec"))}
    if plus == minus:
        return f"±{length(plus, own)}"
    return f" +{length(plus, own)} {'-' if minus >= 0.0 else '+'}{length(abs(minus), own)}"
