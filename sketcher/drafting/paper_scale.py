"""The standard scales, and how a scale is written and read."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from typing import Any

from sketcher.errors import SketcherError
from sketcher.shipped import shipped


def scale_text(factor: float) -> str:
    """Return a scale as ISO 5455 writes it: ``1:2``, ``5:1``."""
    return f"{factor:g}:1" if factor >= 1.0 else f"1:{1.0 / factor:g}"


def scale_value(text: str, place: str = "drawing.scale") -> float:
    """Return the factor of a scale such as ``1:2``.

    Raises
    ------
    SketcherError
        When it is no scale.
    """
    try:
        paper, part = (float(side) for side in text.split(":"))
        factor = paper / part
    except (ValueError, ZeroDivisionError):
        factor = 0.0
    if not 1e-4 <= factor <= 1e4:
        raise SketcherError(place, f"{text!r} is no scale", "write auto, 1:2 or 5:1")
    return factor


@cache
def scales() -> Mapping[str, Any]:
    """Return the standard scales of each practice, paper by part, the largest first."""
    text = shipped("resources", "standards/scales.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def detail_scales(practice: str) -> tuple[float, ...]:
    """Return the standard scales that a detail may have, the largest first."""
    every = {*scales()[practice], *scales()["detail"]}
    return tuple(sorted(map(float, every), reverse=True))
