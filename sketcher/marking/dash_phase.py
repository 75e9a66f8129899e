"""Where the dashes of a line type fall on a line.

The reference of the format knows one alignment of a pattern (code 72 of LTYPE is always 65): whole
repeats in the middle, and what is left over lengthens the dash at both ends alike, each of which is
at least half of the first dash. A line shorter than one repeat is unbroken. (From memory; how
viewers fit a pattern to a full circle differs, so that nothing is said of one.)
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor
from typing import TypeAlias

Dash: TypeAlias = tuple[float, float]

MOST = 5_000
"""Repeats on one line above which it prints as unbroken."""


def dashes_along(length: float, pattern: Sequence[float]) -> tuple[Dash, ...]:
    """Return start and end of each dash of a line, in order.

    Parameters
    ----------
    length : float
    pattern : sequence of float
        Dashes above zero, gaps below, points zero, in the same unit; empty for an unbroken line.

    Returns
    -------
    tuple of (float, float)
        One dash from end to end where the pattern does not fit.
    """
    period = sum(map(abs, pattern))
    if not pattern or period <= 0.0 or pattern[0] < 0.0:
        return ((0.0, length),)
    repeats = floor(length / period + 1e-9)
    if not 1 <= repeats <= MOST:
        return ((0.0, length),)
    first = 0.5 * (length - repeats * period) + 0.5 * pattern[0]
    found: list[Dash] = [(0.0, first)]
    at = first
    for _ in range(repeats):
        for size in (*pattern[1:], pattern[0]):
            if size >= 0.0:
                found.append((at, at + size))
            at += abs(size)
    found[-1] = (found[-1][0], length)
    return tuple(found)
