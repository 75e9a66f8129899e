"""Equations between points and radii, vectorised over all bindings that use them.

Each equation lives once as a module constant; the kinds in ``sketcher.part.kinds`` put them to use.
`EQUATIONS` holds every one of them by its name, found by looking at the folder.

Equations are signed: the side is part of the equation. An offset counts to its side, an angle is
directed with one base and factor a sector, a radius at a tangent joint is counted along the shared
normal. The other branch is then no solution, and Newton's method cannot end there.

A new equation is one more file here, which puts it under the tests of the derivatives as well.
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from pkgutil import iter_modules
from types import MappingProxyType

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
    "EQUATIONS",
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


def _collected() -> Mapping[str, Equation]:
    modules = [import_module(f"{__name__}.{module.name}") for module in iter_modules(__path__)]
    return MappingProxyType({
        name: value for module in modules for name, value in vars(module).items()
        if isinstance(value, Equation)
    })


EQUATIONS: Mapping[str, Equation] = _collected()
