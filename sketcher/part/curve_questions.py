"""Short questions about document curves."""

from __future__ import annotations

from sketcher.part.value import CircleCurve, LineCurve, PartCurve


def ends_of(curve: PartCurve) -> tuple[str, ...]:
    """Return the two end points of a line or an arc; nothing for a circle."""
    return () if isinstance(curve, CircleCurve) else curve.ends


def center_of(curve: PartCurve) -> str | None:
    """Return the center point of an arc or a circle; None for a line."""
    return None if isinstance(curve, LineCurve) else curve.center


def smooth_kind(*between: PartCurve) -> str:
    """Return the kind of binding under which an edge runs on smoothly from one curve to another."""
    return "in line" if all(isinstance(curve, LineCurve) for curve in between) else "tangent"
