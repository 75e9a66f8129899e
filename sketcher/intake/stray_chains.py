"""Curves in no contour that hang together."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sketcher.geometry.chain import Nodes
from sketcher.geometry.cluster import components


def stray_chains(net: Nodes, strays: Sequence[int]) -> list[tuple[list[int], list[int]]]:
    """Return chains of strays that meet end to end, each with the other curves that it meets.

    Parameters
    ----------
    net : Nodes
        Of all curves of a drawing.
    strays : sequence of int
        Which of them are in no contour, rising.
    """
    among = set(strays)
    ties = [(own[0], other) for at in net.at
            if (own := [k for k in at if k in among]) for other in own]
    a, b = np.array(ties, dtype=np.intp).reshape(len(ties), 2).T
    label = components(len(net.ends), a, b)
    chains: dict[int, list[int]] = {}
    for k in strays:
        chains.setdefault(int(label[k]), []).append(k)
    return [(chain, sorted({other for k in chain for node in net.ends[k] if node >= 0
                            for other in net.at[node] if other not in among}))
            for chain in chains.values()]
