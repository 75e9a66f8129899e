"""A cut before it leaves: settings at the left, what will be cut at the right, in order."""

from __future__ import annotations

import sys
from collections.abc import Collection
from dataclasses import replace
from functools import partial

from PySide6.QtCore import Qt, QTimer, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QComboBox,
    QDialogButtonBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.board import Board
from sketcher.board.files.cutting_advice import ToRead, advice_lines
from sketcher.board.files.cutting_form import (
    CutOrder,
    cut_fields,
    kept_kerf,
    read_cut,
    start_values,
)
from sketcher.board.files.cutting_run import CutRun
from sketcher.board.files.cutting_trial import CutTrial, tried_cut
from sketcher.board.files.cutting_words import lines_to_heed, material_words, plan_words
from sketcher.board.job import Job
from sketcher.board.window_port import STRONG, Take
from sketcher.desk.dialogs.cutting_fields import CuttingForm
from sketcher.desk.dialogs.cutting_player import CutPlayer
from sketcher.desk.dialogs.cutting_styles import CutLegend, kinds_in
from sketcher.desk.dialogs.cutting_view import CutView
from sketcher.desk.dialogs.roomy import RoomyDialog, go_or_stay, lines_to_read, scrolled
from sketcher.desk.looks import Look
from sketcher.desk.work_bar import work_row
from sketcher.errors import SketcherError
from sketcher.inspect.stock import PROCESSES, Process
from sketcher.interrupt import Stopped
from sketcher.shop.cut_plan import CutSettings

WAIT = 120
"""Milliseconds after the last change until the cut is planned anew."""


class CuttingDesk(RoomyDialog):
    """Shows what the settings make of the part; the part itself is not changed.

    Parameters
    ----------
    board : Board
    look : Look
    despite : collection of str
        Codes of the findings with which the part is cut all the same.
    take : callable
        Exports by what the form holds; says whether it did.
    parent : QWidget
    """

    def __init__(
        self, board: Board, look: Look, despite: Collection[str], take: Take, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.board, self.take, self.despite = board, take, frozenset(despite)
        self.inspection = board.bench.derived.inspection()
        self.order: CutOrder | None = None  # what the plan is, or will be, of
        self.trial: CutTrial | None = None
        self._tried: CutSettings | None = None  # what the trial is of
        self._misread: SketcherError | None = None
        self.advice: ToRead | None = None
        self._advised: tuple[Process, ...] = ()
        self.setWindowTitle("Export for cutting")
        settings = board.bench.settings
        stock = QLabel(material_words(board.part), self)
        stock.setWordWrap(True)
        stock.setAccessibleDescription("Plate")
        self.form = CuttingForm(cut_fields(board.part), start_values(board.part, settings), stock,
                                self)
        self.view = CutView(look, self)
        self.legend = CutLegend(look, self)
        self.player = CutPlayer(self)
        self.sums = QLabel(self)
        self.sums.setWordWrap(True)
        self.sums.setAccessibleDescription("How much there is to cut")
        self.lines = lines_to_read("Advice and cautions", (), self)
        self.lines.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.said = QLabel(self)
        self.said.setWordWrap(True)
        self.said.setAccessibleDescription("What was said last")
        self.said.hide()
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(WAIT)
        self._arrange()
        self._connect()
        self.resize(self.screen().availableGeometry().size() * 0.94)
        self.form.fields["process"].setFocus()
        self.plan()

    # Building.

    def _arrange(self) -> None:
        self.left = scrolled(self.form, "Settings of the cut", self)
        picture = QWidget(self)
        column = QVBoxLayout(picture)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.view, 1)
        for piece in (self.legend, self.player, self.sums):
            column.addWidget(piece)
        self.parts = QSplitter(Qt.Orientation.Vertical, self)
        self.parts.addWidget(picture)
        self.parts.addWidget(self.lines)
        self.parts.setChildrenCollapsible(False)
        self.parts.setStretchFactor(0, 1)
        self.parts.setSizes([520, 150])
        self.parts.setAccessibleName("The cut, and what to heed")
        self.parts.handle(1).setAccessibleName("Divider between the cut and what to heed")
        # legend, player and sums share what a low screen leaves with the picture
        self.view.setMinimumHeight(70)
        self.lines.setMinimumHeight(self.fontMetrics().height())
        both = QHBoxLayout()
        both.addWidget(self.left)
        both.addWidget(self.parts, 1)
        outer = QVBoxLayout(self)
        outer.addLayout(both, 1)
        outer.addWidget(self.said)
        ends = work_row(self.board.bench.worker, self)
        ends.addWidget(self._ends(), 1)
        outer.addLayout(ends)

    def _ends(self) -> QDialogButtonBox:
        buttons, self.go, self.stay = go_or_stay(self, "&Export ...")
        self.go.setToolTip("Writes what is shown as a DXF. Read the advice and the cautions first.")
        self.go.setDefault(True)
        self.stay.setAutoDefault(False)
        return buttons

    def _connect(self) -> None:
        self._soon.timeout.connect(self.plan)
        self.form.edited.connect(self._edited)
        self.player.moved.connect(self.view.go_to)
        self.view.toggled.connect(self.player.toggle)
        self.view.stepped.connect(self.player.step)
        self.view.picked.connect(self._picked)

    # What is shown.

    @Slot(str)
    def _edited(self, name: str) -> None:
        """Plan anew in a moment; the kerf goes with the process."""
        if name == "process":
            process = self.form.values()["process"]
            self.form.write("kerf", kept_kerf(process, self.board.part,
                                              self.board.bench.settings))
        self._soon.start()

    @Slot()
    def plan(self) -> None:
        """Plan the cut by what the form holds, beside the window; a newer one cancels an older."""
        if not self.read() or self.order is None:
            return
        order = self.order
        self._advise(order.settings.process)
        job = Job("Planning the cut", tried_cut, (self.inspection, order.settings, self.despite),
                  0.0)
        self.board.bench.worker.start(job, partial(self._planned, order),
                                      partial(self._not_planned, order))

    def _advise(self, process: Process | None) -> None:
        """Work the advice out for a process, or for all of them; a large part takes its time."""
        processes = PROCESSES if process is None else (process,)
        if processes == self._advised:
            return
        self._advised, self.advice = processes, None
        job = Job("Advice for cutters", advice_lines,
                  (replace(self.inspection, processes=processes),), self.board.bench.derived.quick)
        self.board.bench.worker.start(job, partial(self._now_advised, processes))

    def _now_advised(self, processes: tuple[Process, ...], advice: ToRead) -> None:
        if processes == self._advised:
            self.advice = advice
            if self.order is not None:
                self._show_lines(self.order)

    def read(self) -> bool:
        """Take what the form holds; return whether it could be read and is new."""
        self._soon.stop()
        try:
            order, self._misread = read_cut(self.board.part, self.form.values()), None
        except SketcherError as error:
            self._misread = error
            self._refuse()
            return False
        known = self.order is not None and self.order.settings == order.settings
        self.order = order
        self._refuse()
        return not known

    def _planned(self, order: CutOrder, trial: CutTrial) -> None:
        if self.order is None or order.settings != self.order.settings:
            return
        self.trial, self._tried = trial, order.settings
        run = None if trial.plan is None else CutRun(trial.plan)
        self.view.show_run(run, "" if run else "No cut with these settings.")
        self.player.show_run(run, self.view.camera.scale)
        plan = trial.plan
        self.legend.show_kinds(() if plan is None else kinds_in(plan), order.settings.mark_form)
        self.sums.setText("" if plan is None else plan_words(plan))
        self._show_lines(order)
        self._refuse()

    def _refuse(self) -> None:
        """Show what cannot be read, else why there is no plan, beside the field it concerns."""
        trial, error, name = self.trial, self._misread, ""
        if error is not None:
            why, name = error.reason, error.place
        elif trial is not None and trial.refusal is not None and self.order is not None \
                and self._tried == self.order.settings:
            refusal, name = trial.refusal, trial.blamed
            # what stands under its field needs no name of one before it
            why = refusal.reason if name and refusal.place in self.form.fields else str(refusal)
        else:
            why = ""
        shown = self.form.refuse(name, why)
        self.say(f"! {why}" if why and not shown else "")
        if shown:
            self._reveal(name)

    def _reveal(self, name: str) -> None:
        """Scroll the form to a field that is refused."""
        for piece in (self.form.fields[name], self.form.reasons[name]):
            self.left.ensureWidgetVisible(piece, 0, 8)

    def say(self, text: str) -> None:
        """Say something at the foot of the page; nothing takes no room."""
        self.said.setText(text)
        self.said.setVisible(bool(text))

    def _show_lines(self, order: CutOrder) -> None:
        from sketcher.shop.cautions import cautions

        plan = None if self.trial is None else self.trial.plan
        kerf = order.settings.kerf if plan is None else plan.settings.kerf
        self.lines.clear()
        self.lines.addItems(list(lines_to_heed(
            self.inspection, self.despite, self.advice, plan,
            cautions(kerf, self.board.part.unit))))
        strengthen(self.lines)

    def _not_planned(self, order: CutOrder, error: BaseException) -> None:
        if self.order is not order:
            return
        self.order = None  # so that it is planned when it is asked for again
        if isinstance(error, Stopped):
            self.say("Stopped: what is shown may be of other settings.")
            return
        self.say(f"! {error}")
        if not isinstance(error, SketcherError):
            sys.excepthook(type(error), error, error.__traceback__)

    @Slot(int)
    def _picked(self, number: int) -> None:
        run = self.view.run
        if run is not None:
            self.player.go_to(run.begin_of(number))

    # Leaving.

    def accept(self) -> None:
        """Export by what the form holds; the page stays open where that is refused."""
        self.plan()
        values = self.form.values()
        try:
            settings = read_cut(self.board.part, values).settings
            if self._tried == settings and self.trial and self.trial.refusal is not None:
                self.say("! Not exported: the cut is refused, see the settings.")
                return
            done = self.take(values)
        except SketcherError as error:
            shown = self.form.refuse(error.place, error.reason)
            self.say("! Not exported: a value cannot be read, see the settings." if shown
                     else f"! {error}")
        except Stopped:
            self.say("Stopped: nothing was exported.")
        except Exception:  # noqa: BLE001 - an override only tells
            sys.excepthook(*sys.exc_info())
        else:
            if done:
                super().accept()

    def done(self, result: int) -> None:
        """Close; what is still planned is wanted no more."""
        self.order = None
        self._soon.stop()
        self.player.rest()
        for work in (tried_cut, advice_lines):
            self.board.bench.worker.forget(work)
        super().done(result)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter in a field as the end of its value, and not as the order to export."""
        held = self.focusWidget()
        typed = isinstance(held, QLineEdit | QAbstractSpinBox) or (
            isinstance(held, QComboBox) and held.isEditable())
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and typed:
            self.plan()
            return
        super().keyPressEvent(event)


def strengthen(lines: QListWidget) -> None:
    """Letter headings, and what is strong below them, in bold."""
    font = lines.font()
    font.setBold(True)
    for item in map(lines.item, range(lines.count())):
        text = item.text()
        if not text[:1].isspace() or text.strip().startswith(STRONG):
            item.setFont(font)


def show_cutting(
    board: Board, look: Look, parent: QWidget, despite: Collection[str], take: Take
) -> bool:
    """Show the page; return whether anything was exported."""
    desk = CuttingDesk(board, look, despite, take, parent)
    exported = bool(desk.exec())
    desk.deleteLater()
    return exported
