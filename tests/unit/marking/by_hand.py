"""Outlines of demo parts drawn from their papers by plain trigonometry, and faults planted in them.

Nothing of the solver and of `part/whole.py` is used; each edge has a name, so that a test can draw
one otherwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import pairwise
from math import acos, atan2, cos, hypot, pi, radians, sin, sqrt, tan

from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import carried, reflected
from sketcher.marking.comparison import Comparison
from sketcher.marking.hand_in import HandCurve, HandIn
from sketcher.marking.marks import Marks, marked
from sketcher.marking.rubric import Rubric, RuleSetting
from sketcher.marking.rules import marking_rules
from tests.ready_keys import key_ready

Outline = dict[str, Curve]
OUTLINE_ALONE = Rubric({name: RuleSetting(rule.points, rule.cap, rule.limit, False)
                        for name, rule in marking_rules().items() if rule.group != "outline"})
"""A drawing of an outline alone lacks all else."""


def flipped(curve: Curve) -> Curve:
    """The reflection of a curve about the y axis."""
    return reflected(curve, Line((0.0, 0.0), (0.0, 1.0)))


def below(curve: Curve) -> Curve:
    """The reflection of a curve about the x axis."""
    return reflected(curve, Line((0.0, 0.0), (1.0, 0.0)))


def along(at: XY, way: XY, far: float) -> XY:
    """The place so far from another one in a direction."""
    return at[0] + far * way[0], at[1] + far * way[1]


def gate_strap(wall: float = 12.0, fillet: float = 12.0, k1: XY = (46.0, 12.0)) -> Outline:
    """The gate strap: right half, left half with ``l_``, edges across the axis whole."""
    w = 0.5 * (96.0 + 2.0 * wall)
    c1, r3 = (0.0, 100.0), 10.0 + wall
    q1 = (w - 24.0, 24.0 + 24.0 * tan(radians(30.0)))
    dx, dy = q1[0] - c1[0], q1[1] - c1[1]
    phi = atan2(dy, dx) + acos(r3 / hypot(dx, dy))
    n, m = (cos(phi), sin(phi)), (sin(radians(30.0)), cos(radians(30.0)))
    # the fillet's center lies its radius beyond both edges
    u, v = fillet + w * m[0] + 24.0 * m[1], r3 + fillet + c1[1] * n[1]
    det = m[0] * n[1] - m[1] * n[0]
    f2 = ((u * n[1] - v * m[1]) / det, (m[0] * v - n[0] * u) / det)
    p5, p6, p7 = along(f2, m, -fillet), along(f2, n, -fillet), along(c1, n, r3)
    g2 = (12.0, 26.0 + sqrt(28.0 ** 2 - 12.0 ** 2))
    w2 = (12.0 * 36.0 / 28.0, 26.0 + (g2[1] - 26.0) * 36.0 / 28.0)
    right: Outline = {
        "corner": Arc((w - 8.0, 8.0), (w - 8.0, 0.0), (w, 8.0)),
        "side": Line((w, 8.0), (w, 24.0)),
        "slope": Line((w, 24.0), p5),
        "fillet": Arc(f2, p5, p6, False),
        "flank": Line(p6, p7),
        "hole": Circle(k1, 4.5),
        "blend": Arc(g2, (20.0, g2[1]), w2),
        "jamb": Line((20.0, 14.0), (20.0, g2[1])),
    }
    return {
        "bottom": Line((8.0 - w, 0.0), (w - 8.0, 0.0)),
        **right,
        "eye": Arc(c1, p7, (-p7[0], p7[1])),
        **{f"l_{name}": flipped(curve) for name, curve in right.items()},
        "bore": Circle(c1, 10.0),
        "sill": Line((-20.0, 14.0), (20.0, 14.0)),
        "lintel": Arc((0.0, 26.0), w2, (-w2[0], w2[1])),
    }


def pump_flange() -> Outline:
    """The pump flange: a quarter, its reflections with ``l_``, ``b_``, ``lb_``."""
    d = hypot(64.0, 36.0)  # bolt center to fillet center: 16 + 20; hub to fillet center: 44 + 20
    f1x = (62.0 ** 2 + 64.0 ** 2 - 36.0 ** 2) / (2.0 * 62.0)
    f1 = (f1x, sqrt(64.0 ** 2 - f1x ** 2))
    assert d > 62.0
    t1 = (62.0 + (f1[0] - 62.0) * 16.0 / 36.0, f1[1] * 16.0 / 36.0)
    t2 = (f1[0] * 44.0 / 64.0, f1[1] * 44.0 / 64.0)
    fillet = Arc(f1, t1, t2, False)
    return {
        "ear": Arc((62.0, 0.0), (t1[0], -t1[1]), t1),
        "l_ear": Arc((-62.0, 0.0), (-t1[0], t1[1]), (-t1[0], -t1[1])),
        "top": Arc((0.0, 0.0), t2, (-t2[0], t2[1])),
        "foot": Arc((0.0, 0.0), (-t2[0], -t2[1]), (t2[0], -t2[1])),
        "fillet": fillet, "l_fillet": flipped(fillet), "b_fillet": below(fillet),
        "lb_fillet": below(flipped(fillet)),
        "bore": Circle((0.0, 0.0), 18.0),
        "bolt": Circle((62.0, 0.0), 6.5), "l_bolt": Circle((-62.0, 0.0), 6.5),
        **{f"screw{k}": Circle((30.0 * cos(pi / 2.0 + k * pi / 3.0),
                                30.0 * sin(pi / 2.0 + k * pi / 3.0)), 3.3) for k in range(6)},
    }


def shelf_bracket() -> Outline:
    """The shelf bracket, in inches."""
    return {
        "bottom": Line((0.0, 0.0), (5.0, 0.0)),
        "round": Arc((5.0, 0.5), (5.0, 0.0), (5.5, 0.5)),
        "right": Line((5.5, 0.5), (5.5, 2.25)),
        "shelf": Line((5.5, 2.25), (2.75, 2.25)),
        "fillet": Arc((2.75, 3.0), (2.75, 2.25), (2.0, 3.0), False),
        "inner": Line((2.0, 3.0), (2.0, 4.375)),
        "chamfer": Line((2.0, 4.375), (1.375, 5.0)),
        "top": Line((1.375, 5.0), (0.0, 5.0)),
        "back": Line((0.0, 5.0), (0.0, 0.0)),
        **{f"hole{k}": Circle((2.75 + 1.5 * (k % 2), 0.5625 + 1.125 * (k // 2)), 9.0 / 64.0)
           for k in range(4)},
        "peg": Circle((1.0, 3.75), 3.0 / 16.0),
    }


def handed(curves: Iterable[Curve] | Mapping[str, Curve], unit: str = "mm") -> HandIn:
    """A hand-in of these curves, all of them outline, each an entity of its own."""
    plain = curves.values() if isinstance(curves, Mapping) else curves
    return HandIn("drawn.dxf", tuple(HandCurve(curve, number)
                                     for number, curve in enumerate(plain, 1)), unit)


def compared(name: str, curves: Iterable[Curve] | Mapping[str, Curve]) -> Comparison:
    """Lay curves on a demo part."""
    key = key_ready(name)
    return key.compare(handed(curves, key.part.unit))


def marks_of(name: str, curves: Iterable[Curve] | Mapping[str, Curve]) -> Marks:
    """Mark curves against a demo part."""
    return marked(compared(name, curves), OUTLINE_ALONE)


def but(outline: Outline, **others: Curve | None) -> Outline:
    """An outline with some curves drawn otherwise, more of them, or (None) left out."""
    return {name: curve for name, curve in {**outline, **others}.items() if curve is not None}


def turned(curve: Curve, degrees: float, about: XY = (0.0, 0.0)) -> Curve:
    """A curve turned about a place."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return carried(curve, lambda at: (
        about[0] + c * (at[0] - about[0]) - s * (at[1] - about[1]),
        about[1] + s * (at[0] - about[0]) + c * (at[1] - about[1])))


def arc_through(start: XY, end: XY, radius: float, ccw: bool) -> Arc:
    """The shorter arc of a radius between two places."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    rise = sqrt(radius ** 2 - 0.25 * (dx * dx + dy * dy)) / hypot(dx, dy) * (1.0 if ccw else -1.0)
    return Arc((0.5 * (start[0] + end[0]) - rise * dy, 0.5 * (start[1] + end[1]) + rise * dx),
               start, end, ccw)


def chords(arc: Arc | Circle, count: int) -> list[Curve]:
    """An arc or circle as so many even chords."""
    if isinstance(arc, Circle):
        cx, cy, start, sweep = *arc.center, 0.0, 2.0 * pi
    else:
        cx, cy, start, sweep = *arc.center, arc.start_angle, arc.sweep
    places = [(cx + arc.radius * cos(start + sweep * k / count),
               cy + arc.radius * sin(start + sweep * k / count)) for k in range(count + 1)]
    if isinstance(arc, Circle):
        places[-1] = places[0]
    else:
        places[0], places[-1] = arc.start, arc.end
    return [Line(a, b) for a, b in pairwise(places)]
