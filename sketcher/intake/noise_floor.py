"""How well a file knows its places, beyond its decimals: what computing in few digits left of them.

A drawing that was computed in single precision has 190.50000608 where 190.5 was meant, and its
ten decimals say nothing of that. Its numbers tell it, which are single ones; and when it was moved
or scaled afterwards, lengths that repeat and ends that meet, but for their last digits.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain

import numpy as np

from sketcher.exchange.dxf_content import DxfContent
from sketcher.geometry.curve_table import Floats
from sketcher.geometry.curves import Circle, Line

PLAIN_BITS = 18
"""So many bits hold what is meant in halves, quarters, 64ths: such numbers are alike in any
precision. Of 24 bits (IEEE 754, binary32) filled by chance, one number in 64 needs no more."""
NEARLY_ALL = 0.95
LEAST_EXACT, LEAST_SHORT = 3, 8
"""Numbers that have to be single ones: each is so by chance once in 2^29 when it is written in
full, once in four at most when it is cut off."""
APART = 8.0
"""Steps between single numbers have to be so many times as wide as what the decimals leave."""
NINTH = 1e-8
"""The ninth digit beside the first: nine bring a single number back (IEEE 754-2008, 5.12.2, from
memory), so that many are often written."""
SCATTER = 4.0
"""Steps between single numbers within which lengths repeat."""
LEAST_REPEATS = 8
"""So many different lengths that repeat, or ends; fewer may be near each other for a reason."""
CHANCE = 0.1
"""Share of the pairs of lengths that repeat which may be strewn about as densely by chance."""
MOST = 0.9
"""The noise is what so many of the lengths that repeat are off at most."""
FELT = 1e-10
"""Share of the largest number within which lengths are the same."""


@dataclass(frozen=True, slots=True)
class NoiseFloor:
    """How far a place may lie off at least, in the file's numbers or the part's unit, and why."""

    size: float = 0.0
    why: str = ""


def noise_floor(content: DxfContent, quantum: float) -> NoiseFloor:
    """Return what the numbers of a file tell of their noise, in the file's own numbers.

    Parameters
    ----------
    content : DxfContent
    quantum : float
        Last decimal of the coordinates; 0 when they are written in full.

    Returns
    -------
    NoiseFloor
        Of no size where nothing tells of more than the last decimal.
    """
    lines = np.array([(*each.curve.start, *each.curve.end) for each in content.curves
                      if isinstance(each.curve, Line)], dtype=float).reshape(-1, 4)
    circles = (each.curve for each in content.curves if isinstance(each.curve, Circle))
    rounds = _flat((*each.center, each.radius) for each in circles)
    numbers = np.unique(np.abs(np.concatenate([lines.ravel(), rounds])))
    if not len(numbers):
        return NoiseFloor()
    step = _step(numbers)
    if _single(numbers, quantum):
        return NoiseFloor(0.5 * float(step[-1]), "written in single precision")
    if quantum:
        return NoiseFloor()
    lengths = np.hypot(lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1])
    felt = FELT * float(numbers[-1])
    rising = np.sort(lengths)
    # A length that is there a hundred times to the last digit was computed once.
    rising = rising[np.diff(rising, prepend=-np.inf) > felt]
    off = _scatter(rising, SCATTER * float(step[-1]))
    return NoiseFloor(off, "lengths that repeat differ in their last digits" if off else "")


def floor_of_ends(moves: Floats, count: int, largest: float) -> NoiseFloor:
    """Return what ends of different entities that meet but for their last digits tell of the noise.

    Parameters
    ----------
    moves : float (n,)
        How far ends of the drawing had to go to meet, in its unit. What no single number explains
        is a gap and tells nothing here.
    count : int
        Ends of all entities; those that did not move met.
    largest : float
        Largest coordinate.
    """
    fine = moves[moves <= SCATTER * float(_step(np.array([largest]))[0])]
    every = np.concatenate([np.zeros(max(count - len(fine), 0)), fine])
    off = float(np.quantile(every, MOST)) if len(fine) >= LEAST_REPEATS else 0.0
    if off <= FELT * largest:
        return NoiseFloor()
    return NoiseFloor(off, "ends that meet differ in their last digits")


def _flat(rows: Iterable[Iterable[float]]) -> Floats:
    return np.fromiter(chain.from_iterable(rows), dtype=float)


def _step(numbers: Floats) -> Floats:
    """Return how far the next single number is, for each."""
    return np.asarray(np.spacing(numbers.astype(np.float32)), dtype=float)


def _single(numbers: Floats, quantum: float) -> bool:
    """Whether nearly all numbers that can tell it are single ones, written in full or cut off."""
    step = _step(numbers)
    off = np.abs(numbers - numbers.astype(np.float32).astype(float))
    plain = np.ldexp(np.frexp(numbers)[0], PLAIN_BITS) % 1.0 == 0.0
    digit = 10.0 ** np.floor(np.log10(np.maximum(numbers, 1e-300)))
    cut = 0.5 * np.maximum(NINTH * digit, quantum)
    for close, least in ((np.zeros(len(numbers)), LEAST_EXACT), (cut, LEAST_SHORT)):
        telling = ~plain & (step >= APART * close)
        if int(telling.sum()) >= least and np.mean(off[telling] <= close[telling]) > NEARLY_ALL:
            return True
    return False


def _scatter(rising: Floats, near: float) -> float:
    """Return how far lengths that repeat are off; 0 where chance may have brought them together."""
    def pairs(within: float) -> int:
        return int(np.searchsorted(rising, rising + within, "right").sum()
                   - np.arange(1, len(rising) + 1).sum())

    close = pairs(near)
    if pairs(10.0 * near) - close > 9.0 * CHANCE * close:
        return 0.0
    off: list[Floats] = []
    for run in np.split(rising, np.flatnonzero(np.diff(rising) > near) + 1):
        if len(run) > 1:  # of few the middle is off as well
            off.append(np.abs(run - np.median(run)) * np.sqrt(len(run) / (len(run) - 1.0)))
    if sum(map(len, off)) < LEAST_REPEATS:
        return 0.0
    return float(np.quantile(np.concatenate(off), MOST))
