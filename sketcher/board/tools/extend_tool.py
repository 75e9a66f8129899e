"""Extending ends to the next curve."""

from __future__ import annotations

from sketcher.board.toolkit.edge_tool import EdgeTool
from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.extend import extend
from sketcher.part.value import Part


class ExtendTool(EdgeTool):
    """Lets the end near the pointer go on to the next curve."""

    name = "extend"
    label = "Extend"
    hint = ("Press a curve near the end that is to go on to the next curve. Curves selected before "
            "are the only ones that it may reach.")
    ask = "Press a curve near the end that is to go on."
    key = "E"

    def edit(self, part: Part, name: str, at: XY, edges: tuple[str, ...] | None) -> Edited:
        """Return the extension of an end."""
        return extend(part, name, at, edges)


TOOL = ExtendTool
