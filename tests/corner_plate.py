"""Plates with features of a few tenths of a millimetre; all sizes are invented."""

from __future__ import annotations

from sketcher.part.value import (
    Binding,
    CircleCurve,
    Drawing,
    GridPattern,
    LineCurve,
    Part,
    frozen,
)
from sketcher.solve import solve

HOLES = ((112.0, 71.0, 0.4), (114.4, 71.0, 0.4), (20.0, 20.0, 5.0))  # x, y, radius


def plate(practice: str = "ISO", **drawing) -> Part:
    """A plate of 120 by 75 with two small holes near a corner and a large one."""
    corners = ((0.0, 0.0), (120.0, 0.0), (120.0, 75.0), (0.0, 75.0))
    points = {f"p{k}": at for k, at in enumerate(corners, 1)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}
    bindings = {"f": Binding("fixed", ("p1",)), "w": Binding("run", ("p1", "p2"), "120"),
                "t": Binding("rise", ("p1", "p4"), "75")}
    bindings |= {f"d{k}": Binding("level" if k % 2 else "plumb", (f"e{k}",)) for k in range(1, 5)}
    for k, (x, y, r) in enumerate(HOLES, 1):
        points[f"k{k}"], curves[f"h{k}"] = (x, y), CircleCurve(f"k{k}", r)
        corner = "p1" if k == 3 else "p3"
        cx, cy = points[corner]
        bindings |= {f"x{k}": Binding("run", (f"k{k}", corner), f"{abs(cx - x):.6g}"),
                     f"y{k}": Binding("rise", (f"k{k}", corner), f"{abs(cy - y):.6g}"),
                     f"s{k}": Binding("diameter", (f"h{k}",), f"{2 * r:.6g}")}
    part = Part(name="Corner plate", points=frozen(points), curves=frozen(curves),
                bindings=frozen(bindings), drawing=Drawing(practice=practice, **drawing))
    return solve(part).part


def sieve(size: float) -> Part:
    """The plate with a grid of 12 by 9 holes in its middle instead of the two small holes."""
    part = plate()
    gone = {"h1", "h2", "k1", "k2"}
    points = {k: v for k, v in part.points.items() if k not in gone} | {"q": (50.0, 30.0)}
    curves = {k: v for k, v in part.curves.items() if k not in gone}
    curves["g"] = CircleCurve("q", size / 2)
    bindings = {k: b for k, b in part.bindings.items() if gone.isdisjoint(b.of)}
    bindings |= {"gx": Binding("run", ("p1", "q"), "50"), "gy": Binding("rise", ("p1", "q"), "30"),
                 "gd": Binding("diameter", ("g",), f"{size:g}")}
    patterns = {"sieve": GridPattern(("g",), ("2.5", "2.5"), (12, 9))}
    return solve(part.having(points=points, curves=curves, bindings=bindings,
                             patterns=patterns)).part


def nest(**drawing) -> Part:
    """The plate with sixteen holes of a size each close together, not two small ones."""
    part = plate()
    gone = {"h1", "h2", "k1", "k2"}
    points = {k: v for k, v in part.points.items() if k not in gone}
    curves = {k: v for k, v in part.curves.items() if k not in gone}
    bindings = {k: b for k, b in part.bindings.items() if gone.isdisjoint(b.of)}
    for i in range(16):
        name, before = f"q{i}", f"q{i - 1}" if i else "p1"
        points[name] = (60.0 + 3.4 * (i % 4), 40.0 + 3.4 * (i // 4))
        curves[f"g{i}"] = CircleCurve(name, 1.0 + 0.02 * i)
        bindings[f"gd{i}"] = Binding("diameter", (f"g{i}",), f"{2 + 0.04 * i:.6g}",
                                     tolerance=(0.01, -0.02))
        for kind, axis in (("run", 0), ("rise", 1)):
            apart = abs(points[name][axis] - points[before][axis])
            if apart > 1e-9:
                bindings[f"g{kind}{i}"] = Binding(kind, (before, name), f"{apart:.6g}")
    return part.having(points=points, curves=curves, bindings=bindings, drawing=Drawing(**drawing))
