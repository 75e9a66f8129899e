"""What several drawing tools say and draw."""

from __future__ import annotations

from sketcher.board.toolkit.placing_tool import PlacingTool


def figure_done(tool: PlacingTool, name: str, word: str = "") -> None:
    """Say what was drawn and how it is bound."""
    tool.remark(f"{name} drawn{', ' + word if word else ''}.")
