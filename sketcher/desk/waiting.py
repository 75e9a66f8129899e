"""What the window says and allows while somebody waits for a job."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Slot
from PySide6.QtWidgets import QLabel, QStatusBar

from sketcher.desk.scene.scene_view import SceneView
from sketcher.desk.work_bar import WorkBar
from sketcher.desk.worker import ProcessWorker


class Waiting(QObject):
    """Lets the sheet be panned and zoomed and nothing be changed; says so where the prompt stands.

    Parameters
    ----------
    worker : ProcessWorker
        Whose jobs are waited for.
    view : SceneView
    prompt : QLabel
    line : QStatusBar
        Shows what goes on.
    """

    def __init__(
        self, worker: ProcessWorker, view: SceneView, prompt: QLabel, line: QStatusBar
    ) -> None:
        super().__init__(line)
        self.bar = WorkBar(worker, line)
        line.addPermanentWidget(self.bar)
        self.worker, self.view, self.prompt = worker, view, prompt
        worker.waiting.connect(self._begin_or_end)
        worker.refused.connect(self._refuse)
        view.refused.connect(self._refuse)

    @Slot(bool)
    def _begin_or_end(self, waiting: bool) -> None:
        self.view.only_looks = waiting
        if waiting:
            self.prompt.setText(f"{self.worker.waits_for} goes on: pan and zoom as you like, "
                                "Esc stops it.")
        else:
            with self.worker.standing():  # a prompt that asks for more work would wait for ever
                self.prompt.setText(self.view.board.prompt)

    @Slot()
    def _refuse(self) -> None:
        self.prompt.setText(f"! {self.worker.waits_for} goes on: wait for it, or stop it with Esc.")

    def left(self, close: Callable[[], object]) -> bool:
        """Stop what is waited for and call `close` later; False when nothing is waited for.

        A window is closed from where nobody waits any more.
        """
        if not self.worker.waits_for:
            return False
        self.worker.cancel()
        QTimer.singleShot(0, self, close)
        return True
