"""What goes on in the other process: its name, its time, and a button that stops it."""

from __future__ import annotations

from time import monotonic

from PySide6.QtCore import QTimer, Slot
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QWidget

from sketcher.desk.gate import PASSES
from sketcher.desk.worker import ProcessWorker, Ticket

SOON = 200
"""Milliseconds that work takes before it is shown: what is done sooner does not flicker."""
TICK = 500
ROOMY = 800
"""Pixels of the window's width from which there is room for the name beside the status."""


class WorkBar(QWidget):
    """Hidden while nothing goes on for long; the window has one, and each dialog that starts work.

    Parameters
    ----------
    worker : ProcessWorker
    parent : QWidget
    """

    def __init__(self, worker: ProcessWorker, parent: QWidget) -> None:
        super().__init__(parent)
        self.worker = worker
        self.setAccessibleName("Work that goes on")
        self._shown: Ticket | None = None
        self.name = QLabel(self)
        self.name.setAccessibleDescription("What goes on")
        self.motion = QProgressBar(self)
        self.motion.setAccessibleName("How much of it is done")
        self._move(0.0)
        self.motion.setTextVisible(False)
        self.motion.setFixedWidth(self.fontMetrics().averageCharWidth() * 12)
        self.motion.setFixedHeight(self.fontMetrics().height() // 2)
        self.stop = QPushButton("Stop", self)
        self.stop.setToolTip("Stop this; the part stays as it is.  (Esc, while the window waits)")
        self.stop.setAccessibleName("Stop what goes on")
        self.stop.setProperty(PASSES, True)
        self.stop.clicked.connect(self._stop)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        for piece in (self.name, self.motion, self.stop):
            line.addWidget(piece)
        self._tick = QTimer(self)
        self._tick.setSingleShot(True)
        self._tick.timeout.connect(self._show_it)
        worker.changed.connect(self._follow)
        self.hide()

    @Slot()
    def _follow(self) -> None:
        """Take over what goes on; nothing is shown before it has gone on for a moment."""
        ticket = self.worker.current
        if ticket is None:
            self._shown = None
            self._tick.stop()
            self.hide()
        elif ticket is not self._shown:
            self._shown = ticket
            spent = 1000 * (monotonic() - ticket.since)
            if not self.isHidden():
                self._show_it()
            else:
                self._tick.start(max(0, int(SOON - spent)))

    @Slot()
    def _show_it(self) -> None:
        if self._shown is None:
            return
        spent = int(monotonic() - self._shown.since)
        self.name.setText(f"{self._shown.job.name}  \N{MIDDLE DOT}  {spent} s" if spent
                          else self._shown.job.name)
        self._move(self._shown.share)
        self.name.setVisible(self.window().width() >= ROOMY)
        self.show()
        self._tick.start(TICK)

    def _move(self, share: float) -> None:
        """Show how much is done; where that is not known only that it goes on."""
        self.motion.setRange(0, 100 if share else 0)
        self.motion.setValue(round(100.0 * share))
        done = f"{share:.0%} done" if share else ""
        name = self._shown.job.name if self._shown is not None else ""
        self.motion.setToolTip(": ".join(filter(None, (name, done))))

    @Slot()
    def _stop(self) -> None:
        self.worker.cancel()


def work_row(worker: object, dialog: QWidget) -> QHBoxLayout:
    """Return the row at the foot of a dialog: what goes on beside it, where that can be shown."""
    row = QHBoxLayout()
    if isinstance(worker, ProcessWorker):
        row.addWidget(WorkBar(worker, dialog))
    return row
