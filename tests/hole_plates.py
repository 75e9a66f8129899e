"""Random plates full of holes, for tests of the sheet. All invented."""

from __future__ import annotations

import math
import random

from sketcher.part.value import Binding, CircleCurve, Drawing, LineCurve, Material, Part, frozen


def plate(seed: int, practice: str = "ISO", dimensions: bool = False) -> Part:
    """A rectangle with up to fourteen holes, some on one line, some close to each other."""
    rng = random.Random(seed)
    width, height = rng.uniform(60, 220), rng.uniform(40, 120)
    corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
    points = {f"p{k}": at for k, at in enumerate(corners, 1)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}
    bindings = {"b1": Binding("run", ("p1", "p2"), repr(round(width, 6))),
                "b2": Binding("rise", ("p1", "p4"), repr(round(height, 6)))}
    step = rng.choice([0.0, 5.0, 10.0])
    kept: list[tuple[float, float, float]] = []
    for _ in range(rng.randint(1, 40)):
        r = rng.choice([1.65, 2.25, 3.0, 3.3, 4.5, 6.0, 9.0, rng.uniform(1.5, 10)])
        x, y = rng.uniform(r + 3, width - r - 3), rng.uniform(r + 3, height - r - 3)
        if step and rng.random() < 0.8:
            x, y = step * round(x / step), step * round(y / step)
        fits = r + 1.5 < x < width - r - 1.5 and r + 1.5 < y < height - r - 1.5
        # On paper two holes are at least 1.5 mm of material apart.
        clear = all(math.hypot(x - a, y - b) > r + c + 1.5 for a, b, c in kept)
        if fits and clear and len(kept) < 14:
            kept.append((x, y, r))
    for k, (x, y, r) in enumerate(kept, 1):
        points[f"k{k}"] = (x, y)
        curves[f"h{k}"] = CircleCurve(f"k{k}", r)
        bindings[f"d{k}"] = Binding("diameter", (f"h{k}",), repr(round(2 * r, 6)))
        bindings[f"x{k}"] = Binding("run", ("p1", f"k{k}"), repr(round(x, 6)))
        bindings[f"y{k}"] = Binding("rise", ("p1", f"k{k}"), repr(round(y, 6)))
    drawing = Drawing(practice=practice, sheet="A2" if practice == "ISO" else "C", scale="1:1",
                      dimensions=dimensions)
    return Part(name=f"Plate {seed}", points=frozen(points), curves=frozen(curves),
                bindings=frozen(bindings), drawing=drawing,
                material=Material("mild steel", 3.0, 7850.0))
