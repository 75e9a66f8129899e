"""Layout lines: scribed helpers."""

from __future__ import annotations

from typing import ClassVar

from sketcher.board.toolkit.stroke_tool import StrokeTool
from sketcher.part.value import Role


class LayoutLineTool(StrokeTool):
    """Draws a line of the role layout."""

    name = "layout line"
    label = "Layout line"
    hint = "Press where the layout line starts; it is never cut or printed."
    key = "Y"
    role: ClassVar[Role] = "layout"


TOOL = LayoutLineTool
