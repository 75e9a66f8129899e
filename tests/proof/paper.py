"""What the paper drawings of the demo parts say, worked out with plain trigonometry.

Nothing of the program is used here. `right(name)` gives the outline that the drawing describes,
built from its printed values; `outline(tree)` gives the outline of a part's file as it stands,
with reflections and patterns made by the same few formulas. `same` compares the two as sets of
pieces, so that a half drawn on the other side of its axis is the same part.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import partial
from math import atan2, cos, dist, hypot, pi, radians, sin, sqrt, tan
from pathlib import Path
from typing import Any

DEMOS = Path(__file__).resolve().parents[2] / "demo_parts"
XY = tuple[float, float]
Piece = tuple[str, tuple[XY, ...], float]
"""Kind, its places (ends and middle of an arc, ends of a line, center of a circle), radius."""

PLACES = {"line": 2, "arc": 3, "circle": 1}


def gate_strap() -> tuple[dict[str, XY], dict[str, float]]:
    wall = 12.0
    half = (96.0 + 2.0 * wall) / 2.0
    slope = radians(30.0)
    q1 = (half - 24.0, 24.0 + 24.0 * tan(slope))  # e3 rises to the left from (60, 24)
    hub, round_top = (0.0, 100.0), 10.0 + wall
    # e4 from q1 up, tangent to the rounded top on its right.
    away = dist(q1, hub)
    heading = atan2(hub[1] - q1[1], hub[0] - q1[0]) - _asin(round_top / away)
    ahead, right = _directions(heading)
    p7 = _moved(hub, right, round_top)
    # a2 of R12 lies above e3 and to the right of e4, tangent to both.
    up3 = (sin(slope), cos(slope))
    f2 = _crossing(_moved(q1, up3, 12.0), (-cos(slope), sin(slope)),
                   _moved(q1, right, 12.0), ahead)
    g1, g2 = (0.0, 62.0 - 36.0), (20.0 - 8.0, 26.0 + sqrt((36.0 - 8.0) ** 2 - 12.0**2))
    points = {
        "p1": (0.0, 0.0), "p2": (half - 8.0, 0.0), "p3": (half, 8.0), "p4": (half, 24.0),
        "p5": _moved(f2, up3, -12.0), "p6": _moved(f2, right, -12.0), "p7": p7,
        "p8": (0.0, 100.0 + round_top), "f1": (half - 8.0, 8.0), "f2": f2, "c1": hub,
        "k1": (half - 14.0, 12.0), "w1": (0.0, 62.0), "g1": g1, "g2": g2,
        "w2": (36.0 / 28.0 * g2[0], 26.0 + 36.0 / 28.0 * (g2[1] - 26.0)),
        "w3": (20.0, g2[1]), "w4": (20.0, 14.0), "w5": (0.0, 14.0),
    }
    return points, {"h1": 10.0, "h2": 4.5}


def pump_flange() -> tuple[dict[str, XY], dict[str, float]]:
    ear, rim, neck = 13.0 / 2.0 + 9.5, 44.0, 20.0
    c1 = (124.0 / 2.0, 0.0)
    # f1 touches rim and ear from outside, above the long axis.
    far, near = rim + neck, ear + neck
    x = (far**2 - near**2 + c1[0] ** 2) / (2.0 * c1[0])
    f1 = (x, sqrt(far**2 - x**2))
    points = {
        "c0": (0.0, 0.0), "s1": (c1[0] + ear, 0.0), "s2": (0.0, rim), "c1": c1, "f1": f1,
        "t1": (c1[0] + ear / near * (f1[0] - c1[0]), ear / near * f1[1]),
        "t2": (rim / far * f1[0], rim / far * f1[1]), "k1": (0.0, 60.0 / 2.0),
    }
    return points, {"h1": 18.0, "h2": 3.3, "h3": 6.5}


def roof_gusset() -> tuple[dict[str, XY], dict[str, float]]:
    # In the frame of the axis: first along it, then to its left. e3 falls by 30 degrees from q1.
    c, s = cos(radians(30.0)), sin(radians(30.0))
    q1 = (25.0, 40.0)

    def below(depth: float, left: float) -> XY:
        """Place at a distance below e3, at a height over the axis."""
        return (q1[0] - (depth - (q1[1] - left) * c) / s, left)

    f1, c1, c4 = below(20.0, 20.0), below(14.0, 0.0), below(24.0, 0.0)
    f3 = (19.0, q1[1] - (25.0 + (19.0 - q1[0]) * s) / c)
    up = (s, c)
    framed = {
        "p1": (0.0, 0.0), "p2": (0.0, 40.0), "p3": (f1[0], 40.0), "p4": _moved(f1, up, 20.0),
        "p5": _moved(c1, up, 14.0), "p6": (c1[0] + 14.0, 0.0), "f1": f1, "c1": c1,
        "w1": (14.0, 0.0), "w2": (14.0, f3[1]), "w3": _moved(f3, up, 5.0),
        "w4": _moved(c4, up, 4.0), "w5": (c4[0] + 4.0, 0.0), "f3": f3, "c4": c4,
        "k1": (7.0, 30.0),
    }
    pitch = radians(27.5)
    points = {name: _turned(at, pitch) for name, at in framed.items()}
    return points, {"h1": 6.0, "h2": 3.0}


def shelf_bracket() -> tuple[dict[str, XY], dict[str, float]]:
    points = {
        "p1": (0.0, 0.0), "p2": (5.0, 0.0), "p3": (5.5, 0.5), "p4": (5.5, 2.25),
        "p5": (2.75, 2.25), "p6": (2.0, 3.0), "p7": (2.0, 5.0 - 0.625), "p8": (1.375, 5.0),
        "p9": (0.0, 5.0), "f1": (5.0, 0.5), "f2": (2.75, 3.0), "k1": (2.75, 0.5625),
        "k2": (1.0, 3.75),
    }
    return points, {"h1": 9.0 / 64.0, "h2": 3.0 / 16.0}


def shift_arm() -> tuple[dict[str, XY], dict[str, float]]:
    c1, c2, c3 = (0.0, 0.0), (110.0, 30.0), (-10.0, -75.0)
    along, right = _directions(radians(75.0))
    c4 = _moved(c3, along, 31.0)
    slot, hub, eye, foot = 5.0, 12.0 + 18.0, 15.0, 5.0 + 9.0
    above, beside = _outer_tangent(c2, eye, c1, hub), _outer_tangent(c1, hub, c3, foot)
    rising, under = _directions(radians(20.0))
    f1 = _crossing(_moved(c3, right, foot + 25.0), along, _moved(c2, under, eye + 25.0), rising)
    points = {
        "c1": c1, "c2": c2, "c3": c3, "c4": c4, "f1": f1,
        "t1": _moved(c2, under, eye), "t2": _moved(c2, above, eye), "t3": _moved(c1, above, hub),
        "t4": _moved(c1, beside, hub), "t5": _moved(c3, beside, foot),
        "t6": _moved(c3, right, foot), "t7": _moved(f1, right, -25.0),
        "t8": _moved(f1, under, -25.0), "u1": _moved(c3, right, -slot),
        "u2": _moved(c4, right, -slot), "u3": _moved(c4, right, slot),
        "u4": _moved(c3, right, slot), "m1": _polar(52.0, 6.0), "m2": _polar(52.0, 26.0),
        "v1": _polar(48.0, 6.0), "v2": _polar(48.0, 26.0), "v3": _polar(56.0, 26.0),
        "v4": _polar(56.0, 6.0),
    }
    return points, {"h1": 12.0, "h2": 6.0}


def hanger() -> tuple[dict[str, XY], dict[str, float]]:
    slope, reach = radians(60.0), 12.0 * tan(radians(30.0))
    corner = (34.0 - 40.0 / tan(slope), 80.0)
    points = {
        "p0": (0.0, 0.0), "p1": (50.0, 0.0), "p2": (50.0, 18.0), "p3": (34.0, 18.0),
        "p4": (34.0, 40.0), "p5": (corner[0] + reach * cos(slope), 80.0 - reach * sin(slope)),
        "p6": (corner[0] - reach, 80.0), "p9": (0.0, 80.0), "f1": (corner[0] - reach, 68.0),
        "k1": (42.0, 9.0), "k2": (24.0, 30.0), "k3": (0.0, 55.0), "w1": (0.0, 20.0),
        "w2": (14.0, 20.0), "w3": (14.0, 34.0), "w4": (0.0, 34.0),
    }
    return points, {"h1": 4.0, "h2": 3.5, "h3": 9.0}


PAPERS: dict[str, Callable[[], tuple[dict[str, XY], dict[str, float]]]] = {
    "gate-strap": gate_strap, "pump-flange": pump_flange, "roof-gusset": roof_gusset,
    "shelf-bracket": shelf_bracket, "shift-arm": shift_arm, "hanger": hanger,
}


def hanger_file() -> dict[str, Any]:
    """A symmetric half of 14 curves with the sides left out, as somebody would sketch it."""
    rough = {name: [round(x + (-1.0) ** k * 0.6, 1), round(y + (-1.0) ** (k // 2) * 0.5, 1)]
             for k, (name, (x, y)) in enumerate(hanger()[0].items())}
    lines = {"e1": "p0 p1", "e2": "p1 p2", "e3": "p2 p3", "e4": "p3 p4", "e5": "p4 p5",
             "e6": "p6 p9", "e7": "w1 w2", "e8": "w2 w3", "e9": "w3 w4"}
    curves: dict[str, Any] = {"ax": {"kind": "line", "ends": ["p0", "p9"], "role": "axis"}}
    curves |= {name: {"kind": "line", "ends": ends.split()} for name, ends in lines.items()}
    curves["a1"] = {"kind": "arc", "ends": ["p5", "p6"], "center": "f1", "turn": "ccw"}
    curves |= {f"h{k}": {"kind": "circle", "center": f"k{k}", "radius": r}
               for k, r in enumerate((3.0, 4.0, 8.0), 1)}
    said = """fixed p0/plumb ax/rise p0 p9 80/level e1/run p0 p1 50/plumb e2/rise p0 p2 18
        level e3/offset e2 e4 16/rise p3 p4 22/angle e5 60/level e6/radius a1 12/tangent e5 a1
        tangent e6 a1/offset e1 k1 9/offset e2 k1 8/diameter h1 8/offset e4 k2 10/rise p0 k2 30
        diameter h2 7/on k3 ax/rise p0 k3 55/diameter h3 18/on w1 ax/rise p0 w1 20/level e7
        run w1 w2 14/plumb e8/distance e8 14/level e9/on w4 ax"""
    bindings = {}
    for k, words in enumerate(said.replace("\n", "/").split("/"), 1):
        kind, *of = words.split()
        value = {"value": of.pop()} if of[-1][0].isdigit() else {}
        bindings[f"b{k}"] = {"kind": kind, "of": of, **value}
    rough["p0"] = [0.0, 0.0]
    return {"format": "part-profile", "version": 1, "name": "Hanger", "unit": "mm",
            "points": rough, "curves": curves, "bindings": bindings,
            "mirror": {"axis": "ax", "curves": "outline"}}


def file_of(name: str) -> dict[str, Any]:
    """The part's file as it is shipped."""
    if name == "hanger":
        return hanger_file()
    return json.loads((DEMOS / f"{name}.profile.json").read_text(encoding="utf-8"))


def right(name: str) -> list[Piece]:
    """The outline that the paper describes; which curves there are is as in the file."""
    tree = file_of(name)
    points, radii = PAPERS[name]()
    for circle, radius in radii.items():
        tree["curves"][circle]["radius"] = radius
    axes = {end: points.get(end, tuple(tree["points"][end])) for end in tree["points"]}
    return outline({**tree, "points": {**axes, **points}})


def outline(tree: dict[str, Any]) -> list[Piece]:
    """The whole outline of a part's file: its pieces, images made, each once."""
    pieces = {name: piece(tree, name) for name, curve in tree["curves"].items()
              if curve.get("role", "outline") == "outline"}
    images = {name: [one] for name, one in pieces.items()}
    mirrors = tree.get("mirror") or []
    for mirror in mirrors if isinstance(mirrors, list) else [mirrors]:
        a, b = (tree["points"][end] for end in tree["curves"][mirror["axis"]]["ends"])
        for name in pieces if mirror["curves"] == "outline" else mirror["curves"]:
            images[name] += [moved(one, partial(_reflected, a=a, b=b)) for one in images[name]]
    for pattern in (tree.get("patterns") or {}).values():
        for name in pattern["curves"]:
            images[name] = [moved(one, move) for one in images[name]
                            for move in _moves(pattern, tree["points"])]
    return _once([one for group in images.values() for one in group])


def piece(tree: dict[str, Any], name: str) -> Piece:
    """One curve as a piece."""
    curve = tree["curves"][name]
    at = {end: tuple(place) for end, place in tree["points"].items()}
    if curve["kind"] == "circle":
        return ("circle", (at[curve["center"]],), float(curve["radius"]))
    first, last = (at[end] for end in curve["ends"])
    if curve["kind"] == "line":
        return ("line", (first, last), 0.0)
    center = at[curve["center"]]
    radius = 0.5 * (dist(first, center) + dist(last, center))
    start, stop = (atan2(end[1] - center[1], end[0] - center[0]) for end in (first, last))
    sweep = (stop - start) % (2.0 * pi)
    if curve["turn"] == "cw":
        sweep -= 2.0 * pi
    middle = start + 0.5 * sweep
    return ("arc", (first, last, (center[0] + radius * cos(middle),
                                  center[1] + radius * sin(middle))), radius)


def moved(one: Piece, move: Callable[[XY], XY]) -> Piece:
    """A piece with every place moved; reflections and turns keep the radius."""
    return (one[0], tuple(move(at) for at in one[1]), one[2])


def off(one: Piece, other: Piece) -> float:
    """How far two pieces are from being the same: the largest distance of their places."""
    if one[0] != other[0]:
        return float("inf")
    a, b = one[1], other[1]
    if one[0] == "circle":
        return max(dist(a[0], b[0]), abs(one[2] - other[2]))
    ends = min(max(dist(a[0], b[0]), dist(a[1], b[1])), max(dist(a[0], b[1]), dist(a[1], b[0])))
    return ends if one[0] == "line" else max(ends, dist(a[2], b[2]))


def difference(found: list[Piece], wanted: list[Piece]) -> float:
    """How far the pieces of two outlines are apart, the worst one; infinite with one too many."""
    if len(found) != len(wanted):
        return float("inf")
    return max(min(off(one, other) for other in found) for one in wanted)


def _once(pieces: list[Piece]) -> list[Piece]:
    kept: list[Piece] = []
    for one in pieces:
        if all(off(one, other) > 1e-6 for other in kept):
            kept.append(one)
    return kept


def _moves(pattern: dict[str, Any], points: dict[str, Any]) -> list[Callable[[XY], XY]]:
    """The moves of a pattern's places, as the demo parts use them: full turns, square grids."""
    if pattern["kind"] == "polar":
        assert pattern["span"] == "360"
        x, y = points[pattern["center"]]
        turns = [2.0 * pi * k / pattern["count"] for k in range(pattern["count"])]
        return [lambda at, by=by: _moved((x, y), _turned((at[0] - x, at[1] - y), by), 1.0)
                for by in turns]
    assert pattern["angle"] == "0"
    across, up = (_inches(step) for step in pattern["step"])
    columns, rows = pattern["count"]
    return [lambda at, i=i, j=j: (at[0] + i * across, at[1] + j * up)
            for i in range(columns) for j in range(rows)]


def _inches(text: str) -> float:
    """A whole number and a fraction."""
    whole, _, fraction = text.rpartition(" ")
    over, _, under = fraction.partition("/")
    return float(whole or 0) + float(over) / float(under or 1)


def _asin(ratio: float) -> float:
    return atan2(ratio, sqrt(1.0 - ratio**2))


def _directions(heading: float) -> tuple[XY, XY]:
    """Ahead and to the right."""
    return (cos(heading), sin(heading)), (sin(heading), -cos(heading))


def _moved(at: XY, direction: XY, by: float) -> XY:
    return (at[0] + by * direction[0], at[1] + by * direction[1])


def _turned(at: XY, by: float) -> XY:
    return (at[0] * cos(by) - at[1] * sin(by), at[0] * sin(by) + at[1] * cos(by))


def _polar(radius: float, angle: float) -> XY:
    return (radius * cos(radians(angle)), radius * sin(radians(angle)))


def _crossing(p: XY, u: XY, q: XY, v: XY) -> XY:
    """Where the line through p along u crosses the one through q along v."""
    t = ((q[0] - p[0]) * v[1] - (q[1] - p[1]) * v[0]) / (u[0] * v[1] - u[1] * v[0])
    return _moved(p, u, t)


def _outer_tangent(a: XY, ra: float, b: XY, rb: float) -> XY:
    """Direction from both centers to the outer tangent on the right of the way from a to b."""
    x, y = (b[0] - a[0]) / dist(a, b), (b[1] - a[1]) / dist(a, b)
    k = (ra - rb) / dist(a, b)
    return (k * x + sqrt(1.0 - k**2) * y, k * y - sqrt(1.0 - k**2) * x)


def _reflected(at: XY, a: XY, b: XY) -> XY:
    x, y = b[0] - a[0], b[1] - a[1]
    long = hypot(x, y)
    n = (-y / long, x / long)
    d = (at[0] - a[0]) * n[0] + (at[1] - a[1]) * n[1]
    return _moved(at, n, -2.0 * d)
