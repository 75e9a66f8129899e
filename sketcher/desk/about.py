"""What the program says about itself."""

from __future__ import annotations

import sys

from PySide6.QtCore import QLibraryInfo

from sketcher import __version__


def about_text() -> str:
    """Return what the program says about itself."""
    return (
        f"Part profile sketcher {__version__}\n\n"
        "Draws, solves, inspects and delivers the exact profile of a flat plate part.\n\n"
        f"Qt {QLibraryInfo.version().toString()}, Python {sys.version.split()[0]}"
    )
