"""The help beside the window: contents at the left, the page at the right, a search over all."""

from __future__ import annotations

from PySide6.QtCore import Qt, QUrl, Slot
from PySide6.QtGui import (
    QKeySequence,
    QShortcut,
    QShowEvent,
    QTextBlock,
    QTextCursor,
    QTextDocument,
)
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QTextBrowser,
    QTextEdit,
    QVBoxLayout,
    QWidget,
)

from sketcher.desk.dialogs.roomy import RoomyDialog
from sketcher.desk.help.help_pages import (
    HelpSection,
    beginnings,
    having,
    nothing_found,
    section_about,
    sections,
    text_of,
)
from sketcher.shipped import shipped

SIZE = (900, 620)
CONTENTS = 250


class HelpWindow(RoomyDialog):
    """One window for all of the help; it stays open while one works.

    Parameters
    ----------
    parent : QWidget
    """

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Help")
        self.setModal(False)
        self.resize(*SIZE)
        self.search = QLineEdit(self)
        self.search.setPlaceholderText("Find words in all pages")
        self.search.setAccessibleName("Find words in all pages")
        self.search.setClearButtonEnabled(True)
        self.contents = QListWidget(self)
        self.contents.setAccessibleName("Contents")
        self.contents.setFixedWidth(CONTENTS)
        self.page = QTextBrowser(self)
        self.page.setAccessibleName("Page")
        self.page.setOpenExternalLinks(False)
        self.page.setOpenLinks(False)
        self.page.anchorClicked.connect(self._follow)
        self.page.setSearchPaths([str(shipped("resources", "help"))])
        self._page = ""
        self.section: HelpSection | None = None
        line = QHBoxLayout()
        line.addWidget(self.contents)
        line.addWidget(self.page, 1)
        outer = QVBoxLayout(self)
        outer.addWidget(self.search)
        outer.addLayout(line, 1)
        self._list(sections())
        self.search.textChanged.connect(self._find)
        self.search.returnPressed.connect(self._first)
        self.contents.currentItemChanged.connect(self._chosen)
        find = QShortcut(QKeySequence(QKeySequence.StandardKey.Find), self)
        find.activated.connect(self._look_for)

    def showEvent(self, event: QShowEvent) -> None:
        """Begin with the first page where none was asked for."""
        super().showEvent(event)
        if self.section is None:
            self._choose(sections()[0])

    def show_about(self, thing: str) -> None:
        """Open at what is said of a tool (``tool:line``), a finding, a joint or a rule."""
        self.search.clear()
        section = section_about(thing)
        self.setWindowState(self.windowState() & ~Qt.WindowState.WindowMinimized)
        self.show()  # first: where a heading stands depends on the width that is shown
        self._choose(section)
        self.raise_()
        self.activateWindow()
        self.page.setFocus()

    def _list(self, found: tuple[HelpSection, ...]) -> None:
        self.contents.clear()
        for section in found:
            first = section.text.startswith("# ")
            item = QListWidgetItem(section.title if first else f"    {section.title}",
                                   self.contents)
            item.setData(Qt.ItemDataRole.UserRole, sections().index(section))
            item.setToolTip(f"{section.page.capitalize()}: {section.title}")
            font = item.font()
            font.setBold(first)
            item.setFont(font)

    @Slot(str)
    def _find(self, words: str) -> None:
        found = having(words) if words.strip() else sections()
        if not found:
            self._list(beginnings())
            self._page = ""
            self.page.setHtml(nothing_found(words))
            self.page.setExtraSelections([])
            return
        self._list(found)
        if self._page and self.section in found:
            self._mark(words)
        else:  # what has none of the words must not stay; go on to what is found now
            self._open(found[0])

    @Slot()
    def _look_for(self) -> None:
        """Begin to look for other words."""
        self.search.setFocus()
        self.search.selectAll()

    @Slot()
    def _first(self) -> None:
        if self.contents.count():
            self.contents.setCurrentRow(0)

    @Slot(QUrl)
    def _follow(self, link: QUrl) -> None:
        """Open the page that a link names."""
        for section in beginnings():
            if section.page == link.toString():
                self.search.clear()
                self._choose(section)

    def _choose(self, section: HelpSection) -> None:
        """Open a section, chosen in the contents too."""
        self.contents.setCurrentRow(sections().index(section))
        self._open(section)

    @Slot(QListWidgetItem)
    def _chosen(self, item: QListWidgetItem | None) -> None:
        if item is not None:
            self._open(sections()[item.data(Qt.ItemDataRole.UserRole)])

    def _open(self, section: HelpSection) -> None:
        """Show the page and bring its section to the top."""
        if section.page != self._page:
            self._page = section.page
            self.page.document().setBaseUrl(
                QUrl.fromLocalFile(f"{shipped('resources', 'help')}/"))
            self.page.setMarkdown(text_of(section.page))
        self.section = section
        block = self._heading(section.title)
        self.page.setTextCursor(QTextCursor(block))
        top = self.page.document().documentLayout().blockBoundingRect(block).top()
        self.page.verticalScrollBar().setValue(round(top))
        self._mark(self.search.text())

    def _heading(self, title: str) -> QTextBlock:
        block = self.page.document().begin()
        while block.isValid():
            if block.blockFormat().headingLevel() and block.text().strip() == title:
                return block
            block = block.next()
        return self.page.document().begin()

    def _mark(self, words: str) -> None:
        """Mark every place of the words that are looked for."""
        marks = []
        for word in words.split():
            cursor = QTextCursor(self.page.document())
            while True:
                cursor = self.page.document().find(word, cursor, QTextDocument.FindFlag(0))
                if cursor.isNull():
                    break
                mark = QTextEdit.ExtraSelection()
                mark.cursor = cursor
                mark.format.setBackground(self.palette().highlight())
                mark.format.setForeground(self.palette().highlightedText())
                marks.append(mark)
        self.page.setExtraSelections(marks)
