"""The main window: puts the pieces together and nothing else."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QEvent, Qt, Slot
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QApplication, QMainWindow, QWidget

from sketcher.board.board import Board
from sketcher.board.settings import Settings
from sketcher.board.steps.notices import PART_REASONS, Change
from sketcher.desk.bridge import Bridge
from sketcher.desk.file_drop import FileDrop
from sketcher.desk.first_use import PROMPT, FirstUse
from sketcher.desk.keeper import Keeper
from sketcher.desk.looks import LOOKS, Look
from sketcher.desk.menu_escape import MenuEscape
from sketcher.desk.menus import Commands
from sketcher.desk.pane_keys import PaneKeys
from sketcher.desk.pane_split import PaneSplit, one_above_other, side_by_side
from sketcher.desk.panes.cleanup_pane import CleanUpPane
from sketcher.desk.panes.inplace import InPlace
from sketcher.desk.panes.inspection_pane import InspectionPane
from sketcher.desk.panes.ledger_pane import LedgerPane
from sketcher.desk.panes.readout_pane import ReadoutPane
from sketcher.desk.paperwork import cutting_page, paperwork
from sketcher.desk.pointing import Pointing
from sketcher.desk.recent_menu import RecentMenu, hang
from sketcher.desk.rounds import Rounds, Stop
from sketcher.desk.scene.grown_part import GrownPart
from sketcher.desk.scene.scene_view import SceneView
from sketcher.desk.sheet_menu import SheetMenu
from sketcher.desk.status import status_labels
from sketcher.desk.taught import taught
from sketcher.desk.theme import dress
from sketcher.desk.waiting import Waiting
from sketcher.desk.window_files import Filing
from sketcher.desk.window_frame import PROGRAM, first_size
from sketcher.desk.window_host import DeskHost
from sketcher.desk.window_memory import recalled, remember
from sketcher.desk.worker import ProcessWorker
from sketcher.part.value import Part
from sketcher.solve.solve_report import SolveReport

SIGNS = {"error": "\N{MULTIPLICATION X} ", "warning": "! ", "done": "\N{CHECK MARK} "}
READOUT_KEYS = ("readout.zero", "readout.unit", "readout.halve")


class MainWindow(QMainWindow):
    """Sheet in the middle, ledger and inspection at its sides, tools and readout below it.

    Parameters
    ----------
    settings : Settings
        The person's settings.
    folder : Path
        Where settings, recent files and recovery copies live.
    look : Look
        How it begins to look.
    parent : QWidget, optional
        The frame around it; a window of its own when left out.
    """

    def __init__(
        self, settings: Settings, folder: Path, look: Look, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        if parent is not None:  # inside a frame; set before any child takes its font
            self.setWindowFlags(Qt.WindowType.Widget)
        self.folder = folder
        self.look = look
        self.board = Board(settings=settings)
        self.worker = self.board.bench.worker = ProcessWorker(self)
        self.host = DeskHost(self)
        self.bridge = Bridge(self.board, self)
        self.keeper = Keeper(self.board, folder / "recovery", self)
        self.commands = Commands(self.board, self.host, self)
        self.filing = Filing(self.board, self.host, self.keeper, folder, self)
        self._pieces()
        self._arrange()
        self.prompt, self.said, self.state = status_labels(self.statusBar())
        self.waiting = Waiting(self.worker, self.view, self.prompt, self.statusBar())
        self._connect()
        self._wear()
        self._show_sides()
        self.setWindowTitle(PROGRAM)
        self.resize(first_size(self.screen().availableGeometry().size()))

    # Building.

    def _pieces(self) -> None:
        self.view = SceneView(self.board, self.look, self)
        self.host.view = self.view
        self.grown = GrownPart(self.view)
        self.first = FirstUse(self)
        self.start, self.stack = self.first.page, self.first.stack
        self.ledger = LedgerPane(self.board, self.look, self)
        self.inspection = InspectionPane(self.board, self.look, self)
        self.readout = ReadoutPane(self.board, self)
        self.tray = self.commands.tray(self)
        self.rack = self.commands.rack(self)
        self.cleanup = CleanUpPane(self.board, self)
        self.rounds = Rounds(self._stops, self)
        self.field = InPlace(self.view)
        self.pointing = Pointing(self.board, self.view, self.field, self)
        self.drop = FileDrop(self.filing, self.view, self)
        PaneKeys(self.view, (self.ledger, self.ledger.mending, self.inspection, self.cleanup,
                             self.tray, self.rack, self.readout))
        self.menu = SheetMenu(self.view, self.ledger.kinds, self.commands, self)

    def _arrange(self) -> None:
        judged = one_above_other(self, self.inspection, self.ledger.mending)
        self.middle = PaneSplit(  # made in its place, as a move would style all of it anew
            self.stack, (self.ledger, side_by_side(self, self.view, self.rack), judged),
            (self.cleanup, self.tray, self.readout))
        self.stack.addWidget(self.middle)
        self.setCentralWidget(self.stack)
        self.middle.divide(recalled(self.folder).sizes)
        self.menuBar().setAccessibleName("Menus")
        self.commands.fill(self.menuBar())
        self.commands.hinted.connect(self._ask)
        recent = RecentMenu(self.filing, self.menuBar())
        hang(recent, "file.open", self.commands, self.menuBar())
        self._help()
        MenuEscape(self.menuBar())
        for name in READOUT_KEYS:
            if name in self.commands.made:
                self.readout.add_key(self.commands.button(name, self.readout))

    def _help(self) -> None:
        menu = self.menuBar().addMenu("&Help")
        for label, key, slot in (
            ("First part, step by step", "", self.first.tour),
            ("Help", "F1", self.first.helping.show_help),
            ("Keys", "", self._show_keys), ("About", "", self._about),
            ("Next pane", "F6", self.rounds.onward),
            ("Pane before", "Shift+F6", self.rounds.backward),
        ):
            made = menu.addAction(label)
            made.setShortcut(key)
            made.triggered.connect(slot)

    def _connect(self) -> None:
        for hear in (self._changed, self.view.refresh, self.grown.hear, self.keeper.hear,
                     self.readout.hear, self.filing.hear, self.ledger.hear, self.cleanup.hear,
                     self.inspection.hear):
            self.bridge.changed.connect(hear)
        self.cleanup.asked.connect(self.pointing.show_defect)
        for done in (self.cleanup.left, self.ledger.left, self.ledger.mending.pressed,
                     self.commands.taken):
            done.connect(self.focus_sheet)
        self.bridge.settled.connect(self._settled)
        self.keeper.failed.connect(self._say)
        self.worker.handing.connect(self.keeper.before)
        self.view.letter.connect(self._letter)
        self.view.edit_asked.connect(self.pointing.edit)
        self.inspection.pointed.connect(self.view.light)
        self.inspection.asked.connect(self.pointing.show_entry)
        self.inspection.asked.connect(self.ledger.mending.show_finding)
        self.inspection.judged.connect(self._title)
        self.inspection.save.clicked.connect(self._save_report)
        self.ledger.pointed.connect(self.view.light)
        self.ledger.mending.came.connect(self._show_sides)
        self.ledger.mending.tried.connect(self.pointing.try_on)
        self.ledger.asked.connect(self.pointing.show_binding)
        self.readout.opened_row.connect(self.focus_sheet)
        self.host.wear = self._look_named
        self.host.taking = self._bring_in
        self.host.cutting = cutting_page(self.board, self)
        self.host.shows = {
            "preferences": self._preferences, "start": self.first.show_page,
            "about": self._about, "holes": self.inspection.show_holes, "marking": self._mark_class,
            **paperwork(self.board, self.commands, self), **taught(self),
        }

    # What is shown.

    def begin(self, path: Path | None, said: tuple[str, ...] = ()) -> None:
        """Show a file, or the start page; offer what an earlier run left behind."""
        if path is not None:
            self.filing.open_path(path)
        else:
            self.first.show_page()
        for line in said:
            self._say(line)
        if self.filing.offer_recovery():
            self.first.show_sheet()

    def focus_sheet(self) -> None:
        """Give the keyboard to the sheet."""
        self.view.setFocus()

    # Following the board.

    @Slot(object)
    def _changed(self, change: Change) -> None:
        if change.reason == "load":
            self.first.show_sheet()
        if change.reason in PART_REASONS:
            self.inspection.pending(change.reason == "load")
            if change.reason != "drag":  # which says nothing else of name, file and state
                self._title()
        elif change.reason in ("saved", "message", "settings", "tool", "selection"):
            self._title()
            self._tell_message()
            if change.reason == "settings":
                self._wear()
                self._show_sides()
        self._ask()
        if change.reason not in ("preview", "drag"):
            self.commands.refresh()

    @Slot(str)
    def _ask(self, hint: str = "") -> None:
        """Say what comes next; while a menu is open, what its entry does."""
        prompt = hint or (PROMPT if self.first.covers else self.board.prompt)
        self.prompt.setText(prompt)
        self.prompt.setToolTip(prompt)

    @Slot()
    def _settled(self) -> None:
        self.view.stand_still()
        self.inspection.refresh()

    @Slot()
    def _title(self) -> None:
        part = self.board.part
        where = self.board.bench.path.name if self.board.bench.path is not None else "no file yet"
        self.window().setWindowTitle(f"{part.name} ({where})[*] \N{EM DASH} {PROGRAM}")
        self.window().setWindowModified(self.board.bench.is_changed)
        words = state_words(part, self.board.report)
        self.state.setText(f"{words}  \N{BULLET}  {self.inspection.verdict.text()}")

    def _tell_message(self) -> None:
        message = self.board.bench.message
        self.said.setText(SIGNS.get(message.severity, "") + message.text)
        self.said.setToolTip(message.text)

    @Slot(str)
    def _say(self, text: str) -> None:
        self.board.bench.say(text, "warning")

    def tell(self, severity: str, text: str) -> None:
        """Say that something broke."""
        self.board.bench.say(text, "error")

    # Keys, menus, looks.

    @Slot(str)
    def _letter(self, key: str) -> None:
        self.commands.letter(key)

    def _look_named(self, name: str) -> None:
        if name in LOOKS:
            self.board.bench.set_setting("look", name)

    @Slot()
    def _show_sides(self) -> None:
        shown = self.board.bench.settings
        self.inspection.setVisible(shown["show_inspection"])
        mends = not self.ledger.mending.isHidden()  # shown even where the inspection is not
        self.middle.show_sides(shown["show_ledger"], shown["show_inspection"] or mends)
        self.middle.lend(mends)

    def _wear(self) -> None:
        look = LOOKS[self.board.bench.settings["look"]]
        changed = look is not self.look
        self.look = look
        if changed:
            app = QApplication.instance()
            assert isinstance(app, QApplication)
            dress(app, look.name, self.font().family())
        if changed or not hasattr(self, "_worn"):
            self._worn = True
            self.commands.wear(look, self.devicePixelRatioF())
            self.inspection.wear(look)
            self.ledger.wear(look)
            self.first.wear(look)
            self.readout.dress(self.font())
        self.view.wear(look)

    @Slot()
    def _save_report(self) -> None:
        self.commands.run("file.export_inspection")

    def _preferences(self) -> None:
        from sketcher.desk.dialogs.preferences import change_settings

        if change_settings(self.board, self):
            self.filing.save_settings()

    def _bring_in(self, path: Path) -> None:
        from sketcher.desk.dialogs.bring_in_desk import bring_in

        bring_in(self.board, self.host, path, self.look, self)

    def _mark_class(self) -> None:
        from sketcher.board.files.marking_copies import MarkingCopies
        from sketcher.desk.dialogs.marking_desk import mark_class

        mark_class(self.board, self.host, self.look, self,
                   MarkingCopies(self.folder / "markings"))

    @Slot()
    def _show_keys(self) -> None:
        from sketcher.desk.dialogs.key_list import KeyList

        KeyList(self.commands.actions.values(), self).open()

    def _stops(self) -> list[Stop]:
        if self.first.covers:
            return [(pane, pane) for pane in self.start.stops]
        tray, rack = (bar.widgetForAction(bar.actions()[0]) for bar in (self.tray, self.rack))
        return [
            (self.view, self.view), (self.rack, rack), (self.ledger, self.ledger.table),
            (self.inspection, self.inspection.box.currentWidget()),
            (self.cleanup, self.cleanup.list), (self.tray, tray),
            (self.readout, self.readout.cells[0][2]),
        ]

    @Slot()
    def _about(self) -> None:
        from sketcher.desk.about import about_text

        self.host.tell("About", about_text())

    # Ending.

    def may_close(self) -> bool:
        """Ask before work is lost; when it may go, remove what was kept and free the file."""
        if self.waiting.left(self.window().close):
            return False
        if not self.filing.may_leave():
            return False
        self.first.keep()
        self.keeper.forget()
        remember(self.folder, self.window(), self.middle.sizes())
        self.filing.close()
        return True

    def closeEvent(self, event: QCloseEvent) -> None:
        """Close when nothing is lost."""
        event.setAccepted(self.may_close())

    def changeEvent(self, event: QEvent) -> None:
        """Look whether the file was changed by another window when this one comes to the front."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and self.isActiveWindow():
            self.filing.look_at_disk()

    def shut(self) -> None:
        """Take the pieces apart in an order that Qt survives."""
        self.bridge.close()
        self.worker.close()
        self.view.setScene(None)


def state_words(part: Part, report: SolveReport) -> str:
    """Return the state of the part as the status line has it."""
    words: str = report.state if part.curves else "empty"
    if report.state == "loose":
        words += f": {report.freedoms} freedom{'s' if report.freedoms != 1 else ''}"
    return words
