"""Files of the window: opening, demo parts, recent ones, recovery, reports, leaving."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, Slot
from PySide6.QtWidgets import QWidget

from sketcher.board.action import perform
from sketcher.board.board import Board
from sketcher.board.notice import Change
from sketcher.board.recent import load_recent, save_recent
from sketcher.board.settings import save_settings, write_whole
from sketcher.desk.host import DeskHost
from sketcher.desk.keeper import Claim, Keeper
from sketcher.errors import FileError, SketcherError
from sketcher.part.value import Part, Unit
from sketcher.shipped import shipped


class Filing(QObject):
    """Keeps the list of recent files, the claim on the open one, and asks before work is lost."""

    def __init__(
        self, board: Board, host: DeskHost, keeper: Keeper, folder: Path, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.board = board
        self.host = host
        self.keeper = keeper
        self.folder = folder
        self.recent = load_recent(folder / "recent.json")
        self.claim = Claim(folder / "open")
        self._told_of_disk = False

    # Opening.

    def new(self, unit: Unit) -> bool:
        """Begin a part; return whether the one before was let go."""
        if not self.may_leave():
            return False
        self.keeper.forget()
        self.board.load(Part(unit=unit), None)
        return True

    def open_path(self, path: Path) -> bool:
        """Open a file; what is wrong with it is told. Return whether it was opened."""
        from sketcher.part.store import open_file

        if not self.may_leave():
            return False
        try:
            stored = open_file(path)
        except SketcherError as error:
            self.board.say(str(error), "error", error.place)
            self.recent = self.recent.without(path) if not path.exists() else self.recent
            self.host.tell("The file cannot be opened", str(error))
            return False
        self.keeper.forget()
        self.board.load(stored.part, stored.path)
        return True

    def open_demo(self, name: str) -> bool:
        """Open a copy of a demo part; it has no file until it is saved."""
        from sketcher.part import text
        from sketcher.part.kinds import settle_sides

        if not self.may_leave():
            return False
        try:
            part = text.read(shipped("demo_parts", name).read_bytes())
        except SketcherError as error:
            self.host.tell("The demo part cannot be opened", str(error))
            return False
        self.keeper.forget()
        self.board.load(settle_sides(part), None)
        return True

    @Slot(object)
    def hear(self, change: Change) -> None:
        """Note a file that was opened or saved, and claim it."""
        if change.reason not in ("load", "saved"):
            return
        self._told_of_disk = False
        who = self.claim.take(self.board.path)
        if who:
            self.board.say(who, "warning")
            self.host.tell("Open in two windows", who)
        if self.board.path is not None:
            self.recent = self.recent.opened(
                self.board.path, int(self.board.settings["recent_count"])
            )
            self._try(lambda: save_recent(self.recent, self.folder / "recent.json"))

    def look_at_disk(self) -> None:
        """Say once when another program has changed the open file."""
        path, known = self.board.path, getattr(self.board, "digest", None)
        if path is None or known is None or self._told_of_disk:
            return
        from sketcher.part.store import changed_on_disk

        try:
            changed = changed_on_disk(path, known)
        except SketcherError:
            return
        if changed:
            self._told_of_disk = True
            self.board.say(
                f"{path.name} was changed by another window; saving will ask first.", "warning"
            )

    # Recovery.

    def offer_recovery(self) -> bool:
        """Offer what an earlier run left behind; return whether one was taken up."""
        found = self.keeper.copies.left_behind()
        if not found:
            return False
        from sketcher.desk.dialogs.recovery import RecoveryDialog

        dialog = RecoveryDialog(found, self.host.window)
        dialog.exec()
        chosen, gone = dialog.chosen, dialog.discarded
        dialog.deleteLater()
        for recovery in gone:
            self.keeper.copies.discard(recovery.key)
        if chosen is None:
            return False
        try:
            part = chosen.part()
        except SketcherError as error:
            self.host.tell("The copy cannot be read", str(error))
            return False
        self.board.load(part, chosen.original, saved=False)
        self.keeper.keep()
        self.keeper.copies.discard(chosen.key)
        self.board.say("This is what was kept; save it to put it into its file.", "warning")
        return True

    # Leaving.

    def may_leave(self) -> bool:
        """Return whether the part on the bench may go; asks when it has unsaved changes."""
        self.board.restore()
        if not self.board.is_changed:
            return True
        answer = self.host.ask_unsaved(self.board.part.name)
        if answer == "save":
            perform("file.save", self.board, self.host)
            return not self.board.is_changed
        return answer == "discard"

    def close(self) -> None:
        """Write what is remembered and give the file free."""
        self.save_settings()
        self.claim.leave()

    def save_settings(self) -> None:
        """Write the settings."""
        self._try(lambda: save_settings(self.board.settings, self.folder / "settings.json"))

    # Reports.

    @Slot()
    def save_report(self) -> None:
        """Write the inspection as CSV or HTML, whichever the name says."""
        name = self.board.part.name.lower().replace(" ", "-")
        path = self.host.ask_path("Save the inspection", True, ".html", f"{name}-inspection.html")
        if path is not None:
            self.write_report(path)

    def write_report(self, path: Path) -> bool:
        """Write the inspection into a file; return whether it was written."""
        from sketcher.inspect.export import as_csv, as_html

        inspection = self.board.inspection()
        if path.name.endswith(".csv.html"):  # the suffix was added to a name that had one
            path = path.with_name(path.name.removesuffix(".html"))
        text = as_csv(inspection) if path.suffix.lower() == ".csv" else as_html(inspection)
        done = self._try(lambda: write_whole(path, text))
        if done:
            self.board.say(f"The inspection is in {path.name}.", "done")
        return done

    def export(self) -> None:
        """Write the cutter's file."""
        perform("file.export_cut", self.board, self.host)

    def print_sheet(self) -> None:
        """Print the finished sheet."""
        self.host.tell("Print", "Write the sheet as PDF, then print it at 100 %.")

    def _try(self, work: object) -> bool:
        try:
            assert callable(work)
            work()
        except FileError as error:
            self.board.say(str(error), "error", error.place)
            return False
        return True
