"""Long work beside the window: done elsewhere, shown, stopped, dropped when it is out of date."""

from __future__ import annotations

import operator
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, nullcontext
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt, QTimer
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from sketcher.board.job import Job
from sketcher.board.toolkit.trial import Trial
from sketcher.desk.panes import advice_watch
from sketcher.desk.panes.cutting_section import PENDING
from sketcher.desk.panes.inspection_pane import CUTTING
from sketcher.desk.work_bar import SOON, WorkBar
from sketcher.desk.worker import ProcessWorker
from sketcher.drafting.sheet import pages
from sketcher.errors import QuantityError, SketcherError
from sketcher.inspect.advice_rows import advice_rows
from sketcher.interrupt import Stopped
from sketcher.part.autosave import RecoveryFolder
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.store import load
from sketcher.part.value import Part
from sketcher.quantity.parse import evaluate
from tests.gui.driver import LEFT, NONE, Driver, wait_until
from tests.gui.slow_work import busy, deaf, endless_solver, halves, slow_solver, talking

LONG = 60_000  # milliseconds that a loaded machine may take


@pytest.fixture
def worker(qapp: QApplication, leaks: None) -> Iterator[ProcessWorker]:
    made = ProcessWorker(qapp)
    yield made
    made.close()
    made.deleteLater()


def elsewhere(function: Callable[..., Any], *given: Any) -> Job[Any]:
    return Job(function.__name__, function, given, quick=0.0)


def with_tail(part: Part) -> Edited:
    """A short line drawn from a corner of the outline into nowhere."""
    draft = Draft(part)
    name = next(name for name, curve in part.curves.items() if curve.role == "outline")
    x, y = part.points[part.curves[name].points[0]]
    draft.line(draft.point((x, y)), draft.point((x - 3.0, y - 2.0)))
    return Edited(draft.done(), "a tail")


def meanwhile(act: Callable[[], None], ready: Callable[[], bool] = lambda: True) -> None:
    """Do something from the loop of events as soon as it can be done."""

    def look() -> None:
        if ready():
            act()
        else:
            QTimer.singleShot(10, look)

    QTimer.singleShot(0, look)


# The worker by itself.


def test_quick_work_is_done_where_it_stands(worker: ProcessWorker) -> None:
    made: list[int] = []
    worker.start(Job("Adding", operator.add, (1, 2)), made.append)
    assert made == [3]
    assert worker.finish(Job("Process", os.getpid)) == os.getpid()
    assert worker.current is None


def test_long_work_is_done_in_another_process(worker: ProcessWorker, qtbot: Any) -> None:
    there = worker.finish(elsewhere(os.getpid))
    assert there != os.getpid()
    made: list[int] = []
    worker.start(elsewhere(os.getpid), made.append)
    assert made == []
    qtbot.waitUntil(lambda: made == [there], timeout=LONG)  # the same process, kept


def test_work_that_overruns_in_place_is_handed_over(worker: ProcessWorker) -> None:
    handed: list[Job[Any]] = []
    worker.handing.connect(handed.append)
    job = Job("Busy", busy, (0.2,))
    assert worker.finish(job) is None
    assert handed == [job]


def test_errors_come_back_as_they_were_raised(worker: ProcessWorker) -> None:
    with pytest.raises(QuantityError) as here:
        evaluate("1+", "length", "mm", {})
    with pytest.raises(QuantityError) as there:
        worker.finish(elsewhere(evaluate, "1+", "length", "mm", {}))
    assert str(there.value) == str(here.value)
    failed: list[BaseException] = []
    worker.start(Job("Dividing", divmod, (1, 0)), print, failed.append)
    assert isinstance(failed[0], ZeroDivisionError)


def test_what_is_no_plain_value_is_refused_and_the_next_job_is_done(worker: ProcessWorker) -> None:
    with pytest.raises((AttributeError, TypeError)):
        worker.finish(elsewhere(operator.is_, lambda: 0, 0))
    assert worker.finish(elsewhere(operator.add, 1, 2)) == 3


def test_a_process_that_dies_is_told_and_replaced(worker: ProcessWorker) -> None:
    there = worker.finish(elsewhere(os.getpid))
    meanwhile(lambda: os.kill(there, signal.SIGKILL), lambda: bool(worker.waits_for))
    with pytest.raises(SketcherError):
        worker.finish(elsewhere(deaf, 60.0))
    assert worker.finish(elsewhere(os.getpid)) not in (there, os.getpid())


@pytest.mark.parametrize("job", [elsewhere(busy, 1e9), elsewhere(deaf, 600.0)],
                         ids=["asks", "asks nobody"])
def test_work_is_stopped_and_the_next_is_done(worker: ProcessWorker, job: Job[Any]) -> None:
    there = worker.finish(elsewhere(os.getpid))
    meanwhile(worker.cancel, lambda: bool(worker.waits_for))
    with pytest.raises(Stopped):
        worker.finish(job)
    assert worker.waits_for == ""
    again = worker.finish(elsewhere(os.getpid))
    # What asks whether it is wanted leaves the process alive; what does not is ended with it.
    assert (again == there) == (job.function is busy)


def test_how_much_is_done_is_shown_where_it_is_known(worker: ProcessWorker, qtbot: Any) -> None:
    home = QWidget()
    qtbot.addWidget(home)
    bar = WorkBar(worker, home)
    worker.start(elsewhere(halves, 0.3), print, lambda _: None)
    assert bar.motion.maximum() == 0
    qtbot.waitUntil(lambda: bar.motion.maximum() == 100, timeout=LONG)
    assert worker.current is not None
    assert worker.current.share == 0.5
    assert bar.motion.value() == 50
    worker.cancel()
    worker.start(elsewhere(busy, 1e9), print, lambda _: None)
    qtbot.waitUntil(lambda: bar.motion.maximum() == 0, timeout=LONG)


def test_what_is_said_on_the_way_is_heard_in_its_order(worker: ProcessWorker, qtbot: Any) -> None:
    heard: list[object] = []
    words = ("one", "two", "three")
    worker.start(elsewhere(talking, words), heard.append, heard=heard.append)
    qtbot.waitUntil(lambda: 3 in heard, timeout=LONG)
    assert heard == [*words, 3]


def test_nothing_waits_inside_a_painting(driver: Driver) -> None:
    """A preview that asks the solver while it is painted: to wait would let events in."""
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(5)
    driver.board.bench.do("A tail", lambda part: with_tail(part))
    driver.board.use("clean up")
    tool = driver.board.tool
    assert tool.defects
    driver.board.bench.solving.solver = slow_solver
    handed: list[Job[Any]] = []
    # A slow machine may lay out dimensions meanwhile: that is no solve.
    driver.window.worker.handing.connect(
        lambda job: handed.append(job) if job.name == "Solving" else None)
    tool._trial = Trial(driver.board.bench)
    driver.window.view.grab()
    assert tool._trial._kept is None  # it takes too long for a painting
    assert handed == []
    # Asked for in an event it is done beside the window, and can be stopped.
    tool._trial = Trial(driver.board.bench)
    driver.board.bench.solving.solver = endless_solver
    meanwhile(driver.window.worker.cancel, lambda: bool(driver.window.worker.waits_for))
    assert tool.trouble()
    assert len(handed) == 1
    before = driver.board.part
    driver.board.bench.solving.solver = slow_solver
    assert tool.mend()
    assert driver.board.part is not before


def test_newer_work_takes_the_place_of_older(worker: ProcessWorker, qtbot: Any) -> None:
    heard: list[str] = []
    worker.start(elsewhere(busy, 1e9), lambda _: heard.append("old"),
                 lambda error: heard.append("failed"))
    worker.start(elsewhere(busy, 0.0), lambda _: heard.append("new"))
    qtbot.waitUntil(lambda: bool(heard), timeout=LONG)
    QTest.qWait(50)
    assert heard == ["new"]


def test_what_is_waited_for_goes_first_and_the_rest_is_done_after(
    worker: ProcessWorker, qtbot: Any
) -> None:
    order: list[str] = []
    worker.start(elsewhere(busy, 0.1), lambda _: order.append("put off"))
    assert worker.finish(elsewhere(operator.add, 1, 2)) == 3
    order.append("waited for")
    qtbot.waitUntil(lambda: len(order) == 2, timeout=LONG)
    assert order == ["waited for", "put off"]


def test_waiting_for_what_was_started_does_it_once(worker: ProcessWorker, qtbot: Any) -> None:
    made: list[int] = []
    job = elsewhere(os.getpid)
    handed: list[Job[Any]] = []
    worker.handing.connect(handed.append)
    worker.start(job, made.append)
    assert worker.finish(job) == made[0]
    assert handed == [job]


def test_nothing_is_left_when_it_closes(qapp: QApplication, leaks: None) -> None:
    threads = set(threading.enumerate())
    worker = ProcessWorker(qapp)
    there = worker.finish(elsewhere(os.getpid))
    failed: list[BaseException] = []
    worker.start(elsewhere(deaf, 600.0), print, failed.append)
    worker.close()
    worker.deleteLater()
    assert failed == []  # whoever started it closes as well
    assert set(threading.enumerate()) == threads
    with pytest.raises(ProcessLookupError):
        os.kill(there, 0)


def test_work_is_shown_when_it_goes_on_and_not_before(worker: ProcessWorker, qtbot: Any) -> None:
    home = QWidget()
    bar = WorkBar(worker, home)
    home.show()
    worker.finish(elsewhere(os.getpid))  # the process is there
    shown: list[bool] = []
    worker.start(elsewhere(busy, 1e9), print)
    shown.append(bar.isVisible())
    qtbot.waitUntil(bar.isVisible, timeout=LONG)
    assert "busy" in bar.name.text()
    # a coarse timer of Qt may be 5 % early
    assert time.monotonic() - worker.current.since >= 0.9 * SOON / 1000  # type: ignore[union-attr]
    QTest.mouseClick(bar.stop, LEFT)
    shown.append(bar.isVisible())
    assert shown == [False, False]
    home.close()
    home.deleteLater()


# The window.


def rectangle(driver: Driver) -> None:
    driver.new()
    driver.tool("rectangle")
    driver.click(0, 0)
    driver.click(40, 20)
    driver.settle(5)


def drop_first(part: Part) -> Part:
    draft = Draft(part)
    draft.remove(next(iter(part.bindings)))
    return draft.done()


def test_an_edit_is_waited_for(driver: Driver) -> None:
    rectangle(driver)
    driver.board.bench.solving.solver = slow_solver
    before = driver.board.part
    assert driver.board.bench.do("Drop it", drop_first)
    after = driver.board.part
    assert len(after.bindings) == len(before.bindings) - 1
    # What has not changed is the very same object, though it went there and came back.
    assert after.curves is before.curves
    assert driver.board.bench.undo()
    assert driver.board.part is before


def test_an_edit_is_stopped_and_taken_back(driver: Driver) -> None:
    rectangle(driver)
    driver.board.bench.solving.solver = endless_solver
    before, steps = driver.board.part, len(driver.board.bench.history.steps)
    meanwhile(lambda: QTest.keyClick(driver.view, Qt.Key.Key_Escape),
              lambda: bool(driver.window.worker.waits_for))
    outcome = driver.board.bench.do("Drop it", drop_first)
    assert not outcome
    assert outcome.error is not None
    assert driver.board.part is before
    assert len(driver.board.bench.history.steps) == steps
    meanwhile(driver.window.worker.cancel, lambda: bool(driver.window.worker.waits_for))
    assert not driver.board.bench.undo()
    assert driver.board.part is before
    assert driver.board.bench.history.part is before
    assert driver.window.prompt.text() == driver.board.prompt


def test_while_it_waits_the_sheet_is_looked_at_and_nothing_changes(driver: Driver) -> None:
    rectangle(driver)
    board, view, port = driver.board, driver.view, driver.view.viewport()
    board.bench.solving.solver = endless_solver
    before, tool = board.part, board.tool
    seen: dict[str, object] = {}

    def try_all() -> None:
        camera = view.sheet.camera
        QApplication.sendEvent(port, QWheelEvent(
            QPointF(200, 200), QPointF(200, 200), QPoint(), QPoint(0, 120),
            Qt.MouseButton.NoButton, NONE, Qt.ScrollPhase.NoScrollPhase, False))
        seen["zoomed"] = view.sheet.camera.scale > camera.scale
        camera = view.sheet.camera
        QTest.mousePress(port, Qt.MouseButton.MiddleButton, NONE, QPoint(200, 200))
        QTest.mouseMove(port, QPoint(260, 240))
        QTest.mouseRelease(port, Qt.MouseButton.MiddleButton, NONE, QPoint(260, 240))
        seen["panned"] = view.sheet.camera.center != camera.center
        prompt = driver.window.prompt.text()
        QTest.mouseClick(port, LEFT, NONE, QPoint(300, 300))
        seen["refused"] = driver.window.prompt.text() != prompt
        QTest.keyClick(view, "c")
        QTest.keyClick(view, "5")
        QTest.keyClick(driver.window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        QTest.mouseClick(driver.window.ledger.table.viewport(), LEFT, NONE, QPoint(20, 10))
        seen["tool"], seen["typing"] = board.tool, board.typing.is_open
        seen["edit"] = bool(board.bench.do("Other", drop_first))
        seen["undo"] = board.bench.undo()
        seen["selected"] = board.bench.selection.ids
        QTest.mouseClick(driver.window.waiting.bar.stop, LEFT)

    meanwhile(try_all, lambda: driver.window.waiting.bar.isVisible())
    selected = board.bench.selection.ids
    assert not board.bench.do("Drop it", drop_first)
    assert seen == {"zoomed": True, "panned": True, "refused": True, "tool": tool,
                    "typing": False, "edit": False, "undo": False, "selected": selected}
    assert board.part is before
    board.bench.solving.solver = slow_solver
    assert board.bench.undo()  # and now all is open again


def test_the_window_closes_while_it_waits(driver: Driver) -> None:
    rectangle(driver)
    driver.board.bench.solving.solver = endless_solver
    meanwhile(driver.window.close, lambda: bool(driver.window.worker.waits_for))
    assert not driver.board.bench.do("Drop it", drop_first)
    driver.settle(20)
    assert not driver.window.isVisible()


class Later:
    """A worker that does nothing before it is told to."""

    waits_for = ""

    def __init__(self) -> None:
        self.started: list[tuple[Job[Any], Callable[[Any], None], Any]] = []

    def finish(self, job: Job[Any]) -> Any:
        return job.run()

    def start(self, job: Job[Any], done: Callable[[Any], None], failed: Any = None) -> None:
        self.started.append((job, done, failed))

    def forget(self, function: Callable[..., Any]) -> None:
        pass

    def standing(self) -> AbstractContextManager[None]:
        return nullcontext()

    def of(self, name: str) -> list[tuple[Job[Any], Callable[[Any], None], Any]]:
        return [each for each in self.started if each[0].name == name]


def test_an_inspection_that_is_out_of_date_is_dropped(driver: Driver) -> None:
    driver.window.filing.open_demo("pump-flange.profile.json")
    driver.settle(5)
    pane, later = driver.window.inspection, Later()
    driver.board.bench.worker = later
    driver.board.bench.do("Drop it", drop_first)
    driver.settle(5)
    old, done, _ = later.of("Inspection")[-1]
    driver.board.bench.do("Drop another", drop_first)
    driver.settle(5)
    done(old.run())
    assert driver.board.bench.derived.known_inspection() is None
    assert "finding" not in pane.verdict.text()
    new, done, _ = later.of("Inspection")[-1]
    done(new.run())
    assert driver.board.bench.derived.known_inspection().part is driver.board.part
    rows, done, _ = later.of("Inspection")[-1]  # then its rows are made, beside the window too
    assert rows is not new
    done(rows.run())
    assert "finding" in pane.verdict.text()
    driver.board.bench.do("Drop it", drop_first)
    driver.settle(5)
    later.of("Inspection")[-1][2](Stopped())
    assert pane.verdict.text() == "Not inspected"
    count = len(later.of("Inspection"))
    pane.box.setCurrentIndex(2)  # whoever looks wants to know after all
    assert len(later.of("Inspection")) == count + 1


def test_advice_that_was_stopped_is_asked_for_again(driver: Driver) -> None:
    pane, later = driver.window.inspection, Later()
    driver.board.bench.worker = later  # from the first on: at rest it is asked for unseen
    driver.window.filing.open_demo("pump-flange.profile.json")
    wait_until(lambda: later.of("Inspection"))
    for _ in ("measured", "and its rows"):
        job, done, _ = later.of("Inspection")[-1]
        done(job.run())
    pane.box.setCurrentIndex(CUTTING)
    wait_until(lambda: later.of("Advice for cutters"))
    job, done, failed = later.of("Advice for cutters")[-1]
    failed(Stopped())
    assert pane.tables["cutting"].rows.rowCount() == 0
    assert "not worked out" in pane.tabs.words(CUTTING)
    pane.box.setCurrentIndex(0)
    pane.box.setCurrentIndex(CUTTING)
    driver.settle(5)
    job, done, _ = later.of("Advice for cutters")[-1]
    done(job.run())
    inspection = driver.board.bench.derived.inspection()
    assert pane.tables["cutting"].rows.rowCount() == len(inspection.remarks) + len(
        advice_rows(inspection.cutting)) > 0


def test_advice_comes_at_rest_and_never_of_a_part_that_was(
    driver: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    driver.window.filing.open_demo("pump-flange.profile.json")
    pane, later = driver.window.inspection, Later()
    wait_until(lambda: pane.tables["cutting"].rows.rowCount() > 0)  # nobody asked for it
    words = pane.tabs.words(CUTTING)
    driver.board.bench.worker = later
    driver.board.bench.do("Drop it", drop_first)
    driver.settle(5)
    for _ in range(2):  # the inspection, then its rows
        job, done, _ = later.of("Inspection")[-1]
        done(job.run())
    assert pane.tabs.words(CUTTING) == f"{words} {PENDING}"  # the old count, in grey
    assert pane.tabs.tone(CUTTING) == "faint"
    assert not later.of("Advice for cutters")  # another edit may come at once
    wait_until(lambda: bool(later.of("Advice for cutters")))
    job, done, _ = later.of("Advice for cutters")[-1]
    driver.board.bench.do("Drop another", drop_first)
    driver.settle(5)
    done(job.run())
    assert pane.tabs.words(CUTTING).endswith(PENDING)

    monkeypatch.setattr(advice_watch, "MOST", 5)  # a part so large that it waits to be asked
    count = len(later.of("Advice for cutters"))
    for _ in range(2):
        job, done, _ = later.of("Inspection")[-1]
        done(job.run())
    driver.settle(2 * advice_watch.REST)
    assert "not checked yet" in pane.tabs.words(CUTTING)
    assert len(later.of("Advice for cutters")) == count
    pane.box.setCurrentIndex(CUTTING)
    driver.settle(5)
    assert len(later.of("Advice for cutters")) == count + 1


# The recovery copy.


def copies(driver: Driver) -> list[Part]:
    return [each.part() for each in RecoveryFolder(driver.window.folder / "recovery").all()]


def test_the_last_edit_is_in_the_copy_before_work_begins(driver: Driver) -> None:
    rectangle(driver)
    kept: list[list[Part]] = []
    driver.window.worker.handing.connect(lambda job: kept.append(copies(driver)))
    driver.window.worker.finish(elsewhere(operator.add, 1, 2))
    assert kept == [[driver.board.part]]
    # An edit that is waited for is in the copy as it was drawn; one taken back is not.
    driver.board.bench.solving.solver = endless_solver
    before, drawn = driver.board.part, drop_first(driver.board.part)
    meanwhile(driver.window.worker.cancel, lambda: bool(driver.window.worker.waits_for))
    assert not driver.board.bench.do("Drop it", lambda part: drawn)
    assert kept[-1] == [drawn]
    driver.window.keeper.keep()
    assert copies(driver) == [before]


def test_an_edit_taken_back_on_a_saved_part_leaves_no_copy(driver: Driver, tmp_path: Path) -> None:
    rectangle(driver)
    driver.answers.path = tmp_path / "plate.profile.json"
    driver.act("file.save")
    driver.board.bench.solving.solver = endless_solver
    meanwhile(driver.window.worker.cancel, lambda: bool(driver.window.worker.waits_for))
    assert not driver.board.bench.do("Drop it", drop_first)
    driver.window.keeper.keep()
    assert copies(driver) == []


KILLED = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from sketcher.board.settings import Settings
from sketcher.desk.theme import dress, load_font
from sketcher.desk.window import MainWindow
from tests.gui.slow_work import endless_solver
from tests.gui.test_long_work import drop_first

app = QApplication([])
window = MainWindow(Settings(), Path(sys.argv[1]), dress(app, "dye", load_font()))
window.show()
window.filing.open_demo("pump-flange.profile.json")
window.board.bench.solving.solver = endless_solver

def look():
    errands = window.worker._errands
    if errands is None:
        QTimer.singleShot(10, look)
    else:
        print(errands.pid, flush=True)

QTimer.singleShot(0, look)
window.board.bench.do("Drop it", drop_first)
"""


@pytest.mark.e2e
def test_a_kill_in_the_middle_of_work_loses_nothing_and_leaves_nobody(tmp_path: Path) -> None:
    child = subprocess.Popen(
        [sys.executable, "-c", KILLED, str(tmp_path)], stdout=subprocess.PIPE, text=True,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"}, cwd=Path(__file__).parents[2],
    )
    assert child.stdout is not None
    other = int(child.stdout.readline())
    child.send_signal(signal.SIGKILL)
    child.wait(10)
    child.stdout.close()
    demo = load(Path(__file__).parents[2] / "demo_parts" / "pump-flange.profile.json")
    kept = RecoveryFolder(tmp_path / "recovery").left_behind()
    assert [len(each.part().bindings) for each in kept] == [len(demo.bindings) - 1]
    end = time.monotonic() + LONG / 1000
    while Path(f"/proc/{other}").exists() and time.monotonic() < end:
        time.sleep(0.05)
    assert not Path(f"/proc/{other}").exists() or sys.platform != "linux"


# Sheets.


def test_a_sheet_is_drawn_beside_the_window(driver: Driver, qtbot: Any) -> None:
    from sketcher.desk.dialogs.drawing_desk import DrawingDesk

    driver.window.filing.open_demo("pump-flange.profile.json")
    desk = DrawingDesk(driver.board, driver.window.commands.run, driver.window)
    desk.show()
    assert desk.pages == ()
    qtbot.waitUntil(lambda: bool(desk.pages), timeout=LONG)
    assert desk.pages == pages(driver.board.part)
    desk.form.fields["practice"].setCurrentIndex(1)
    desk.redraw()
    driver.window.worker.cancel()
    assert desk.said.text()
    assert desk.pages == pages(driver.board.part)  # the last ones stay
    desk.redraw()
    qtbot.waitUntil(lambda: desk.pages[0].practice == "ASME", timeout=LONG)
    assert desk.said.text() == ""
    desk.redraw()
    desk.reject()  # while it draws: nobody hears of it any more
    desk.deleteLater()
