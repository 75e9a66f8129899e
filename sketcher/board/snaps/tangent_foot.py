"""The place where a line from the start touches an arc or a circle."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, sqrt

from sketcher.board.snap import Snap, gap
from sketcher.board.spot import Around, Spot
from sketcher.board.ties import Tie
from sketcher.geometry.curves import XY, Line

REACHES = 2.0


class TangentFoot(Snap):
    """The line from the start touches the round there."""

    name = "tangent"
    word = "tangent to"
    hint = "Takes the place where the line touches an arc or a circle."
    rank = 1

    def find(self, around: Around) -> Iterator[Spot]:
        """Give the feet of the tangent lines near the pointer."""
        if around.start is None or not around.straight:
            return
        at, reach = around.pointer.at, around.pointer.reach
        for pick in around.picker.curves_near(at, reach, drawn_only=True):
            curve = around.picker.by_id[pick.id].curve
            if isinstance(curve, Line) or pick.id == around.before:
                continue
            for foot in tangent_feet(around.start, curve.center, curve.radius):
                if gap(foot, at) <= REACHES * reach:
                    ties = (Tie("on", ("@", pick.id)), Tie("tangent", ("@curve", pick.id)))
                    yield Spot(foot, f"{self.word} {pick.id}", ties, None, "tangent",
                               rank=self.rank)


def tangent_feet(start: XY, center: XY, radius: float) -> tuple[XY, ...]:
    """Return where the tangent lines from a point outside a circle touch it (Thales' circle)."""
    x, y = start[0] - center[0], start[1] - center[1]
    away = hypot(x, y)
    if away <= radius * (1.0 + 1e-9):
        return ()
    ux, uy = x / away, y / away
    forward = radius * radius / away
    aside = radius * sqrt(1.0 - (radius / away) ** 2)
    return tuple(
        (center[0] + forward * ux - sign * aside * uy, center[1] + forward * uy + sign * aside * ux)
        for sign in (1.0, -1.0)
    )


SNAP = TangentFoot()
