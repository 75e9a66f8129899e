"""What a person meets first: begin a part, go on with one, or look at a demo part."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QListWidgetItem,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from sketcher.desk.panes.demo_cards import DemoCards
from sketcher.desk.panes.recent_list import RecentList

EDGE = 28
"""Pixels at the left and the right of the page."""
MOST_NAME = 40
"""Characters of a part's name on a button."""
BEGIN, GO_ON = "First &part, step by step", "Go on with your first &part"
CAUTION = (
    "What this program draws can steer a cutter or carry a load. Check every part before it is "
    "cut, keep to your shop's rules and local codes, and ask a licensed engineer about anything "
    "that bears a load."
)


class StartPage(QWidget):
    """The page in the place of the desk.

    Signals
    -------
    new_asked(str)
        A unit.
    open_asked()
        A file is to be chosen.
    foreign_asked()
        A drawing from elsewhere is to be chosen.
    tour_asked()
        The guided first part.
    practice_asked()
        A problem is to be chosen.
    file_asked(str)
        A recent file's path.
    demo_asked(str)
        A demo part's file name.
    back_asked()
        The part that lies behind the page.
    last_asked()
        The part that was on the sheet when the window was closed.
    """

    new_asked = Signal(str)
    open_asked = Signal()
    foreign_asked = Signal()
    tour_asked = Signal()
    practice_asked = Signal()
    file_asked = Signal(str)
    demo_asked = Signal(str)
    back_asked = Signal()
    last_asked = Signal()

    def __init__(self, parent: QWidget, recent: tuple[str, ...] = (),
                 pinned: tuple[str, ...] = ()) -> None:
        super().__init__(parent)
        self.setAccessibleName("Start")
        self.room = QScrollArea(self)  # on a low screen the page is scrolled
        self.bed = QWidget(self.room.viewport())
        outer = QVBoxLayout(self.bed)
        outer.setContentsMargins(EDGE, 18, EDGE, 12)
        outer.setSpacing(8)
        outer.addLayout(self._head())
        self.go_on = QPushButton("", self)
        self.go_on.setAutoDefault(True)  # Enter presses it
        self.go_on.clicked.connect(self._last)
        self.go_on.hide()
        outer.addWidget(self.go_on)
        outer.addLayout(self._buttons())
        self.demo_list, self.recent_list = DemoCards(self), RecentList(self)
        for title, entries in (("Demo parts", self.demo_list),
                               ("Recent files", self.recent_list)):
            label = QLabel(title, self)
            label.setBuddy(entries)
            outer.addWidget(label)
            outer.addWidget(entries)
            entries.itemActivated.connect(self._chosen)
            entries.itemClicked.connect(self._chosen)
        outer.addStretch(1)
        caution = QLabel(CAUTION, self)
        caution.setWordWrap(True)
        caution.setObjectName("faint")
        outer.addWidget(caution)
        self.room.setWidgetResizable(True)
        self.room.setFrameShape(QScrollArea.Shape.NoFrame)
        self.room.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.room.setAccessibleName("What one can begin with")
        self.room.setWidget(self.bed)
        self.bed.setAutoFillBackground(False)  # the frame's first paint is waited for
        self.room.viewport().setAutoFillBackground(False)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.room)
        self.demo_list.currentItemChanged.connect(self._follow)
        self.recent_list.currentItemChanged.connect(self._follow)
        self.show_recent(recent, pinned)

    def _head(self) -> QHBoxLayout:
        line = QHBoxLayout()
        title = QLabel("What is on the table today?", self)
        font = title.font()
        font.setPointSizeF(font.pointSizeF() * 1.7)
        title.setFont(font)
        line.addWidget(title, 1)
        self.back = QPushButton("", self)
        self.back.setToolTip("Goes back to the part that is open (Esc).")
        self.back.clicked.connect(self._back)
        self.back.hide()
        line.addWidget(self.back)
        return line

    def _buttons(self) -> QGridLayout:
        self._grid = QGridLayout()
        self.new_mm = QPushButton("New part in mi&llimetres", self)
        self.new_in = QPushButton("New part in &inches", self)
        self.open = QPushButton("&Open a file\N{HORIZONTAL ELLIPSIS}", self)
        self.foreign = QPushButton("Bring in a &DXF\N{HORIZONTAL ELLIPSIS}", self)
        self.foreign.setToolTip("Makes a bound part of a drawing from elsewhere.")
        self.tour = QPushButton(BEGIN, self)
        self.tour.setToolTip("Leads through a small part in ten steps, on the real sheet.")
        self.practice = QPushButton("Pr&actice\N{HORIZONTAL ELLIPSIS}", self)
        self.practice.setToolTip("Sets a problem to draw from its paper, and ticks what holds.")
        asks = ((self.new_mm, self._new_mm), (self.new_in, self._new_in), (self.open, self._open),
                (self.foreign, self._foreign), (self.tour, self._tour),
                (self.practice, self._practice))
        for button, slot in asks:
            button.setMinimumHeight(int(button.sizeHint().height() * 1.4))
            button.clicked.connect(slot)
        self._first_row = tuple(button for button, _ in asks)
        self._set_out(len(asks))
        return self._grid

    def _set_out(self, across: int) -> None:
        """Lay the buttons so many in a row."""
        for number, button in enumerate(self._first_row):
            self._grid.addWidget(button, *divmod(number, across))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the buttons in two rows where one has no room for their words."""
        super().resizeEvent(event)
        wanted = sum(button.sizeHint().width() + self._grid.horizontalSpacing()
                     for button in self._first_row) + 2 * EDGE + (
                         self.room.verticalScrollBar().sizeHint().width())
        every = len(self._first_row)
        self._set_out(every if wanted <= event.size().width() else every // 2)

    @property
    def stops(self) -> tuple[QWidget, ...]:
        """What the keyboard goes round: the first button and both lists."""
        return (self.first, self.demo_list, self.recent_list)

    @property
    def first(self) -> QPushButton:
        """The button that has the keyboard when the page comes up."""
        offered = (button for button in (self.back, self.go_on) if not button.isHidden())
        return next(offered, self.new_mm)

    def show_recent(self, paths: tuple[str, ...], pinned: tuple[str, ...] = ()) -> None:
        """List recent files in this order, and say which stay at the top."""
        self.recent_list.show_files(paths, pinned)

    def offer_tour(self, begun: bool) -> None:
        """Say whether the guided first part is begun or gone on with."""
        self.tour.setText(GO_ON if begun else BEGIN)

    def offer_back(self, name: str) -> None:
        """Offer the way back to an open part; none when the name is empty."""
        self.back.setText(f"&Back to {named(name)}" if name else "")
        self.back.setVisible(bool(name))

    def offer_last(self, name: str, path: str = "") -> None:
        """Offer the part that was on the sheet last time; none when the name is empty."""
        self.go_on.setText(f"&Go on with {named(name)}" if name else "")
        self.go_on.setToolTip(f"Opens it where you left off: {path}" if name else "")
        self.go_on.setMinimumHeight(int(self.go_on.sizeHint().height() * 1.4))
        self.go_on.setVisible(bool(name))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go back to the open part with Esc."""
        if event.key() == Qt.Key.Key_Escape and not self.back.isHidden():
            self.back_asked.emit()
        else:
            super().keyPressEvent(event)

    @Slot()
    def _new_mm(self) -> None:
        self.new_asked.emit("mm")

    @Slot()
    def _new_in(self) -> None:
        self.new_asked.emit("in")

    @Slot()
    def _open(self) -> None:
        self.open_asked.emit()

    @Slot()
    def _foreign(self) -> None:
        self.foreign_asked.emit()

    @Slot()
    def _tour(self) -> None:
        self.tour_asked.emit()

    @Slot()
    def _practice(self) -> None:
        self.practice_asked.emit()

    @Slot()
    def _last(self) -> None:
        self.last_asked.emit()

    @Slot()
    def _back(self) -> None:
        self.back_asked.emit()

    @Slot(QListWidgetItem)
    def _follow(self, item: QListWidgetItem | None) -> None:
        """Keep the entry that the keyboard is on in view."""
        entries = item.listWidget() if item is not None else None
        if item is not None and entries is not None and entries.hasFocus():
            place = entries.visualItemRect(item)
            middle = entries.viewport().mapTo(self.bed, place.center())
            self.room.ensureVisible(middle.x(), middle.y(), 0, place.height() // 2 + 8)

    @Slot(QListWidgetItem)
    def _chosen(self, item: QListWidgetItem) -> None:
        name = item.data(Qt.ItemDataRole.UserRole)
        if name is None:
            return
        if item.listWidget() is self.demo_list:
            self.demo_asked.emit(name)
        else:
            self.file_asked.emit(name)


def named(name: str) -> str:
    """Return a part's name for a button: in one line, cut where it is long, no key in it."""
    short = name if len(name) <= MOST_NAME else f"{name[:MOST_NAME - 1]}\N{HORIZONTAL ELLIPSIS}"
    return short.replace("&", "&&")
