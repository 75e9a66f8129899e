"""The order in which places are gone to one after the other: nearest next, then untangled.

The list stands in a pane of the window and is made anew with every step. `shortest_way`, for the
torch, finds ways 1 to 4 % shorter and takes 5 to 100 times as long (tried: 20 to 961 places).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.curves import XY

MOST_WORK = 3000
"""Passes of untangling times places: a second, after which a thousand random places are within 2
percent of what many passes come to, and some hundred are done (tried: 7, 200 and 1000)."""


def short_way(places: Sequence[XY], start: XY) -> list[int]:
    """Return the numbers of some places in an order that makes the way from `start` short.

    Parameters
    ----------
    places : sequence of (x, y)
    start : (x, y)
        Where the way begins; it ends at any of them.

    Notes
    -----
    Nearest neighbor, then 2-opt (a stretch is gone through the other way round) and or-opt (a place
    is gone to at another time; both common practice, no source). The result is short, not proved
    shortest.
    """
    at = np.array([start, *places], float).reshape(-1, 2)
    left = np.arange(1, len(at))
    order = [0]
    while len(left):
        away = np.hypot(*(at[left] - at[order[-1]]).T)
        nearest = int((away <= away.min() * (1.0 + 1e-9)).argmax())  # of equals the first
        order.append(int(left[nearest]))
        left = np.delete(left, nearest)
    return [k - 1 for k in _untangled(at, np.array(order))[1:]]


def way_length(places: Sequence[XY], start: XY) -> float:
    """Return how long the way from `start` through all places is."""
    at = np.array([start, *places], float).reshape(-1, 2)
    return float(np.hypot(*np.diff(at, axis=0).T).sum())


def _untangled(at: NDArray[np.float64], order: NDArray[np.intp]) -> list[int]:
    """Turn stretches round and put places elsewhere for as long as that shortens the way."""
    least = 1e-9 * float(np.ptp(at, axis=0).max(initial=0.0))
    for _ in range(max(1, MOST_WORK // len(order))):
        was = order.copy()
        for k in range(1, len(order)):
            way = at[order]
            # Turning k..j round joins k-1 to j and k to j+1; behind the last place is nothing.
            gain = _far(way[k], way[k - 1]) - _far(way[k:], way[k - 1])
            gain[:-1] += _far(way[k + 1:], way[k:-1]) - _far(way[k + 1:], way[k])
            best = int(gain.argmax())
            if gain[best] > least:
                order[k:k + best + 1] = order[k:k + best + 1][::-1]
            order = _moved(at, order, k, least)
        if (order == was).all():
            break
    return [int(k) for k in order]


def _moved(
    at: NDArray[np.float64], order: NDArray[np.intp], k: int, least: float
) -> NDArray[np.intp]:
    """Put the place number k of a way where it costs least, if that shortens the way."""
    rest = np.delete(order, k)
    way, place = at[rest], at[order[k]]
    cost = _far(way, place)
    cost[:-1] += cost[1:] - _far(way[1:], way[:-1])  # behind the last it is a way out alone
    best = int(cost.argmin())
    return np.insert(rest, best + 1, order[k]) if cost[best] < cost[k - 1] - least else order


def _far(one: NDArray[np.float64], other: NDArray[np.float64]) -> NDArray[np.float64]:
    found: NDArray[np.float64] = np.hypot(*(one - other).T)
    return found
