"""Copies of what was ruled of a class and is in no file yet, so that a crash loses none of it.

There is one copy for each folder of hand-ins; it is offered when that folder is chosen again.
"""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

from sketcher.errors import FileError
from sketcher.marking.marking_file import (
    MARKING_SUFFIX,
    ClassMarking,
    load_marking,
    save_marking,
)
from sketcher.part.atomic import said
from sketcher.part.autosave import key_of_file


class MarkingCopies:
    """The copies in one folder, which is made when the first is written.

    Parameters
    ----------
    folder : path-like
        Where they are; the caller names it.
    """

    def __init__(self, folder: str | os.PathLike[str]) -> None:
        self.folder = Path(folder)

    def _path(self, hand_ins: Path) -> Path:
        return self.folder / f"{key_of_file(hand_ins)}{MARKING_SUFFIX}"

    def keep(self, hand_ins: Path, marking: ClassMarking) -> None:
        """Write the copy of the marking of a folder.

        Raises
        ------
        FileError
            When it cannot be written.
        """
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise FileError(str(self.folder), said(error), "save the marking as a file") from None
        save_marking(marking, self._path(hand_ins))

    def left_behind(self, hand_ins: Path) -> ClassMarking | None:
        """Return the marking of a folder that came into no file; None where none can be read."""
        path = self._path(hand_ins)
        if not path.exists():
            return None
        try:
            return load_marking(path)
        except FileError:
            return None

    def discard(self, hand_ins: Path) -> None:
        """Remove the copy of a folder's marking, where it is."""
        with contextlib.suppress(OSError):
            self._path(hand_ins).unlink()
