"""Chooses what the pointer means among all that the snaps find."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from math import dist

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.picking import Picker
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_base import Snap
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.geometry.meet import meet
from sketcher.geometry.project import nearest
from sketcher.part.value import LineCurve
from sketcher.registry import collect

SAME = 1e-9
"""Share of its distance from the origin within which a typed place is that of a point."""

COINCIDE = 1e-7
"""Places closer than this share of the reach are one place."""


@cache
def snaps() -> Mapping[str, Snap]:
    """Return the snaps that the folder holds, by name."""
    return {snap.name: snap for snap in collect("sketcher.board.snaps", "SNAP", "_snap")}


def snapped(around: Around, held: Spot | None = None) -> Spot:
    """Return the place that the pointer means.

    Parameters
    ----------
    around : Around
        Where the pointer is and what is near.
    held : Spot, optional
        A place whose locus the new point must stay on: a typed value, or a direction held by key.

    Returns
    -------
    Spot
        A single place within reach, else a crossing of two loci, else the nearest place on one
        locus, else the pointer itself.
    """
    found = [spot for snap in snaps().values() for spot in snap.find(around)]
    places = [spot for spot in found if spot.locus is None]
    loci = [spot for spot in found if spot.locus is not None]
    if held is not None:
        return _on_locus(around, held, places, loci)
    if places:
        best = min(places, key=lambda s: (s.rank, dist(s.at, around.pointer.at)))
        return _enriched(best, loci, around.pointer.reach)
    loci.sort(key=lambda s: (s.rank, dist(s.at, around.pointer.at)))
    return _crossing(around, loci) or (loci[0] if loci else free(around.pointer.at))


def incident(spot: Spot, picker: Picker, start: str | None, axes: bool = True) -> Spot:
    """Return a typed place with the point or the axis that it lies on, as a snap would give it.

    `start` is the point where the piece begins; it cannot end there. `axes` tells whether an axis
    counts: what ends on it stays on it.
    """
    reach = SAME * max(1.0, *map(abs, spot.at))
    found = [pick for pick in picker.points_near(spot.at, reach) if pick.id != start]
    if found:
        return replace(spot, at=found[0].at, point=found[0].id, shape="end",
                       word=f"{spot.word}: {found[0].id}")
    points = picker.part.points
    for name, curve in picker.part.curves.items() if axes else ():
        if curve.role == "axis" and isinstance(curve, LineCurve) and nearest(
                Line(*(points[end] for end in curve.ends)), spot.at, bounded=False
        ).distance <= reach:
            return replace(spot, ties=(*spot.ties, Tie("on", ("@", name))),
                           word=f"{spot.word}, on the axis {name}")
    return spot


def free(at: XY) -> Spot:
    """Return a place that nothing holds."""
    return Spot(at)


def _crossing(around: Around, loci: list[Spot]) -> Spot | None:
    """Return the crossing of the two strongest loci that cross within reach."""
    for index, one in enumerate(loci):
        for other in loci[index + 1:]:
            place = crossing_near(one.locus, other.locus, around.pointer.at, around.pointer.reach)
            if place is not None:
                return joined(one, other, place)
    return None


def crossing_near(
    one: Curve | None, other: Curve | None, at: XY, reach: float | None = None
) -> XY | None:
    """Return the crossing of two unbounded curves that is nearest to a place, within reach."""
    if one is None or other is None:
        return None
    places = [meeting.point for meeting in meet(one, other, bounded=False)]
    if not places:
        return None
    best = min(places, key=lambda place: dist(place, at))
    return best if reach is None or dist(best, at) <= reach else None


def joined(one: Spot, other: Spot, at: XY) -> Spot:
    """Return a place that two snaps agree on, with the words and ties of both."""
    words = ", ".join(dict.fromkeys(filter(None, (one.word, other.word))))
    ties = tuple(dict.fromkeys((*one.ties, *other.ties)))
    guides = tuple(_to(guide.curve, at) for spot in (one, other) for guide in spot.guides)
    return Spot(at, words, ties, one.point or other.point, one.shape, guides, None,
                min(one.rank, other.rank))


def _to(curve: Curve, at: XY):  # type: ignore[no-untyped-def]
    from sketcher.board.preview import Guide

    return Guide(Line(curve.start, at)) if isinstance(curve, Line) else Guide(curve)


def _enriched(best: Spot, loci: Iterable[Spot], reach: float) -> Spot:
    """Add to a single place the directions that hold there exactly."""
    for spot in loci:
        assert spot.locus is not None
        exact = nearest(spot.locus, best.at, bounded=False).distance <= COINCIDE * reach
        if exact and spot.shape == "direction" and not set(spot.ties) <= set(best.ties):
            best = replace(joined(best, spot, best.at), shape=best.shape, point=best.point)
    return best


def _on_locus(around: Around, held: Spot, places: list[Spot], loci: list[Spot]) -> Spot:
    """Return a place on the held locus: a snap that agrees with it, a crossing, or the nearest."""
    assert held.locus is not None
    reach = around.pointer.reach
    for spot in sorted(places, key=lambda s: (s.rank, dist(s.at, around.pointer.at))):
        if nearest(held.locus, spot.at, bounded=False).distance <= COINCIDE * reach:
            return replace(joined(spot, held, spot.at), shape=spot.shape)
    for spot in sorted(loci, key=lambda s: (s.rank, dist(s.at, held.at))):
        place = crossing_near(held.locus, spot.locus, held.at, reach)
        if place is not None:
            return replace(joined(held, spot, place), shape=spot.shape)
    return held
