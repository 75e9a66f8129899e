"""Who does the board's jobs: small ones where they stand, long ones in another process.

Whoever waits for a job waits in a loop of events: the window paints, pans and zooms, and the job
can be stopped; what would change the part is refused until it is done (see `gate`).

So a tool stays a straight line of calls. The last edit, the one that is waited for too, is in the
recovery copy before anything is handed over.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from time import monotonic
from typing import TYPE_CHECKING, Any, TypeVar

from PySide6.QtCore import QEventLoop, QObject, QTimer, Signal, Slot

from sketcher.board.job import Job, NotNow, OnTheWay
from sketcher.desk.gate import Gate
from sketcher.errors import SketcherError
from sketcher.interrupt import Stopped, within

if TYPE_CHECKING:
    from sketcher.desk.errands import Errands

T = TypeVar("T")

PATIENCE = 100
"""Milliseconds that keys and presses wait their turn before they are refused."""
GRACE = 1000
"""Milliseconds in which a job that is not wanted can end by itself; then its process is ended."""


@dataclass(slots=True, eq=False)
class Ticket:
    """A job that was handed over: who hears of it, since when, how much is done, what came of it.

    `share` stays 0 where nobody knows how much there is to do; `heard` has what else is said.
    """

    number: int
    job: Job[Any]
    waited: bool
    done: Callable[[Any], None] | None = None
    failed: Callable[[BaseException], None] | None = None
    since: float = 0.0
    share: float = 0.0
    settled: bool = False
    made: Any = None
    error: BaseException | None = None
    heard: Callable[[Any], None] | None = None


class ProcessWorker(QObject):
    """Does the jobs of one window.

    Signals
    -------
    handing(object)
        A `Job` that is about to be handed over.
    changed()
        Another job is being done, or none.
    waiting(bool)
        Somebody begins to wait for a job, or waits no longer.
    refused()
        Something was pressed or typed that has to wait.
    """

    handing = Signal(object)
    changed = Signal()
    waiting = Signal(bool)
    refused = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._errands: Errands | None = None
        self._queue: list[Ticket] = []
        self._doing: Ticket | None = None
        self._stopping = False  # what is being done there is not wanted any more
        self._count = 0
        self._standing = 0
        self._loops: list[tuple[Ticket, QEventLoop]] = []
        self._gate = Gate(self)
        self._gate.refused.connect(self.refused)
        self._gate.stopped.connect(self.cancel)
        self._grace = QTimer(self)
        self._grace.setSingleShot(True)
        self._grace.setInterval(GRACE)
        self._grace.timeout.connect(self._end_process)
        self._sending = QTimer(self)
        self._sending.setSingleShot(True)
        self._sending.timeout.connect(self._send)

    # What the board asks.

    @property
    def waits_for(self) -> str:
        """Name of the job that somebody waits for; empty when nobody does."""
        return self._loops[-1][0].job.name if self._loops else ""

    @property
    def current(self) -> Ticket | None:
        """What is shown as going on: the job that is waited for, else the one being done."""
        if self._loops:
            return self._loops[-1][0]
        return None if self._stopping else self._doing

    def finish(self, job: Job[T]) -> T:
        """Return what a job makes: at once when it is quick, else the window goes on meanwhile.

        Raises
        ------
        Stopped
            When it was stopped; `NotNow` where nobody may wait for it.
        """
        if job.quick > 0.0:
            try:
                with within(job.quick):
                    return job.function(*job.given)
            except Stopped:
                pass
        if self._standing:
            raise NotNow
        ticket = self._joined(job) or self._hand_over(job, waited=True)
        self._wait(ticket)
        if ticket.error is not None:
            raise ticket.error
        made: T = ticket.made
        return made

    def start(
        self, job: Job[T], done: Callable[[T], None],
        failed: Callable[[BaseException], None] | None = None,
        heard: Callable[[Any], None] | None = None,
    ) -> None:
        """Begin a job and go on; a quick one is done when this returns."""
        self.forget(job.function)
        if job.quick > 0.0:
            try:
                with within(job.quick):
                    made = job.run()
            except Stopped:
                pass
            except Exception as error:  # noqa: BLE001 - whoever asked tells it
                self._fail(failed, error)
                return
            else:
                done(made)
                return
        self._hand_over(job, waited=False, done=done, failed=failed, heard=heard)

    def forget(self, function: Callable[..., Any]) -> None:
        """Drop what was started of a function: nobody wants to hear of it any more."""
        self._queue = [t for t in self._queue if t.waited or t.job.function is not function]
        doing = self._doing
        if doing is not None and not doing.waited and doing.job.function is function \
                and not self._stopping:
            doing.settled = True
            self._stop_doing()
            self.changed.emit()

    @contextmanager
    def standing(self) -> Iterator[None]:
        """Let `finish` do what is quick, and never wait."""
        self._standing += 1
        try:
            yield
        finally:
            self._standing -= 1

    @Slot()
    def cancel(self) -> None:
        """Stop what is going on."""
        ticket = self.current
        if ticket is not None:
            self._take_back(ticket)

    def close(self) -> None:
        """Stop everything and end the process; only who waits hears of it."""
        for ticket, _ in self._loops:
            self._settle(ticket, None, Stopped())
        self._queue.clear()
        self._doing = None
        self._end_process()

    # Handing over.

    def _hand_over(
        self, job: Job[Any], waited: bool, done: Callable[[Any], None] | None = None,
        failed: Callable[[BaseException], None] | None = None,
        heard: Callable[[Any], None] | None = None,
    ) -> Ticket:
        self.handing.emit(job)
        self._count += 1
        ticket = Ticket(self._count, job, waited, done, failed, monotonic(), heard=heard)
        if waited:
            self._queue.insert(0, ticket)
            self._make_room()
        else:
            self._queue.append(ticket)
        self._next()
        return ticket

    def _joined(self, job: Job[Any]) -> Ticket | None:
        """Return the ticket of the same job where it is handed over already."""
        under_way = () if self._doing is None or self._stopping else (self._doing,)
        return next((t for t in (*under_way, *self._queue) if t.job.is_as(job)), None)

    def _make_room(self) -> None:
        """Put off what nobody waits for."""
        doing = self._doing
        if doing is not None and not doing.waited and not self._stopping:
            self._queue.append(Ticket(doing.number, doing.job, False, doing.done, doing.failed,
                                      doing.since, heard=doing.heard))
            doing.settled = True
            self._stop_doing()

    def _next(self) -> None:
        if self._doing is None and self._queue:
            if self._errands is None:
                from sketcher.desk.errands import Errands

                self._errands = Errands(self)
                self._errands.answered.connect(self._answer)
            self._doing = self._queue.pop(0)
            self._stopping = False
            if self._doing.waited:
                self._send()
            else:  # in an event of its own: a large part takes 50 ms to be packed
                self._sending.start()
        self.changed.emit()

    @Slot()
    def _send(self) -> None:
        ticket = self._doing
        assert ticket is not None
        assert self._errands is not None
        try:
            self._errands.send((ticket.number, ticket.job.function, ticket.job.given))
        except Exception as error:  # noqa: BLE001 - what is no plain value is told, not lost
            self._doing = None
            self._settle(ticket, None, error)
            self._next()

    # Waiting.

    def _wait(self, ticket: Ticket) -> None:
        """Let the window go on until a ticket is settled.

        For a moment what is typed and pressed stays where the system keeps it, so that nothing is
        lost to a job that is soon done.
        """
        loop = QEventLoop()
        self._loops.append((ticket, loop))
        self._gate.shut(loop)
        self.waiting.emit(True)
        self.changed.emit()
        try:
            if not ticket.settled:
                timer = QTimer(loop)
                timer.setSingleShot(True)
                timer.timeout.connect(loop.quit)
                timer.start(PATIENCE)
                loop.exec(QEventLoop.ProcessEventsFlag.ExcludeUserInputEvents)
                timer.stop()
            if not ticket.settled:
                loop.exec()
            if not ticket.settled:  # the program ends
                self._take_back(ticket)
        finally:
            self._loops.remove((ticket, loop))
            self._gate.open(loop)
            if not self._loops:
                self.waiting.emit(False)
            self.changed.emit()

    # What comes back.

    @Slot(object, object)
    def _answer(self, errands: Errands, data: bytes | None) -> None:
        if errands is not self._errands:
            return
        ticket, stopping = self._doing, self._stopping
        if data is None:
            self._end_process()
            if ticket is not None and not stopping:
                self._settle(ticket, None, SketcherError(
                    ticket.job.name, "the process that did it has ended", "try it again"))
            return
        number, *answer = errands.read(data)
        if ticket is None or number != ticket.number:
            return
        if len(answer) == 1:  # not done yet
            self._on_the_way(ticket, answer[0])
            return
        made, error = answer
        self._grace.stop()
        self._doing, self._stopping = None, False
        self._next()
        self._settle(ticket, made, error)

    def _on_the_way(self, ticket: Ticket, said: OnTheWay) -> None:
        if said.share is not None:
            ticket.share = said.share
        elif ticket.heard is not None and not ticket.settled:
            ticket.heard(said.news)

    def _settle(self, ticket: Ticket, made: Any, error: BaseException | None) -> None:
        if ticket.settled:
            return
        ticket.settled, ticket.made, ticket.error = True, made, error
        for waiting, loop in self._loops:
            if waiting is ticket:
                loop.quit()
        try:
            if error is not None and (ticket.done is not None or ticket.failed is not None):
                self._fail(ticket.failed, error)
            elif ticket.done is not None:
                ticket.done(made)
        except Exception:  # noqa: BLE001 - nothing may leave a slot
            sys.excepthook(*sys.exc_info())

    def _fail(self, failed: Callable[[BaseException], None] | None, error: BaseException) -> None:
        if failed is not None:
            failed(error)
        elif not isinstance(error, Stopped):
            sys.excepthook(type(error), error, error.__traceback__)

    # Stopping.

    def _take_back(self, ticket: Ticket) -> None:
        if ticket in self._queue:
            self._queue.remove(ticket)
        elif ticket is self._doing:
            self._stop_doing()
        self._settle(ticket, None, Stopped())
        self.changed.emit()

    def _stop_doing(self) -> None:
        assert self._doing is not None
        if self._sending.isActive():
            self._sending.stop()
            self._doing = None
            self._next()
            return
        assert self._errands is not None
        self._stopping = True
        self._errands.send((self._doing.number,))
        self._grace.start()

    @Slot()
    def _end_process(self) -> None:
        self._grace.stop()
        self._sending.stop()
        errands, self._errands = self._errands, None
        self._doing, self._stopping = None, False
        if errands is not None:
            errands.end()
            errands.deleteLater()
        self._next()
