"""What will be needed later is loaded while nobody does anything: one module at a time.

The first opening of the finished drawing, the first export or the first large part would else pay
for all that they import at one go, which takes longer than a window may stand still.
"""

from __future__ import annotations

import contextlib
import gc
import sys
from importlib import import_module

from PySide6.QtCore import QObject, QTimer, Slot

MODULES = (
    "sketcher.drafting.dimension_text", "sketcher.drafting.measured",
    "sketcher.drafting.layout.choose", "sketcher.drafting.layout.lay_out",
    "sketcher.drafting.center_marks", "sketcher.drafting.sheet",
    "sketcher.board.dimensions.kept_dimensions", "sketcher.inspect.profile",
    "sketcher.inspect.inspection", "sketcher.inspect.sketched", "sketcher.desk.errands",
    "sketcher.inspect.cleanup", "sketcher.inspect.advice_rows", "shapely",
    "PySide6.QtPrintSupport", "sketcher.exchange.pdf", "sketcher.board.files.drawing_settings",
    "sketcher.desk.dialogs.page_view", "sketcher.desk.dialogs.paper_form",
    "sketcher.desk.dialogs.drawing_desk",
)
"""In an order in which each has little to load that is not there yet."""
PAUSE = 20  # milliseconds between two of them, so that what a person does comes between


class Warming(QObject):
    """Loads the modules, the first one a moment after it is begun.

    Parameters
    ----------
    parent : QObject
    """

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._left = [name for name in MODULES if name not in sys.modules]
        self._timer = QTimer(self)
        self._timer.setInterval(PAUSE)
        self._timer.timeout.connect(self._next)

    @property
    def done(self) -> bool:
        """Whether all is loaded."""
        return not self._left

    def begin(self) -> None:
        """Begin, once the window stands."""
        self._timer.start()

    @Slot()
    def _next(self) -> None:
        if self._left:
            with contextlib.suppress(ImportError):  # whoever needs it tells that it is missing
                import_module(self._left.pop(0))
        if self.done:
            self._timer.stop()
            gc.freeze()  # it stays: no collection has to look at it again
