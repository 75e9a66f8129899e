"""Works the advice for cutters out beside the window, once the part has come to rest."""

from __future__ import annotations

import sys
from functools import partial
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from sketcher.board.board import Board
from sketcher.board.job import Job
from sketcher.desk.panes.cutting_section import CuttingTold, cutting_told
from sketcher.interrupt import Stopped

REST = 250
"""Milliseconds after an inspection: the next edit of a quick hand comes sooner."""
QUICK = 0.02
"""Seconds that it is tried in place, a frame or so: nobody waits for it, somebody may be typing."""
MOST = 1000
"""Curves of the whole part past which the advice waits to be asked for: a thousand holes take
half a second of the other process."""


class AdviceWatch(QObject):
    """Has the advice made for the part as it stands, and never for one that it was.

    Signals
    -------
    came(object)
        A `CuttingTold` of the current part.
    waits()
        It is being worked out.
    lacks(str)
        There is none, and why.
    """

    came = Signal(object)
    waits = Signal()
    lacks = Signal(str)

    def __init__(self, board: Board, parent: QObject) -> None:
        super().__init__(parent)
        self._board = board
        self._of: object = None  # the inspection whose advice is shown or being made
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.timeout.connect(self._start)

    def look(self, asked: bool) -> None:
        """See to it that the advice for the part as it stands comes; of a large one if asked."""
        derived = self._board.bench.derived
        inspection = derived.known_inspection()
        if inspection is None or inspection is self._of:
            if asked and self._rest.isActive():
                self._rest.start(0)
            return
        if not asked and len(derived.pieces().all) > MOST:
            self.lacks.emit("not checked yet")
            return
        self._of = inspection
        self.waits.emit()
        self._rest.start(0 if asked else REST)

    def stop(self) -> None:
        """Work on no more: the part is another one."""
        self._rest.stop()
        self._of = None
        self._board.bench.worker.forget(cutting_told)

    @Slot()
    def _start(self) -> None:
        try:
            bench, inspection = self._board.bench, self._of
            if inspection is not None:
                job = Job("Advice for cutters", cutting_told, (inspection,),
                          min(bench.derived.quick, QUICK))
                bench.worker.start(
                    job, partial(self._take, inspection), partial(self._fail, inspection))
        except Exception:  # noqa: BLE001 - a slot only tells
            sys.excepthook(*sys.exc_info())

    def _take(self, inspection: Any, told: CuttingTold) -> None:
        if inspection is self._of:
            self.came.emit(told)

    def _fail(self, inspection: Any, error: BaseException) -> None:
        if inspection is not self._of:
            return
        self._of = None  # whoever opens the section asks again
        self.lacks.emit("not worked out")
        if not isinstance(error, Stopped):
            sys.excepthook(type(error), error, error.__traceback__)
