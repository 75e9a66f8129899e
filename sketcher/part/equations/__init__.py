"""Equations between points and radii, vectorised over all bindings that use them.

Each equation lives once as a module constant; the kinds in ``sketcher.part.kinds`` put them to use.
"""

from __future__ import annotations

from sketcher.part.equations.base import Array, Equation
from sketcher.part.equations.length_equations import (
    DIAMETER,
    DISTANCE,
    EQUAL_LENGTH,
    MIDDLE,
    RADIAL,
    RADIUS,
    RISE,
    RUN,
    SAME_PLACE,
    SAME_RADIUS,
    SAME_X,
    SAME_Y,
    STEP,
)
from sketcher.part.equations.line_equations import (
    AHEAD,
    ANGLE,
    BESIDE,
    INCLINATION,
    MIRROR,
    ON_LINE,
    PARALLEL,
    POINT_LINE,
    SQUARE,
)
from sketcher.part.equations.touch_equations import (
    COLLINEAR,
    FOOT,
    SIGNED_BY_LINE,
    SIGNED_BY_ROUND,
    TOUCH_LINE,
    TOUCH_ROUND,
)

__all__ = [
    "AHEAD",
    "ANGLE",
    "BESIDE",
    "COLLINEAR",
    "DIAMETER",
    "DISTANCE",
    "EQUAL_LENGTH",
    "FOOT",
    "INCLINATION",
    "MIDDLE",
    "MIRROR",
    "ON_LINE",
    "PARALLEL",
    "POINT_LINE",
    "RADIAL",
    "RADIUS",
    "RISE",
    "RUN",
    "SAME_PLACE",
    "SAME_RADIUS",
    "SAME_X",
    "SAME_Y",
    "SIGNED_BY_LINE",
    "SIGNED_BY_ROUND",
    "SQUARE",
    "STEP",
    "TOUCH_LINE",
    "TOUCH_ROUND",
    "Array",
    "Equation",
]
