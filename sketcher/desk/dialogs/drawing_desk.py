"""The finished drawing before it leaves: settings at the left, the pages at the right."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt, QTimer, Slot
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.board import Board
from sketcher.board.files.drawing_settings import (
    paper_values,
    reset_centers,
    reset_places,
    set_paper,
)
from sketcher.board.files.leaving_question import not_drawn
from sketcher.board.job import Job
from sketcher.desk.dialogs.page_view import PageView
from sketcher.desk.dialogs.paper_form import PaperForm
from sketcher.desk.dialogs.roomy import RoomyDialog
from sketcher.desk.work_bar import work_row
from sketcher.drafting.page import DetailOnPage, Page
from sketcher.drafting.sheet import pages
from sketcher.drafting.views.arranged_views import side_of
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import bounds_of
from sketcher.inspect.release import stamp_codes
from sketcher.interrupt import Stopped
from sketcher.part.edited import Edited
from sketcher.part.edits.place_detail import place_detail
from sketcher.part.value import Part
from sketcher.part.whole import whole

WAIT = 150  # milliseconds after the last change until the pages are drawn anew


class DrawingDesk(RoomyDialog):
    """Shows what the settings make of the part; nothing is in the part before it is kept.

    Parameters
    ----------
    board : Board
    run : callable
        Does an action by name, for export and print.
    parent : QWidget
    """

    def __init__(self, board: Board, run: Callable[[str], bool], parent: QWidget) -> None:
        super().__init__(parent)
        self.board = board
        self._run = run
        self.part: Part = board.part
        self.pages: tuple[Page, ...] = ()
        self.number = 0
        self._drawing: Part | None = None  # what the pages are, or will be, of
        self._trouble = ""
        self.setWindowTitle("Finished drawing")
        self.form = PaperForm(paper_values(board.part), self)
        self.view = PageView(self)
        self.said = QLabel(self)
        self.said.setWordWrap(True)
        self.said.setAccessibleDescription("What was said last")
        self._stamp = stamp_codes(board.bench.derived.inspection())
        gone = not_drawn(board)
        self.left_out = QLabel(f"Not drawn: {gone}." if gone else "", self)
        self.left_out.setWordWrap(True)
        self.left_out.setAccessibleDescription("What is not drawn")
        self.left_out.setVisible(bool(gone))
        self.count = QLabel(self)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(WAIT)
        self._soon.timeout.connect(self.redraw)
        self.form.edited.connect(self._soon.start)
        self.view.turned.connect(self.turn)
        self.view.pulled.connect(self.place_detail)
        self._arrange()
        self.resize(self.sizeHint().boundedTo(self.screen().availableGeometry().size() * 0.95))
        self.redraw()

    def _arrange(self) -> None:
        scroll = QScrollArea(self)
        scroll.setWidget(self.form)
        scroll.setWidgetResizable(True)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setAccessibleName("Settings of the drawing")
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setMinimumWidth(290)
        left = QVBoxLayout()
        left.addWidget(scroll, 1)
        left.addWidget(self.said)
        left.addWidget(self.left_out)
        for label, edit in (("Reset center lines", reset_centers),
                            ("Reset dimension places", reset_places)):
            left.addWidget(self._button(label, partial(self._reset, edit)))
        turning = QHBoxLayout()
        self.before = self._button("Page before", partial(self.turn, -1))
        self.after = self._button("Next page", partial(self.turn, 1))
        for piece in (self.before, self.count, self.after):
            turning.addWidget(piece)
        turning.addStretch(1)
        right = QVBoxLayout()
        right.addWidget(self.view, 1)
        right.addLayout(turning)
        both = QHBoxLayout()
        both.addLayout(left)
        both.addLayout(right, 1)
        outer = QVBoxLayout(self)
        outer.addLayout(both, 1)
        ends = work_row(self.board.bench.worker, self)
        ends.addWidget(self._ends(), 1)
        outer.addLayout(ends)

    def _ends(self) -> QDialogButtonBox:
        kinds = QDialogButtonBox.StandardButton
        buttons = QDialogButtonBox(kinds.Ok | kinds.Cancel, self)
        buttons.button(kinds.Ok).setText("OK")
        self.leaving = []
        for label, name in (("Export ...", "file.export_sheet"), ("Print ...", "file.print")):
            made = buttons.addButton(label, QDialogButtonBox.ButtonRole.ActionRole)
            made.clicked.connect(partial(self._leave, name))
            self.leaving.append(made)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        return buttons

    def _button(self, label: str, slot: Callable[..., object]) -> QPushButton:
        made = QPushButton(label, self)
        made.setAutoDefault(False)
        made.clicked.connect(slot)
        return made

    # What is shown.

    @Slot()
    def redraw(self) -> None:
        """Draw the pages by what the form holds; what cannot be drawn is told."""
        if not self.read() or self._drawing is self.part:
            return
        part = self._drawing = self.part
        job = Job("Drawing the sheet", pages, (part, None, self._stamp), 0.0)
        self.board.bench.worker.start(job, partial(self._drawn, part),
                                      partial(self._not_drawn, part))

    def read(self) -> bool:
        """Take what the form holds; return whether it could be read, and tell why not."""
        self._soon.stop()
        try:
            read = set_paper(self.part, self.form.values()).part
        except SketcherError as error:
            self.said.setText(f"! {error}")
            return False
        if read != self.part or self._drawing is None:
            self.part = read
        if self._drawing is self.part and self._trouble:
            self.said.setText(self._trouble)
            return False
        self.said.setText("")
        return True

    def _drawn(self, part: Part, made: tuple[Page, ...]) -> None:
        if part is self._drawing:
            self.pages, self._trouble = made, ""
            self.turn(0)

    def _not_drawn(self, part: Part, error: BaseException) -> None:
        if part is not self._drawing:
            return
        if isinstance(error, Stopped):
            self._drawing = None  # so that it is drawn when it is asked for again
            self.said.setText("Stopped: these pages may be those of other settings.")
            return
        self._trouble = f"! {error}"
        self.said.setText(self._trouble)
        if not isinstance(error, SketcherError):
            sys.excepthook(type(error), error, error.__traceback__)

    @Slot(int)
    def turn(self, step: int, *_: object) -> None:
        """Show another page."""
        last = len(self.pages) - 1
        self.number = max(0, min(last, self.number + step))
        self.view.show_page(self.pages[self.number] if self.pages else None)
        self.count.setText(f"{self.number + 1} of {last + 1}" if self.pages else "no page")
        self.before.setEnabled(self.number > 0)
        self.after.setEnabled(self.number < last)

    @Slot(object, float, float)
    def place_detail(self, detail: DetailOnPage, x: float, y: float) -> None:
        """Put a detail on the side of the part to which it was pulled."""
        if not self.read() or not self.pages or self.pages[0].view is None:
            return
        outline = [p.curve for p in whole(self.part) if p.role == "outline"]
        x0, y0, x1, y1 = bounds_of(outline)
        low, high = (self.pages[0].view.point(at) for at in ((x0, y0), (x1, y1)))
        side = side_of((x, y), (*low, *high))
        try:
            self.part = place_detail(self.part, detail.members, side=side).part
        except SketcherError as error:
            self.said.setText(str(error))
            return
        self.form.write("details", str(paper_values(self.part)["details"]))
        self.redraw()

    def _reset(self, edit: Callable[[Part], Edited], *_: object) -> None:
        try:
            self.part = edit(self.part).part
        except SketcherError as error:
            self.said.setText(str(error))
            return
        self.redraw()

    # Leaving.

    def keep(self) -> bool:
        """Put the settings into the part, as one step; return whether they could be read."""
        if not self.read():
            return False
        drawing = self.part.drawing
        if drawing != self.board.part.drawing:
            done = self.board.bench.do("Set the drawing", lambda part: part.having(drawing=drawing))
            self.said.setText(done.why)
            return not done.why
        return True

    def done(self, result: int) -> None:
        """Close; what is still being drawn is wanted no more."""
        self._drawing = None
        self.board.bench.worker.forget(pages)
        super().done(result)

    def accept(self) -> None:
        """Keep the settings and close; settings that cannot be read hold it open."""
        if self.keep():
            super().accept()

    def _leave(self, name: str, *_: object) -> None:
        if self.keep():
            bench = self.board.bench
            before = bench.message
            self._run(name)
            if bench.message is not before:  # the status line is behind this dialog
                self.said.setText(bench.message.text)


def show_drawing(board: Board, run: Callable[[str], bool], parent: QWidget) -> None:
    """Open the finished drawing."""
    desk = DrawingDesk(board, run, parent)
    desk.exec()
    desk.deleteLater()
