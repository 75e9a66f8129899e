"""Areas of the practice problems, from their papers by plain trigonometry; nothing is solved."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import acos, asin, atan2, cos, dist, hypot, pi, radians, sin, sqrt, tan

from tests.problems import XY, area_within, lines_between, polar, toward

ROUNDED = 1.0 - pi / 4.0
"""What rounding a square corner takes away, or adds inside, by the square of the radius."""


def holes(*diameters: float) -> float:
    return sum(pi * diameter**2 / 4.0 for diameter in diameters)


def within(*corners: XY) -> float:
    return area_within(lines_between([(at, at) for at in corners]))


def along(at: XY, radius: float, way: XY) -> XY:
    return at[0] + radius * way[0], at[1] + radius * way[1]


def square_to_tangent(one: XY, other: XY, ahead: float, turn: int) -> XY:
    """The way square to a line that lies `ahead` further from `one` than from `other`."""
    angle = atan2(other[1] - one[1], other[0] - one[0]) + turn * acos(ahead / dist(one, other))
    return cos(angle), sin(angle)


def corner_bracket() -> float:
    return 90.0 * 30.0 + 30.0 * 40.0 - holes(11.0, 9.0)


def lug_plate() -> float:
    top = 18.0 + 42.0 * tan(radians(30.0))
    plate = within((0.0, 0.0), (95.0, 0.0), (95.0, 18.0), (53.0, top), (36.0, top), (36.0, 66.0),
                   (0.0, 66.0))
    return plate + pi * 18.0**2 / 2.0 - holes(16.0, 9.0, 9.0)


def keeper_plate() -> float:
    plate = within((0.0, 0.0), (4.5, 0.0), (4.5, 9 / 16), (3.875, 1.5), (1.875, 1.5),
                   (1.875, 3.0625), (0.0, 3.0625))
    return (plate + pi * (15 / 16) ** 2 / 2.0 + ROUNDED * 0.5**2
            - holes(9 / 16, 13 / 32, 13 / 32))


def slotted_plate() -> float:
    plate = 118.0 * 40.0 + 80.0 * 36.0 - ROUNDED * (12.0**2 + 12.0**2 - 10.0**2)
    return plate - (44.0 * 14.0 + holes(14.0)) - holes(10.0, 10.0)


def drag_link() -> float:
    apart, large, small = 105.0, 22.0, 14.0
    lean = asin((large - small) / apart)
    eyes = large**2 * (pi / 2.0 + lean) + small**2 * (pi / 2.0 - lean)
    return (large + small) * sqrt(apart**2 - (large - small) ** 2) + eyes - holes(25.0, 14.0)


def index_plate() -> float:
    cut = 66.0**2 * acos(54.0 / 66.0) - 54.0 * sqrt(66.0**2 - 54.0**2)
    slot = radians(55.0) * 50.0 * 10.0 + holes(10.0)
    return pi * 66.0**2 - cut - slot - holes(30.0, *[9.0] * 6)


def cross_plate() -> float:
    quarter = (58.0 * 14.0 + pi * 14.0**2 / 4.0 + 44.0 * 18.0 + pi * 18.0**2 / 4.0 - 18.0 * 14.0
               + ROUNDED * 12.0**2)
    return 4.0 * quarter - holes(26.0, 11.0, 11.0, 15.0, 15.0)


def pedal_foot() -> float:
    boss, throat = (26.0, 64.0), (92.0, 46.0)
    way = square_to_tangent(boss, throat, 26.0 + 32.0, 1)
    upper, lower = along(boss, 26.0, way), along(throat, -32.0, way)
    corners = [(at, at) for at in ((0.0, 0.0), (115.0, 0.0), (115.0, 14.0))]
    return area_within(lines_between([
        *corners, ((92.0, 14.0), lower, throat, False), (upper, (0.0, 64.0), boss, True),
    ])) - holes(28.0, 11.0)


def door_hook() -> float:
    middle, flare = (0.0, 0.0), (16.0 - 25.0, -74.0 + sqrt(25.0**2 - 13.0**2))
    corners = [(at, at) for at in ((4.0, -80.0), (64.0, -80.0), (64.0, -60.0))]
    return area_within(lines_between([
        *corners, ((40.0, -60.0), (30.0, -50.0), (40.0, -50.0), False),
        ((30.0, 0.0), polar(30.0, 200.0), middle, True),
        (polar(16.0, 200.0), (16.0, 0.0), middle, False),
        ((16.0, flare[1]), (4.0, -74.0), flare, False),
    ])) - holes(9.0)


def cradle_arm() -> float:
    hub, tip, seat = (0.0, 0.0), (96.0, 0.0), (62.0, 34.0)
    low, high = (square_to_tangent(hub, tip, 22.0 - 10.0, -1),
                 square_to_tangent(tip, seat, 10.0 + 20.0, -1))
    inner, outer, far = 55.0 - 22.0, 55.0 + 20.0, hypot(*seat)
    turn = atan2(seat[1], seat[0]) - acos((inner**2 + far**2 - outer**2) / (2.0 * inner * far))
    back = (inner * cos(turn), inner * sin(turn))
    return area_within(lines_between([
        (along(tip, 10.0, low), along(tip, 10.0, high), tip, True),
        (along(seat, -20.0, high), toward(seat, back, 20.0), seat, False),
        (toward(back, seat, 55.0), toward(back, hub, 55.0), back, True),
        (toward(back, hub, 55.0), along(hub, 22.0, low), hub, True),
    ])) - holes(24.0, 9.0)


AREAS: Mapping[str, Callable[[], float]] = {
    "01-corner-bracket": corner_bracket, "02-lug-plate": lug_plate,
    "03-keeper-plate": keeper_plate, "04-slotted-plate": slotted_plate,
    "05-drag-link": drag_link, "06-index-plate": index_plate, "07-cross-plate": cross_plate,
    "08-pedal-foot": pedal_foot, "09-door-hook": door_hook, "10-cradle-arm": cradle_arm,
}
"""By the name of the problem."""
