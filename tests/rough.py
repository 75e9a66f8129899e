"""Rough sketches for tests: parts whose sides nobody has stored, and points moved at random."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from sketcher.part.doubts import confirmed
from sketcher.part.part_size import part_size
from sketcher.part.value import ArcCurve, Binding, CircleCurve, LineCurve, Mirror, Part, frozen

XY = tuple[float, float]


def bare(part: Part) -> Part:
    """The part with no side stored, and no doubt."""
    for name in part.bindings:
        part = confirmed(part, name)
    return part.having(bindings={n: replace(b, side=None) for n, b in part.bindings.items()})


def roughened(part: Part, share: float, rng: np.random.Generator) -> Part:
    """Every point that is not fixed moved by up to a share of the size both ways; no sides."""
    reach = share * part_size(part)
    fixed = {b.of[0] for b in part.bindings.values() if b.kind == "fixed"}
    return bare(part.having(points={
        name: at if name in fixed else (float(at[0] + rng.uniform(-reach, reach)),
                                        float(at[1] + rng.uniform(-reach, reach)))
        for name, at in part.points.items()}))


def holed_plate(across: float, *more: Binding) -> Part:
    """Plate of 80 by 50 with a hole 10 beside its center line, roughly drawn, no side stored.

    The hole stands `across` to the right of the center line; nothing but that tells its side.
    """
    points = {"p1": (0.0, 0.0), "p2": (81.5, 0.8), "p3": (79.2, 51.0), "p4": (-0.9, 48.9),
              "m1": (40.7, -6.0), "m2": (39.5, 57.0), "k1": (40.0 + across, 25.6)}
    curves = {
        "e1": LineCurve(("p1", "p2")), "e2": LineCurve(("p2", "p3")), "e3": LineCurve(("p3", "p4")),
        "e4": LineCurve(("p4", "p1")), "h1": CircleCurve("k1", 4.4),
        "s1": LineCurve(("m1", "m2"), "layout"),
    }
    said = (
        Binding("fixed", ("p1",)), Binding("level", ("e1",)), Binding("level", ("e3",)),
        Binding("plumb", ("e2",)), Binding("plumb", ("e4",)), Binding("run", ("e1",), "80"),
        Binding("rise", ("e2",), "50"), Binding("plumb", ("s1",)),
        Binding("run", ("p1", "m1"), "40"), Binding("rise", ("m1", "p1"), "5"),
        Binding("rise", ("p4", "m2"), "5"), Binding("offset", ("s1", "k1"), "10"),
        Binding("rise", ("p1", "k1"), "25"), Binding("diameter", ("h1",), "8"), *more,
    )
    return Part(points=frozen(points), curves=frozen(curves),
                bindings=frozen({f"b{k}": b for k, b in enumerate(said, 1)}))


HOLE = "b12"
"""The binding of `holed_plate` that says on which side of the center line its hole lies."""


def stepped_half() -> Part:
    """Symmetric half of 14 curves with a window and three holes, drawn as it is meant."""
    points: dict[str, XY] = {
        "p1": (0.0, 0.0), "p2": (38.0, 0.0), "p3": (46.0, 8.0), "p4": (46.0, 30.0),
        "p5": (30.0, 46.0), "p6": (30.0, 70.0), "p7": (16.0, 84.0), "p8": (0.0, 84.0),
        "f1": (38.0, 8.0), "f2": (16.0, 70.0), "k1": (34.0, 14.0), "k2": (0.0, 70.0),
        "k3": (20.0, 60.0), "w1": (0.0, 20.0), "w2": (14.0, 20.0), "w3": (14.0, 36.0),
        "w4": (0.0, 44.08290376865476), "p9": (0.0, 100.0),
    }
    lines = {"e1": "p1 p2", "e2": "p3 p4", "e3": "p4 p5", "e4": "p5 p6", "e5": "p7 p8",
             "e6": "w1 w2", "e7": "w2 w3", "e8": "w3 w4"}
    curves = {
        "ax": LineCurve(("p1", "p9"), "axis"),
        **{name: LineCurve(tuple(ends.split())) for name, ends in lines.items()},
        "a1": ArcCurve(("p2", "p3"), "f1", "ccw"), "a2": ArcCurve(("p6", "p7"), "f2", "ccw"),
        "h1": CircleCurve("k1", 4.0), "h2": CircleCurve("k2", 7.0), "h3": CircleCurve("k3", 3.0),
    }
    said = """fixed p1/plumb ax/rise p1 p9 100/level e1/plumb e2/tangent e1 a1/tangent e2 a1
        radius a1 8/offset ax e2 46/rise p1 p4 30/angle e3 45/plumb e4/offset ax e4 30
        tangent e4 a2/radius a2 14/tangent e5 a2/level e5/offset e1 e5 84/on p8 ax
        offset e2 k1 12/offset e1 k1 14/diameter h1 8/on k2 ax/rise p1 k2 70/diameter h2 14
        on w1 ax/on w4 ax/level e6/plumb e7/offset e1 e6 20/offset ax e7 14/distance e7 16
        angle e8 30/offset e4 k3 10/offset e5 k3 24/diameter h3 6"""
    bindings = {}
    for number, words in enumerate(said.replace("\n", "/").split("/"), 1):
        kind, *of = words.split()
        value = of.pop() if of[-1][0].isdigit() else None
        bindings[f"b{number}"] = Binding(kind, tuple(of), value)
    return Part(points=frozen(points), curves=frozen(curves), bindings=frozen(bindings),
                mirrors=(Mirror("ax"),))
