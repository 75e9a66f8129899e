"""Keeps the work: recovery copies while it changes, and a lock so that two windows notice."""

from __future__ import annotations

import os
import time
from pathlib import Path

from PySide6.QtCore import QLockFile, QObject, QTimer, Signal, Slot

from sketcher.board.board import Board
from sketcher.board.job import Job
from sketcher.board.steps.notices import Change
from sketcher.errors import SketcherError
from sketcher.part.autosave import RecoveryFolder, key_of_file
from sketcher.part.value import Part

REST = 2.0
"""Seconds without an edit after which a recovery copy is written."""


class Keeper(QObject):
    """Writes a recovery copy after each edit, a moment later, and at least every so often.

    Parameters
    ----------
    board : Board
        Whose part is kept.
    folder : Path
        Where recovery copies live.
    parent : QObject
        Owner.

    Signals
    -------
    failed(str)
        A copy could not be written.
    """

    failed = Signal(str)

    def __init__(self, board: Board, folder: Path, parent: QObject) -> None:
        super().__init__(parent)
        self.board = board
        self.copies = RecoveryFolder(folder)
        self.key: str | None = None
        self._kept: Part | None = None
        self._last = 0.0
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self.keep)

    @Slot(object)
    def hear(self, change: Change) -> None:
        """Plan a copy when the part changed; a saved or loaded one needs none."""
        if self._tries:
            return
        if change.reason in ("saved", "load") and not self.board.bench.is_changed:
            self.forget()
        elif change.reason in ("edit", "undo", "redo", "load"):
            if not self.board.bench.is_changed:
                self.forget()
                return
            most = float(self.board.bench.settings["autosave_seconds"])
            due = max(0.0, self._last + most - time.monotonic()) if self._last else REST
            self._timer.start(int(1000 * min(REST, max(due, 0.05))))

    @Slot(object)
    def before(self, job: Job[object]) -> None:
        """Have the last edit in the copy before long work begins, one that is not done yet too."""
        if self._tries:
            return
        if job.keeps is not None:
            self._write(job.keeps)
            self._timer.start(int(1000 * REST))  # what comes of it is kept in its place
        elif self.board.bench.is_changed and self._kept is not self.board.part:
            self._write(self.board.part)

    @Slot()
    def keep(self) -> None:
        """Write the copy now, where there is anything to lose.

        `key` then names it, or is None where nothing is kept.
        """
        self._timer.stop()
        if self._tries:
            return
        if self.board.bench.worker.waits_for:  # what is waited for is in the copy
            self._timer.start(int(1000 * REST))
        elif self.board.bench.is_changed:
            self._write(self.board.part)
        else:
            self.forget()

    @property
    def _tries(self) -> bool:
        """Whether what lies on the bench is only tried out: the copy is of the part put aside."""
        return self.board.bench.give_back is not None

    def _write(self, part: Part) -> None:
        path = self.board.bench.path
        key = self.copies.key(path, f"{id(self.board)}")
        try:
            self.copies.keep(key, part, path, self.board.bench.digest)
        except SketcherError as error:
            self.failed.emit(f"No recovery copy could be written. {error}")
            return
        if self.key is not None and self.key != key:
            self.copies.discard(self.key)
        self.key, self._kept = key, part
        self._last = time.monotonic()

    def forget(self) -> None:
        """Remove the copy: the work is in its file, or given up on purpose."""
        self._timer.stop()
        self._last = 0.0
        if self.key is not None:
            self.copies.discard(self.key)
            self.key = self._kept = None


class Claim:
    """Holds a lock beside the recovery copies while a file is open in this window."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._lock: QLockFile | None = None
        self.path: Path | None = None

    def take(self, path: Path | None) -> str:
        """Claim a file; return who has it already, or an empty text."""
        real = Path(os.path.realpath(path)) if path is not None else None
        if real == self.path:
            return ""
        self.leave()
        if real is None:
            return ""
        self.path = real
        self.folder.mkdir(parents=True, exist_ok=True)
        lock = QLockFile(str(self.folder / f"{key_of_file(real)}.lock"))
        lock.setStaleLockTime(0)
        if lock.tryLock(50):
            self._lock = lock
            return ""
        # getLockInfo() returns pid, host and application; its form differs between releases.
        return "This file is open in another window too; whoever saves last is asked first."

    def leave(self) -> None:
        """Give the file free."""
        if self._lock is not None:
            self._lock.unlock()
        self._lock = None
        self.path = None
