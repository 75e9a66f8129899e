"""A part with every coordinate wrong by some per cent, so that nothing of it can be trusted."""

from __future__ import annotations

from math import dist, sin

from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part, PartCurve

STRETCH = ((1.043, 0.021), (-0.013, 0.968))
"""Per cent by which lengths and directions of the whole are off."""
SHAKE = 0.04
"""Share of its shortest curve by which each point is off besides."""


def distorted(part: Part, amount: float = 1.0) -> Part:
    """Return the part as a clumsy hand would draw it; the same each time.

    Parameters
    ----------
    part : Part
    amount : float
        By how much of the usual distortion.
    """
    (a, b), (c, d) = ((1.0 + amount * (STRETCH[0][0] - 1.0), amount * STRETCH[0][1]),
                      (amount * STRETCH[1][0], 1.0 + amount * (STRETCH[1][1] - 1.0)))
    sizes = _sizes(part)
    fixed = {name for binding in part.bindings.values() if binding.kind == "fixed"
             for name in binding.of}
    x0, y0 = next((part.points[name] for name in fixed), (0.0, 0.0))
    points = {}
    for number, (name, at) in enumerate(part.points.items(), 1):
        x, y = at[0] - x0, at[1] - y0
        shake = amount * SHAKE * sizes.get(name, 0.0)
        points[name] = at if name in fixed else (
            x0 + a * x + b * y + shake * sin(12.9898 * number),
            y0 + c * x + d * y + shake * sin(78.233 * number))
    curves: dict[str, PartCurve] = {}
    for number, (name, curve) in enumerate(part.curves.items(), 1):
        if isinstance(curve, CircleCurve):
            grown = curve.radius * (1.0 + amount * SHAKE * sin(39.425 * number))
            curve = CircleCurve(curve.center, grown, curve.role)
        curves[name] = curve
    return part.having(points=points, curves=curves)


def _sizes(part: Part) -> dict[str, float]:
    """Length of the shortest line or the smallest round at each point."""
    sizes: dict[str, float] = {}
    for curve in part.curves.values():
        size = (curve.radius if isinstance(curve, CircleCurve)
                else dist(*(part.points[end] for end in curve.ends)))
        if isinstance(curve, ArcCurve):
            size = min(size, dist(part.points[curve.center], part.points[curve.ends[0]]))
        if curve.role != "outline" and isinstance(curve, LineCurve):
            continue
        for name in curve.points:
            sizes[name] = min(size, sizes.get(name, size))
    return sizes
