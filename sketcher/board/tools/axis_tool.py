"""Symmetry axes."""

from __future__ import annotations

from typing import ClassVar

from sketcher.board.toolkit.stroke_tool import StrokeTool
from sketcher.part.value import Role


class AxisTool(StrokeTool):
    """Draws a line of the role axis."""

    name = "axis"
    label = "Axis"
    hint = "Press where the axis starts."
    key = "X"
    role: ClassVar[Role] = "axis"


TOOL = AxisTool
