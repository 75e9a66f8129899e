"""Files of the window: opening, demo parts, recent ones, recovery, leaving."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Slot
from PySide6.QtWidgets import QWidget

from sketcher.board.board import Board
from sketcher.board.files.recent_files import load_recent, save_recent
from sketcher.board.settings import save_settings
from sketcher.board.steps.notices import Change
from sketcher.desk.keeper import Claim, Keeper
from sketcher.desk.window_host import DeskHost
from sketcher.errors import FileError, SketcherError
from sketcher.interrupt import Stopped
from sketcher.part.value import Unit
from sketcher.shipped import shipped

UNKNOWN = "unknown"
"""Fingerprint of a version that nobody noted; no file has it."""


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

    def new(self, unit: Unit) -> None:
        """Begin a part."""
        from sketcher.board.files.open_and_save import new_part

        new_part(self.board, self.host, unit)

    def open_path(self, path: Path) -> bool:
        """Open a file; what is wrong with it is told. Return whether it was opened."""
        from sketcher.board.files.open_and_save import open_part

        try:
            return open_part(self.board, self.host, path)
        except SketcherError as error:
            self.board.bench.say(str(error), "error", error.place)
            if not path.exists():
                self.recent = self.recent.without(path)
            self.host.tell("The file cannot be opened", str(error))
            return False
        except Stopped:
            return self._not_opened(path.name)

    def open_demo(self, name: str) -> bool:
        """Open a copy of a demo part; it has no file until it is saved."""
        from sketcher.board.files.open_and_save import may_leave
        from sketcher.part import file_text as text

        if not may_leave(self.board, self.host):
            return False
        try:
            part = text.read(shipped("demo_parts", name).read_bytes())
        except SketcherError as error:
            self.host.tell("The demo part cannot be opened", str(error))
            return False
        try:
            self.board.load(part, None)
        except Stopped:
            return self._not_opened(name)
        if self.board.bench.message.severity != "warning":
            self.board.bench.say(f"A copy of the demo part {part.name}: save it under any name.",
                                 "done")
        return True

    def _not_opened(self, name: str) -> bool:
        self.board.bench.say(f"{name}: stopped, and not opened.", "warning")
        return False

    @Slot(object)
    def hear(self, change: Change) -> None:
        """Note a file that was opened or saved, and claim it."""
        if change.reason not in ("load", "saved") or self.board.bench.give_back is not None:
            return
        self._told_of_disk = False
        who = self.claim.take(self.board.bench.path)
        if who:
            self.board.bench.say(who, "warning")
            self.host.tell("Open in two windows", who)
        if self.board.bench.path is not None:
            self.recent = self.recent.opened(
                self.board.bench.path, int(self.board.bench.settings["recent_count"])
            )
            self._try(lambda: save_recent(self.recent, self.folder / "recent.json"))

    def pin(self, path: str, pinned: bool) -> None:
        """Keep a recent file at the top, or let it go from there."""
        self.recent = self.recent.with_pin(path, pinned)
        self._try(lambda: save_recent(self.recent, self.folder / "recent.json"))

    def look_at_disk(self) -> None:
        """Say once when another program has changed the open file."""
        path, known = self.board.bench.path, self.board.bench.digest
        if path is None or known is None or self._told_of_disk:
            return
        from sketcher.part.store import changed_on_disk

        try:
            changed = changed_on_disk(path, known)
        except SketcherError:
            return
        if changed:
            self._told_of_disk = True
            self.board.bench.say(
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
        try:  # the version that it came from: saving asks before it replaces another
            self.board.load(part, chosen.original, saved=False, digest=chosen.digest or UNKNOWN)
        except Stopped:
            return self._not_opened(chosen.path.name)
        self.keeper.keep()
        if self.keeper.key not in (None, chosen.key):
            self.keeper.copies.discard(chosen.key)
        self.board.bench.say("This is what was kept; save it to put it into its file.", "warning")
        return True

    # Leaving.

    def may_leave(self) -> bool:
        """Return whether the window may close; asks when there is unsaved work."""
        from sketcher.board.files.open_and_save import may_leave

        try:
            return may_leave(self.board, self.host)
        except SketcherError as error:
            self.board.bench.say(str(error), "error", error.place)
            self.host.tell("The part cannot be saved", str(error))
            return False

    def close(self) -> None:
        """Write what is remembered and give the file free."""
        self.save_settings()
        self.claim.leave()

    def save_settings(self) -> None:
        """Write the settings."""
        self._try(lambda: save_settings(self.board.bench.settings, self.folder / "settings.json"))

    def _try(self, work: Callable[[], None]) -> None:
        try:
            work()
        except FileError as error:
            self.board.bench.say(str(error), "error", error.place)
