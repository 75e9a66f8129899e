"""Small parts for tests, built from plain tables."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import dist

import numpy as np

from sketcher.part.edits.draft import Draft
from sketcher.part.value import ArcCurve, Binding, LineCurve, Part, PartCurve, frozen

XY = tuple[float, float]


def frame(
    points: Mapping[str, XY],
    curves: Iterable[tuple[str, str] | PartCurve] = (),
    *bindings: Binding,
) -> Part:
    """Part with curves e1, e2 ... (a pair of points is a line) and bindings b1, b2 ..."""
    drawn = [LineCurve(c) if isinstance(c, tuple) else c for c in curves]
    return Part(
        points=frozen(points),
        curves=frozen({f"e{k}": c for k, c in enumerate(drawn, 1)}),
        bindings=frozen({f"b{k}": b for k, b in enumerate(bindings, 1)}),
    )


def bar(points: Mapping[str, XY], one: str, other: str) -> Binding:
    """Distance of two points at the value that they have."""
    return Binding("distance", (one, other), repr(dist(points[one], points[other])))


def said(kind: str, *of: str, value: str | None = None, drives: bool = True) -> Binding:
    """Binding in one short line."""
    return Binding(kind, of, value, drives=drives)


def strip(count: int, rough: float = 0.0, seed: int = 0) -> tuple[Part, dict[str, XY]]:
    """Bound wave of `count` curves: lines 10 long at 0, 60, 0, -60 degrees, joined by R2 arcs.

    Returns the part with every point moved by up to `rough` mm, and the exact points.
    """
    rng = np.random.default_rng(seed)
    place, heading = np.zeros(2), (0.0, 60.0, 0.0, -60.0)
    exact, curves, bindings = {"p0": (0.0, 0.0)}, {}, {"f": Binding("fixed", ("p0",))}
    for k in range(count):
        last, name = f"p{k}", f"p{k + 1}"
        here = np.radians(heading[k // 2 % 4])
        if k % 2 == 0:
            place = place + 10.0 * np.array([np.cos(here), np.sin(here)])
            curves[f"e{k}"] = LineCurve((last, name))
            bindings[f"l{k}"] = Binding("distance", (f"e{k}",), "10")
            if heading[k // 2 % 4]:
                side = "ccw" if here > 0.0 else "cw"
                bindings[f"d{k}"] = Binding("angle", (f"e{k}",), "60", side)
            else:
                bindings[f"d{k}"] = Binding("level", (f"e{k}",), None, "right")
        else:
            there = np.radians(heading[(k // 2 + 1) % 4])
            left = 1.0 if there > here else -1.0
            center = place + 2.0 * left * np.array([-np.sin(here), np.cos(here)])
            place = center - 2.0 * left * np.array([-np.sin(there), np.cos(there)])
            exact[f"c{k}"] = (float(center[0]), float(center[1]))
            curves[f"a{k}"] = ArcCurve((last, name), f"c{k}", "ccw" if left > 0.0 else "cw")
            bindings[f"r{k}"] = Binding("radius", (f"a{k}",), "2")
            side = "left" if left > 0.0 else "right"
            bindings[f"t{k}"] = Binding("tangent", (f"e{k - 1}", f"a{k}"), None, side)
            if k + 1 < count:
                bindings[f"u{k}"] = Binding("tangent", (f"e{k + 1}", f"a{k}"), None, side)
            else:
                ahead = repr(abs(float(place[0] - center[0])))
                bindings[f"u{k}"] = Binding("run", (f"c{k}", name), ahead)
        exact[name] = (float(place[0]), float(place[1]))
    drawn = {name: (x + rng.uniform(-rough, rough), y + rng.uniform(-rough, rough))
             if name != "p0" else (x, y) for name, (x, y) in exact.items()}
    return Part(points=frozen(drawn), curves=frozen(curves), bindings=frozen(bindings)), exact


def two_lengths() -> Part:
    """A line that goes on straight in another, so that their lengths add up."""
    draft = Draft(Part())
    p, q, r = (draft.point(place) for place in ((0, 0), (10, 0), (30, 0)))
    one, other = draft.line(p, q), draft.line(q, r)
    draft.bind("fixed", (p,))
    draft.bind("level", (one,))
    draft.bind("level", (other,))
    draft.bind("distance", (one,), "10")
    draft.bind("distance", (other,), "20")
    return draft.done()
