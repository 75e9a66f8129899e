"""Words that are wider than what they stand in, and controls that lie on one another."""

from __future__ import annotations

import re
from collections.abc import Iterator

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QHeaderView,
    QLabel,
    QLineEdit,
    QSplitter,
    QTableView,
    QToolButton,
    QWidget,
)

CONTROLS = (QAbstractButton, QAbstractItemView, QComboBox, QLineEdit)
MARGIN = 4
"""Pixels left and right of the words in a cell together, by the style."""
TAG = re.compile(r"<[^>]*>")


def wide(widget: QWidget, text: str) -> int:
    """Return how wide a text is in a widget's font; of several lines, the widest."""
    metrics = QFontMetrics(widget.font())
    return max((metrics.horizontalAdvance(line) for line in text.split("\n")), default=0)


def cut_words(root: QWidget) -> Iterator[str]:
    """Yield each visible widget of a window whose words do not fit, with the words."""
    for widget in root.findChildren(QWidget):
        if not widget.isVisibleTo(root) or not widget.width() \
                or widget.window() is not root or _folded(widget):
            continue
        for text in _cut(widget):
            yield f"{type(widget).__name__} {widget.objectName()}: {text!r}"


def _folded(widget: QWidget) -> bool:
    """Say whether a widget is in a pane that was folded away at its divider."""
    around = widget.parentWidget()
    while around is not None:
        if isinstance(widget.parentWidget(), QSplitter) and widget.visibleRegion().isEmpty():
            return True
        widget, around = around, around.parentWidget()
    return False


def _cut(widget: QWidget) -> Iterator[str]:
    if isinstance(widget, QLabel):
        yield from _cut_label(widget)
    elif isinstance(widget, QToolButton):
        beside = widget.toolButtonStyle() == Qt.ToolButtonStyle.ToolButtonTextBesideIcon
        bare = widget.toolButtonStyle() == Qt.ToolButtonStyle.ToolButtonIconOnly \
            and not widget.icon().isNull()
        text = widget.text().split("\t")[0].replace("&", "")
        icon = widget.iconSize().width() if beside and not widget.icon().isNull() else 0
        words = wide(widget, text) + icon
        under = widget.toolButtonStyle() == Qt.ToolButtonStyle.ToolButtonTextUnderIcon
        if not bare and (words > widget.width()
                         or (not under and widget.sizeHint().width() > widget.width() + 1)):
            yield text
    elif isinstance(widget, QAbstractButton):
        text, wraps = widget.text().replace("&", ""), widget.hasHeightForWidth()
        if (wraps and widget.heightForWidth(widget.width()) > widget.height() + 1) \
                or (not wraps and wide(widget, text) > widget.width()):
            yield text
    elif isinstance(widget, QLineEdit):
        if wide(widget, widget.placeholderText()) > widget.width() - 6:
            yield widget.placeholderText()
    elif isinstance(widget, QComboBox):
        if wide(widget, widget.currentText()) > widget.width() - 20:
            yield widget.currentText()
    elif isinstance(widget, QHeaderView):
        yield from _cut_heads(widget)
    elif isinstance(widget, QTableView):
        yield from _cut_cells(widget)


def _cut_label(label: QLabel) -> Iterator[str]:
    text = TAG.sub("", label.text())
    if label.buddy() is not None:
        text = text.replace("&", "")  # marks the key of the field beside it
    room = label.contentsRect()
    if label.visibleRegion().boundingRect().width() < label.width() - 1 and text \
            and not label.visibleRegion().isEmpty():
        yield text  # it reaches beyond what it stands on
    if TAG.search(label.text()) and not label.wordWrap():
        if label.sizeHint().width() > label.width() + 1:
            yield text
    elif label.wordWrap():
        if label.heightForWidth(label.width()) > label.height() + 1:
            yield text
    elif text and wide(label, text) > room.width() + 1:
        yield text


def _cut_heads(header: QHeaderView) -> Iterator[str]:
    model = header.model()
    if header.orientation() != Qt.Orientation.Horizontal or model is None:
        return
    for section in range(header.count()):
        text = str(model.headerData(section, Qt.Orientation.Horizontal) or "")
        if not header.isSectionHidden(section) and wide(header, text) > header.sectionSize(section):
            yield text


def _cut_cells(table: QTableView) -> Iterator[str]:
    model, port = table.model(), table.viewport().rect()
    for row in range(model.rowCount()):
        for column in range(model.columnCount()):
            index = model.index(row, column)
            place = table.visualRect(index)
            text = str(index.data(Qt.ItemDataRole.DisplayRole) or "")
            if table.columnSpan(row, column) > 1 or table.isColumnHidden(column) \
                    or not port.contains(place) or not text:
                continue
            icon = index.data(Qt.ItemDataRole.DecorationRole)
            room = place.width() - (table.iconSize().width() if icon is not None else 0)
            if not _stands(table, text, room, place.height()):
                yield text


def _stands(table: QTableView, text: str, room: int, high: int) -> bool:
    """Say whether the words of a cell stand in it, in one line or wrapped."""
    metrics, room = QFontMetrics(table.font()), room - MARGIN
    if high < 1.8 * metrics.lineSpacing() or not table.wordWrap():
        return wide(table, text) <= room
    box = metrics.boundingRect(QRect(0, 0, room, 10_000), int(Qt.TextFlag.TextWordWrap), text)
    return box.width() <= room and box.height() <= high


def overlaps(root: QWidget) -> Iterator[str]:
    """Yield pairs of visible controls of a window that lie on one another."""
    found: list[tuple[QWidget, QRect]] = []
    for widget in root.findChildren(QWidget):
        if isinstance(widget, CONTROLS) and widget.isVisibleTo(root) \
                and widget.window() is root and not _within_view(widget):
            shown = widget.visibleRegion().boundingRect()
            if not shown.isEmpty():
                found.append((widget, shown.translated(widget.mapTo(root, QPoint(0, 0)))))
    for number, (one, at) in enumerate(found):
        for other, there in found[:number]:
            if at.intersects(there) and not one.isAncestorOf(other) \
                    and not other.isAncestorOf(one):
                yield f"{_named(one)} on {_named(other)}"


def _within_view(widget: QWidget) -> bool:
    parent = widget.parentWidget()
    while parent is not None:
        if isinstance(parent, QAbstractItemView | QComboBox):
            return True
        parent = parent.parentWidget()
    return False


def _named(widget: QWidget) -> str:
    return f"{type(widget).__name__} {widget.accessibleName() or widget.objectName()}"
