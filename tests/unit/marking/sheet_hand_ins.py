"""Hand-ins with dimensions: a part drawn as it is, with what its own finished sheet says of it.

The places and texts come from the layout of `drafting/`, which knows nothing of marking; tests
leave out, add or change single dimensions.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from math import atan2, cos, degrees, dist, radians, sin

from sketcher.drafting.sheet import pages
from sketcher.exchange.dxf_content import FileDimension
from sketcher.geometry.curves import XY
from sketcher.marking.comparison import Comparison
from sketcher.marking.hand_in import HandCurve, HandIn
from sketcher.marking.marking_rule import Mistake, Undecided
from sketcher.marking.rules import marking_rules
from sketcher.part.value import Part
from sketcher.part.whole import whole
from tests.ready_keys import key_ready
from tests.unit.marking.by_hand import handed


@cache
def sheet_dimensions(name: str) -> tuple[FileDimension, ...]:
    """Every dimension of a demo part's sheet, in the part's unit."""
    return drawn_dimensions(key_ready(name).part)


def drawn_dimensions(part: Part) -> tuple[FileDimension, ...]:
    """Every dimension of a part's sheet, in the part's unit, as a DXF of it would have them."""
    page = pages(part)[0]
    assert page.view is not None
    flat, found = page.view.whole(), []
    for number, drawn in enumerate(page.dimensions, 1000):
        if drawn.form == "label":
            continue
        view = page.view_of(drawn.id) or flat
        points = [view.back(at) for at in drawn.points]
        kind = {"angle": "angular", "aligned": "linear"}.get(drawn.form, drawn.form)
        measured = dist(points[0], points[1])
        if kind == "diameter":
            (cx, cy), (px, py) = points[:2]
            ends: list[XY] = [(2.0 * cx - px, 2.0 * cy - py), (px, py)]
            measured *= 2.0
        elif kind == "angular":
            ends = points[:3]
            (vx, vy), *rays = ends
            one, other = (atan2(y - vy, x - vx) for x, y in rays)
            measured = abs(degrees(one - other)) % 360.0
            measured = min(measured, 360.0 - measured)
        else:
            ends = points[:2]
            if kind == "linear":
                measured = along_turn(ends[0], ends[1], drawn.angle)
        found.append(FileDimension(
            number, kind, "DIMENSION", tuple(ends), points[-1], view.back(drawn.place),
            drawn.text, "", measured, drawn.angle if kind == "linear" else 0.0,
            3.5 / view.factor, 1.5 / view.factor))
    return tuple(found)


def along_turn(one: XY, other: XY, turn: float) -> float:
    """The length between two places in a direction."""
    t = radians(turn)
    return abs((other[0] - one[0]) * cos(t) + (other[1] - one[1]) * sin(t))


def edges_of(part: Part) -> tuple[HandCurve, ...]:
    """The outline of a part drawn as it is."""
    return handed(piece.curve for piece in whole(part) if piece.role == "outline").curves


@cache
def plain(name: str) -> Comparison:
    """A demo part drawn as it is, without dimensions, beside its key."""
    ready = key_ready(name)
    return ready.compare(HandIn(f"{name}.dxf", edges_of(ready.part), ready.part.unit))


def laid(name: str, dimensions: Iterable[FileDimension], **more: object) -> Comparison:
    """A demo part with some dimensions, drawn as it is or otherwise, beside its key."""
    drawn = plain(name)
    hand_in = replace(drawn.hand_in, dimensions=tuple(dimensions), **more)
    # only the outline is compared: what stands beside it needs no second look
    return key_ready(name).compare(hand_in) if "curves" in more else replace(drawn, hand_in=hand_in)


def found_by(rule: str, comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """What a rule finds."""
    return marking_rules()[rule].decide(comparison)
