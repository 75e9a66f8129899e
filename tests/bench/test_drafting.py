"""Layout of 100 dimensions on a plate of holes, in under a second."""

from __future__ import annotations

import random

from sketcher.drafting.features import shown_pieces
from sketcher.drafting.sheet import contents_of
from sketcher.part.value import Binding, CircleCurve, LineCurve, Part, frozen

COUNT = 100


def plate() -> Part:
    """An invented plate with 33 holes, each located and sized."""
    rng = random.Random(3)
    points = {"p1": (0.0, 0.0), "p2": (400.0, 0.0), "p3": (400.0, 260.0), "p4": (0.0, 260.0)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}
    bindings = {"w": Binding("run", ("p1", "p2"), "400")}
    for k in range(33):
        x = round(25 + k // 5 * 50 + rng.uniform(-8, 8), 2)
        y = round(28 + k % 5 * 48 + rng.uniform(-8, 8), 2)
        points[f"k{k}"], curves[f"h{k}"] = (x, y), CircleCurve(f"k{k}", 4.0)
        bindings[f"d{k}"] = Binding("diameter", (f"h{k}",), "8")
        bindings[f"x{k}"] = Binding("run", ("p1", f"k{k}"), repr(x))
        bindings[f"y{k}"] = Binding("rise", ("p1", f"k{k}"), repr(y))
    return Part(points=frozen(points), curves=frozen(curves), bindings=frozen(bindings))


def test_layout_of_a_hundred_dimensions(benchmark) -> None:
    part = plate()
    pieces = shown_pieces(part)
    found = benchmark.pedantic(contents_of, (part, pieces, 1.0, 3.5), rounds=3, iterations=1)
    assert len(found.dimensions) == COUNT
    assert benchmark.stats.stats.min < 1.0
