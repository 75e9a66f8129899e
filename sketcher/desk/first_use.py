"""What a person meets before there is a part: the start page and the empty sheet."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Slot
from PySide6.QtWidgets import QSizePolicy, QStackedWidget

from sketcher.board.files.last_seen import LastSeen, load_last_seen, save_last_seen
from sketcher.desk.demo_pictures import DemoPictures
from sketcher.desk.help.helping import Helping
from sketcher.desk.looks import Look
from sketcher.desk.panes.start_page import StartPage
from sketcher.desk.scene.empty_hint import EmptyHint
from sketcher.errors import FileError

if TYPE_CHECKING:
    from sketcher.desk.help.touring import Touring
    from sketcher.desk.window import MainWindow

TOUR_FILE = "first-part.json"
PROMPT = "Begin a part, open one, or look at a demo part."


class FirstUse(QObject):
    """Puts the start page in the place of the desk, and takes it away again.

    While the page is there, nothing can be done to a part that nobody sees: its panes are hidden
    and the actions on it cannot be reached.

    Parameters
    ----------
    window : MainWindow
    """

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self.window = window
        self.board = window.board
        self.stack = QStackedWidget(window)
        self.page = StartPage(self.stack)  # at once in its place: a move would style it anew
        self.stack.addWidget(self.page)
        self._place = window.folder / TOUR_FILE
        self.helping = Helping(window)
        self._touring: Touring | None = None
        self.hint = EmptyHint(window.board, window.view.viewport())
        self.pictures = DemoPictures(window.worker, window.folder / "pictures", self)
        self.pictures.made.connect(self.page.demo_list.show_picture)
        self.page.new_asked.connect(self._new)
        self.page.open_asked.connect(self._open)
        self.page.foreign_asked.connect(self._foreign)
        self.page.file_asked.connect(self._file)
        self.page.demo_asked.connect(self._demo)
        self.page.back_asked.connect(self._back)
        self.page.last_asked.connect(self._last)
        self.page.tour_asked.connect(self.tour)
        self.page.practice_asked.connect(self._practice)
        self.page.recent_list.pinned.connect(self._pin)
        window.bridge.changed.connect(self.hint.hear)

    @property
    def covers(self) -> bool:
        """Whether the page is in the place of the desk."""
        return self.stack.currentWidget() is self.page

    def wear(self, look: Look) -> None:
        """Draw the pictures in the colours of a look."""
        self.page.demo_list.wear(look.ink, look.sheet)

    @Slot()
    def show_page(self) -> None:
        """Show the page; a part that is open stays behind it as it is."""
        bench = self.board.bench
        opened = bool(bench.part.curves) or bench.path is not None or bench.is_changed
        if opened:
            self.board.use("pick")
        self.window.prompt.setText(PROMPT)
        self._list_recent()
        self.page.offer_tour(bool(self._touring and self._touring.tour.is_on)
                             or self._place.is_file())
        self.page.offer_back(bench.part.name if opened else "")
        self._offer_last(not opened)
        self._cover(True)
        self.page.first.setFocus()
        self.pictures.ask(self.page.demo_list.without_picture)

    def show_sheet(self) -> None:
        """Show the part."""
        self.pictures.stop()
        self._cover(False)
        self.window.view.fit()
        self.window.focus_sheet()

    def _cover(self, covers: bool) -> None:
        # A page that is away must not keep the window from being small.
        policy = QSizePolicy.Policy.Preferred if covers else QSizePolicy.Policy.Ignored
        self.page.setSizePolicy(policy, policy)
        self.stack.setCurrentWidget(self.page if covers else self.window.middle)
        self.window.commands.cover(covers)

    @property
    def touring(self) -> Touring:
        """The first part, step by step; made when it is first wanted."""
        if self._touring is None:
            from sketcher.desk.help.touring import Touring

            self._touring = Touring(self.window, self._place)
            self._touring.help_asked.connect(self._about_tool)
        return self._touring

    def keep(self) -> None:
        """Keep how far the first part came, and which part was on the sheet and how.

        A part without a file cannot be gone on with: then the one before stays offered.
        """
        if self._touring is not None:
            self._touring.keep()
        bench, camera = self.board.bench, self.window.view.sheet.camera
        if bench.path is not None:
            seen = LastSeen(str(bench.path), bench.part.name, camera.scale, camera.center)
            with suppress(FileError):
                save_last_seen(seen, self.window.folder)

    def _offer_last(self, wanted: bool) -> None:
        last = load_last_seen(self.window.folder) if wanted else None
        self.page.offer_last(last.name if last else "", last.path if last else "")

    @Slot(str)
    def _about_tool(self, name: str) -> None:
        self.helping.show_about(f"tool:{name}")

    # What the page asks for.

    @Slot()
    def tour(self) -> None:
        """Begin the first part, or go on with it."""
        self.touring.begin()

    @Slot()
    def _back(self) -> None:
        self.pictures.stop()
        self._cover(False)
        self.window.focus_sheet()
        self.board.bench.show_again()

    @Slot()
    def _last(self) -> None:
        """Open the part of last time as it was looked at, unless it is elsewhere by now."""
        last = load_last_seen(self.window.folder)
        if last is None:
            self._list_recent()
            self._offer_last(True)
            self.page.first.setFocus()
        elif self.window.filing.open_path(Path(last.path)):
            view = self.window.view
            around, then = view.sheet.around(), view.sheet.camera.seeing(last.scale, last.center)
            if around is None or then.meets(around):
                view.see(last.scale, last.center)

    @Slot(str)
    def _new(self, unit: str) -> None:
        self.window.filing.new("in" if unit == "in" else "mm")

    @Slot()
    def _open(self) -> None:
        self.window.commands.run("file.open")

    @Slot()
    def _practice(self) -> None:
        self.window.commands.run("file.practice")

    @Slot()
    def _foreign(self) -> None:
        self.window.commands.run("file.bring_in")

    @Slot(str)
    def _file(self, path: str) -> None:
        self.window.filing.open_path(Path(path))

    @Slot(str)
    def _demo(self, name: str) -> None:
        self.window.filing.open_demo(name)

    @Slot(str, bool)
    def _pin(self, path: str, pinned: bool) -> None:
        self.window.filing.pin(path, pinned)
        self._list_recent()
        self.page.recent_list.pins[path].setFocus()

    def _list_recent(self) -> None:
        recent = self.window.filing.recent
        self.page.show_recent(recent.there(), recent.pinned)
