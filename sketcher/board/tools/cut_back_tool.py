"""Cutting spans away up to the nearest crossings."""

from __future__ import annotations

from sketcher.board.toolkit.edge_tool import EdgeTool
from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.cut_back import cut_back
from sketcher.part.value import Part


class CutBackTool(EdgeTool):
    """Takes the span under the pointer away."""

    name = "cut back"
    label = "Cut back"
    hint = ("Press a span to take it away up to the nearest crossings. Curves selected before are "
            "the only ones that count as edges.")
    ask = "Press a span to take it away."
    key = "Shift+X"

    def edit(self, part: Part, name: str, at: XY, edges: tuple[str, ...] | None) -> Edited:
        """Return the cut of a span."""
        return cut_back(part, name, at, edges)


TOOL = CutBackTool
