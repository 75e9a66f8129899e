"""``sketcher open``: open the window."""

from __future__ import annotations

import argparse
import os
import sys

from sketcher.errors import SketcherError
from sketcher.terminal import Command

LESSON = """\
Opens the window, with a part if one is named. The window needs a screen; every other command works
without one."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", nargs="?", help="a part, NAME.profile.json")


def open_window(args: argparse.Namespace) -> int:
    """Open the window, with a part if one is named; what happens without a command."""
    if not has_screen():
        raise SketcherError("open", "there is no screen here", "the other commands need none")
    return show_window([args.file] if args.file else [])


def has_screen() -> bool:
    """Tell whether a window can be shown; Qt ends the process where it cannot."""
    if sys.platform in {"win32", "darwin"} or os.environ.get("QT_QPA_PLATFORM"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def show_window(arguments: list[str]) -> int:
    """Open the window and return its exit status when it is closed."""
    from sketcher.desk.app import run

    return run(arguments)


COMMAND = Command("open", "open the window", LESSON, _options, open_window, rank=6)
