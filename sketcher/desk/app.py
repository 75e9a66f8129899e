"""Start the window; every Qt object lives inside `run`."""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path

from PySide6.QtCore import QLocale, QStandardPaths
from PySide6.QtWidgets import QApplication

from sketcher.desk.crash import Watch
from sketcher.desk.plain_imports import plain_imports

NAME = "part-profile-sketcher"


def data_folder() -> Path:
    """Return the folder for settings, recent files, recovery copies and the crash file."""
    named = os.environ.get("SKETCHER_DATA")
    if named:
        return Path(named)
    place = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.AppDataLocation)
    return Path(place)


def has_screen() -> bool:
    """Say whether a window can be shown here; Qt ends the process where it cannot."""
    if sys.platform in ("win32", "darwin") or os.environ.get("QT_QPA_PLATFORM"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def run(argv: list[str]) -> int:
    """Show the window until it is closed; return the exit status.

    Parameters
    ----------
    argv : list of str
        A part's file to open, or nothing.
    """
    if not has_screen():
        sys.stderr.write(
            "sketcher: there is no screen to show the window on; "
            "the commands inspect, solve, order and export work without one\n"
        )
        return 2
    app = QApplication.instance() or QApplication([NAME])
    assert isinstance(app, QApplication)
    app.setApplicationName(NAME)
    app.setDesktopFileName(NAME)
    QLocale.setDefault(QLocale.c())
    watch = Watch(data_folder())
    broken = watch.start()
    status = _show(app, watch, argv, broken)
    watch.stop()
    return status


def _show(app: QApplication, watch: Watch, argv: list[str], broken: str) -> int:
    # Nothing that is made at the start is garbage: collecting then only costs time.
    gc.disable()
    with plain_imports():
        from sketcher.board.files.last_seen import load_last_seen
        from sketcher.board.files.recent_files import load_recent
        from sketcher.board.settings import load_settings
        from sketcher.desk.theme import dress, load_font
        from sketcher.desk.window_frame import WindowFrame
        from sketcher.desk.window_memory import recalled

    folder = data_folder()
    settings, said = load_settings(folder / "settings.json")
    look = dress(app, settings["look"], load_font())
    recent = load_recent(folder / "recent.json")
    last = load_last_seen(folder) if not argv else None
    frame = WindowFrame(recent.there(), recent.pinned, recalled(folder), last)
    frame.unfold()

    with plain_imports():
        from sketcher.desk.warming import Warming
        from sketcher.desk.window import MainWindow

        desk = MainWindow(settings, folder, look, frame)
    watch.tell, watch.rescue = desk.tell, desk.keeper.keep
    frame.take(desk, desk.may_close)
    desk.begin(Path(argv[0]) if argv else None, (*said, *_after_crash(broken, watch)))
    gc.freeze()
    gc.enable()
    Warming(desk).begin()
    status = app.exec()
    watch.tell = watch.rescue = None
    desk.shut()
    frame.deleteLater()
    app.processEvents()
    return int(status)


def _after_crash(broken: str, watch: Watch) -> tuple[str, ...]:
    if not broken.strip():
        return ()
    keep = watch.path.with_name("crash-before.txt")
    keep.write_text(broken, encoding="utf-8")
    return (f"The last run ended with an error; what it said is in {keep}.",)
