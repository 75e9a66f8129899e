"""Single lines."""

from __future__ import annotations

from typing import ClassVar

from sketcher.board.toolkit.stroke_tool import StrokeTool
from sketcher.part.value import Role


class LineTool(StrokeTool):
    """Draws single outline lines."""

    name = "line"
    label = "Line"
    hint = "Press where the line starts."
    key = "L"
    role: ClassVar[Role] = "outline"


TOOL = LineTool
