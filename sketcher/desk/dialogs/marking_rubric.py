"""The rubric as a table: what each rule costs, at most, and whether it counts."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from math import isfinite
from pathlib import Path

from PySide6.QtCore import QSignalBlocker, Qt, Signal, Slot
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from sketcher.board.files.marking_book import ClassBook
from sketcher.board.window_port import Host
from sketcher.errors import FileError, QuantityError, SketcherError
from sketcher.marking.deduction_table import points_text
from sketcher.marking.rubric import Rubric, RuleSetting
from sketcher.marking.rubric_file import SUFFIX, load_rubric, save_rubric
from sketcher.marking.rules import marking_rules
from sketcher.part.value import frozen

RULE, POINTS, CAP, LIMIT, LIMIT_OF, SEEN = range(6)
TITLES = ("Rule", "Points", "At most", "Limit", "Limit of", "Seen in")
TICKED, BARE = Qt.CheckState.Checked, Qt.CheckState.Unchecked


class MarkingRubric(QWidget):
    """Every rule a row; points, cap and limit are typed, a tick says that the rule counts.

    Signals
    -------
    told(str)
        What was done, or why something typed was refused.
    """

    told = Signal(str)

    def __init__(self, book: ClassBook, host: Host, parent: QWidget) -> None:
        super().__init__(parent)
        self.book, self.host = book, host
        self.names = tuple(marking_rules())
        self._shown: Rubric | None = None
        outer = QVBoxLayout(self)
        outer.addLayout(self._whole())
        self.table = self._table()
        outer.addWidget(self.table, 1)
        outer.addLayout(self._buttons())

    # Building.

    def _whole(self) -> QHBoxLayout:
        row = QHBoxLayout()
        self.wholes: dict[str, QLineEdit] = {}
        for name, label, tip in (
                ("base", "&Points without mistakes", "What a hand-in without mistakes is given."),
                ("tolerance", "&Tolerance", "In the key's unit; empty for 0.01 mm or 0.001 in."),
                ("angle_tolerance", "An&gles", "Tolerance of angles, in degrees.")):
            words = QLabel(label, self)
            edit = QLineEdit(self)
            edit.setAccessibleName(label.replace("&", ""))
            edit.setToolTip(tip)
            edit.setMaximumWidth(10 * edit.fontMetrics().averageCharWidth())
            edit.editingFinished.connect(partial(self._whole_typed, name))
            words.setBuddy(edit)
            row.addWidget(words)
            row.addWidget(edit)
            self.wholes[name] = edit
        row.addStretch(1)
        return row

    def _table(self) -> QTableWidget:
        table = QTableWidget(len(self.names), len(TITLES), self)
        table.setAccessibleName("Rubric")
        table.setAccessibleDescription("A rule with a tick counts; the space bar takes it away.")
        table.setHorizontalHeaderLabels(TITLES)
        table.verticalHeader().hide()
        # on a narrow screen a long rule stands in two lines
        table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        head = table.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head.setSectionResizeMode(RULE, QHeaderView.ResizeMode.Stretch)
        for row, rule in enumerate(marking_rules().values()):
            for column in range(len(TITLES)):
                item = QTableWidgetItem()
                flags = item.flags() & ~Qt.ItemFlag.ItemIsEditable
                if column in (POINTS, CAP) or (column == LIMIT and rule.limit is not None):
                    flags |= Qt.ItemFlag.ItemIsEditable
                    item.setTextAlignment(Qt.AlignmentFlag.AlignRight
                                          | Qt.AlignmentFlag.AlignVCenter)
                if column == RULE:
                    flags |= Qt.ItemFlag.ItemIsUserCheckable
                    item.setText(rule.heading)
                    item.setToolTip(rule.name)
                if column in (LIMIT_OF, SEEN):
                    item.setText(rule.limit_text if column == LIMIT_OF else rule.group)
                item.setFlags(flags)
                table.setItem(row, column, item)
        table.itemChanged.connect(self._typed)
        return table

    def _buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        for label, tip, act in (
                ("Op&en ...", "Takes a rubric from its file.", self._open),
                ("Expo&rt ...", "A file of its own, for another class.", self._export),
                ("&Comments ...", "The sentences that are offered beside a deduction.",
                 self._comments),
                ("&As they were made", "Gives every rule its own points again.", self._reset)):
            button = QPushButton(label, self)
            button.setAccessibleName(f"Rubric: {label.replace('&', '').removesuffix(' ...')}")
            button.setToolTip(tip)
            button.setAutoDefault(False)
            button.clicked.connect(act)
            row.addWidget(button)
        row.addStretch(1)
        return row

    # What stands.

    def follow(self) -> None:
        """Show the rubric."""
        rubric = self.book.rubric
        if rubric is self._shown:
            return
        self._shown = rubric
        self.wholes["base"].setText(points_text(rubric.base))
        self.wholes["tolerance"].setText(
            "" if rubric.tolerance is None else f"{rubric.tolerance:g}")
        self.wholes["angle_tolerance"].setText(f"{rubric.angle_tolerance:g}")
        with QSignalBlocker(self.table):
            for row, name in enumerate(self.names):
                self._show(row, rubric.setting(name))

    def _show(self, row: int, setting: RuleSetting) -> None:
        self._item(row, RULE).setCheckState(TICKED if setting.on else BARE)
        for column, value in ((POINTS, setting.points), (CAP, setting.cap),
                              (LIMIT, setting.limit)):
            self._item(row, column).setText("" if value is None else points_text(value))

    def _item(self, row: int, column: int) -> QTableWidgetItem:
        item = self.table.item(row, column)
        assert item is not None
        return item

    # What is typed.

    @Slot(QTableWidgetItem)
    def _typed(self, item: QTableWidgetItem) -> None:
        """Take what was typed; what is refused is told, and what was there comes back."""
        name = self.names[item.row()]
        old = self.book.rubric.setting(name)
        try:
            new = self._changed(old, item)
        except QuantityError as error:
            self._again()
            self.told.emit(f"! {error}")
            return
        if new != old:
            settings = {**self.book.rubric.settings, name: new}
            self.book.use_rubric(replace(self.book.rubric, settings=frozen(settings)))
        self._again()

    def _changed(self, old: RuleSetting, item: QTableWidgetItem) -> RuleSetting:
        place = self._item(item.row(), RULE).text()
        if item.column() == RULE:
            return replace(old, on=item.checkState() == TICKED)
        value = number_in(item.text(), f"{place}, {TITLES[item.column()].lower()}")
        if item.column() == LIMIT:
            return replace(old, limit=value)
        if item.column() == POINTS:
            return replace(old, points=value, cap=max(old.cap, value))
        if value < old.points:
            raise QuantityError(f"{place}, at most", f"{value:g} is less than the points, "
                                f"{old.points:g}", "give the points or more")
        return replace(old, cap=value)

    def _whole_typed(self, name: str) -> None:
        text = self.wholes[name].text().strip()
        label = self.wholes[name].accessibleName()
        try:
            value = None if name == "tolerance" and not text else number_in(text, label)
            if value == 0.0:
                raise QuantityError(label, "0 is too little", "give more than 0")
        except QuantityError as error:
            self._again()
            self.told.emit(f"! {error}")
            return
        if value != getattr(self.book.rubric, name):
            self.book.use_rubric(replace(self.book.rubric, **{name: value}))  # type: ignore[arg-type]

    def _again(self) -> None:
        """Show what stands, whatever was typed."""
        self._shown = None
        self.follow()

    # Files.

    @Slot()
    def _open(self) -> None:
        path = self.host.ask_path("Open a rubric", False, SUFFIX)
        if path is None:
            return
        try:
            self.book.use_rubric(load_rubric(path))
        except SketcherError as error:
            self.told.emit(f"! {error}")
            return
        self.told.emit(f"{path.name} opened.")

    @Slot()
    def _export(self) -> None:
        path = self.host.ask_path("Export the rubric", True, SUFFIX, f"class{SUFFIX}")
        if path is not None:
            self._write(path)

    def _write(self, path: Path) -> None:
        try:
            save_rubric(self.book.rubric, path)
        except FileError as error:
            self.told.emit(f"! {error}")
            return
        self.told.emit(f"{path.name} exported.")

    @Slot()
    def _comments(self) -> None:
        """Let the bank of comments be changed, a line each."""
        given = self.host.ask_form(
            "Comments", (("comments", "One a line", "\n".join(self.book.rubric.comments)),),
            long=("comments",))
        if given is not None:
            lines = filter(None, (line.strip() for line in given["comments"].splitlines()))
            self.book.use_rubric(replace(self.book.rubric, comments=tuple(dict.fromkeys(lines))))

    @Slot()
    def _reset(self) -> None:
        self.book.use_rubric(replace(self.book.rubric, settings=frozen(), base=Rubric().base))


def number_in(text: str, place: str) -> float:
    """Return a number as typed, with a point or a comma; not below zero.

    Raises
    ------
    QuantityError
        When it is none.
    """
    try:
        value = float(text.strip().replace(",", "."))
    except ValueError:
        raise QuantityError(place, f"{text.strip()[:40]!r} is no number", "give zero or more") \
            from None
    if not isfinite(value) or value < 0.0 or value > 1e6:
        raise QuantityError(place, f"{text.strip()[:40]} cannot be", "give zero or more")
    return value
