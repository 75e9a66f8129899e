"""Finds the places of every dimension of one drawing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

import numpy as np

from sketcher.drafting.draw_length import Frame
from sketcher.drafting.layout.angle_places import AnglePlaces
from sketcher.drafting.layout.dimension_places import Places
from sketcher.drafting.layout.ink import Array
from sketcher.drafting.layout.leader_places import LeaderPlaces
from sketcher.drafting.layout.length_places import LengthPlaces
from sketcher.drafting.layout.paper_ground import Ground
from sketcher.drafting.measured import Measured, MeasuredAngle, MeasuredLength, MeasuredRound
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.curves import XY


def places_of(wanted: Sequence[Measured], ground: Ground, sizes: Sizes) -> list[Places]:
    """Return the places of dimensions, each with its number."""
    ends: dict[XY, list[float]] = defaultdict(list)
    for one in wanted:
        if isinstance(one, MeasuredLength):
            frame = Frame(one.direction)
            ends[_way(one)] += [frame.of(side[0])[0] for side in (one.first, one.second)]
    rising = {way: np.sort(every) for way, every in ends.items()}
    return [_places_of(number, one, ground, sizes, rising) for number, one in enumerate(wanted)]


def _way(one: MeasuredLength) -> XY:
    return (round(one.direction[0], 4), round(one.direction[1], 4))


def _places_of(
    number: int, one: Measured, ground: Ground, sizes: Sizes, ends: Mapping[XY, Array]
) -> Places:
    if isinstance(one, MeasuredRound):
        return LeaderPlaces(number, ground, sizes, one=one)
    if isinstance(one, MeasuredAngle):
        return AnglePlaces(number, ground, sizes, one=one)
    return LengthPlaces(number, ground, sizes, one=one, ends=ends[_way(one)])
