"""Pipes to the other process: jobs are sent and answers taken by threads, which block in its place.

Nothing here computes, so the threads cost the window nothing.
"""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
import threading
from pathlib import Path
from queue import SimpleQueue
from typing import Any, BinaryIO

from PySide6.QtCore import QObject, Signal

import sketcher
from sketcher.desk.process import packed, receive, send, unpacked


class Errands(QObject):
    """One run of the other process, from its first job until it is ended.

    Signals
    -------
    answered(object, object)
        This, and an answer as bytes; None in its place when the process has gone.
    """

    answered = Signal(object, object)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        home = str(Path(sketcher.__file__).resolve().parents[1])
        path = os.pathsep.join(filter(None, (home, os.environ.get("PYTHONPATH"))))
        self._process = subprocess.Popen(
            # -P: what lies in the folder that the window was started from is none of its modules
            [sys.executable, "-P", "-m", "sketcher.desk.process"],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            env={**os.environ, "PYTHONPATH": path},
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
        )
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._outbox: SimpleQueue[bytes | None] = SimpleQueue()
        self._threads = [
            threading.Thread(target=self._send_all, args=(self._process.stdin,), daemon=True),
            threading.Thread(target=self._receive_all, args=(self._process.stdout,), daemon=True),
        ]
        for thread in self._threads:
            thread.start()

    @property
    def pid(self) -> int:
        """Number of the process."""
        return self._process.pid

    def send(self, order: object) -> None:
        """Send an order, plain values; what is sent first is read first."""
        self._outbox.put(packed(order))

    def read(self, answer: bytes) -> Any:
        """Return what an answer says."""
        return unpacked(answer)

    def end(self) -> None:
        """End the process, whatever it is doing, and wait until all is tidied up."""
        self._process.kill()
        self._outbox.put(None)
        for thread in self._threads:
            thread.join()
        self._process.wait()

    def _send_all(self, pipe: BinaryIO) -> None:
        with contextlib.suppress(OSError), pipe:  # it may have ended
            while (data := self._outbox.get()) is not None:
                send(pipe, data)

    def _receive_all(self, pipe: BinaryIO) -> None:
        answer: Any = b""
        with pipe:
            while answer is not None:
                answer = receive(pipe)
                with contextlib.suppress(RuntimeError):  # the window closes at this very moment
                    self.answered.emit(self, answer)
