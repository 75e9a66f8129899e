"""A worker for tests of the board that does what is started only when it is told to."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sketcher.board.job import Job
from sketcher.desk.process import packed, unpacked

Done = Callable[[Any], None]
Failed = Callable[[BaseException], None]


class Later:
    """Keeps what is started; what is waited for is done, and comes back as from another process."""

    waits_for = ""

    def __init__(self) -> None:
        self.started: list[tuple[Job[Any], Done, Failed | None]] = []
        self.waited: list[Job[Any]] = []

    def finish(self, job: Job[Any]) -> Any:
        self.waited.append(job)
        return unpacked(packed(job.run()))

    def start(self, job: Job[Any], done: Done, failed: Failed | None = None) -> None:
        self.started.append((job, done, failed))

    def work(self) -> None:
        """Do all that was started."""
        started, self.started = self.started, []
        for job, done, _ in started:
            done(job.run())

    def fail(self, error: BaseException) -> None:
        """Let what was started last come to nothing."""
        *self.started, (_, _, failed) = self.started
        assert failed is not None
        failed(error)
