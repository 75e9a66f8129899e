"""Recovery files: what was not saved when the program ended without being asked to.

Each open part has one recovery file and beside it a small note: which file it belongs to, that
file's fingerprint, the process that wrote it and when. A clean close removes both.
"""

from __future__ import annotations

import contextlib
import json
import os
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from sketcher.errors import FileError
from sketcher.part import file_text as text
from sketcher.part.atomic import digest, read_bytes, write_bytes
from sketcher.part.leftovers import clear_folder
from sketcher.part.store import SUFFIX, changed_on_disk
from sketcher.part.value import Part

NOTE_SUFFIX = ".note.json"
MAX_NOTE = 64 * 1024


@dataclass(frozen=True, slots=True)
class Recovery:
    """One recovery file that was found.

    `original` is the file that it belongs to (None for a part that never had one), `digest` that
    file's fingerprint when it was last read or written, `pid` and `started` the process and when it
    began (in the system's own count, where the system tells), `time` seconds since 1970.
    """

    key: str
    path: Path
    original: Path | None
    digest: str | None
    pid: int
    time: float
    started: str | None = None

    @property
    def is_left_behind(self) -> bool:
        """True when the program that wrote it runs no longer."""
        if not is_running(self.pid):
            return True
        # The number may belong to another program by now: that one started at another time.
        now = started_at(self.pid)
        return self.started is not None and now is not None and now != self.started

    @property
    def original_is(self) -> Literal["none", "same", "other", "gone"]:
        """How the file on disk stands to the version that this copy came from.

        A version that nobody noted counts as another, for then it cannot be known.
        """
        if self.original is None:
            return "none"
        if not self.original.exists():
            return "gone"
        try:
            changed = self.digest is None or changed_on_disk(self.original, self.digest)
        except FileError:
            return "other"
        return "other" if changed else "same"

    def part(self) -> Part:
        """Return the part in it.

        Raises
        ------
        FileError
            When the file cannot be read.
        """
        return text.read(read_bytes(self.path, text.MAX_BYTES))


class RecoveryFolder:
    """The recovery files in one folder, which is made when the first is written.

    Parameters
    ----------
    folder : path-like
        Where they are; the caller names it.
    """

    def __init__(self, folder: str | os.PathLike[str]) -> None:
        self.folder = Path(folder)

    def key(self, original: str | os.PathLike[str] | None, name: str = "") -> str:
        """Return this process's key of a part: by its file, or by `name` while it has none.

        Two windows on one file keep a copy each; neither takes the other's away.
        """
        if original is None:
            return f"unsaved-{os.getpid()}-{_hash(name)}"
        return f"{key_of_file(original)}-{os.getpid()}"

    def keep(
        self,
        key: str,
        part: Part,
        original: str | os.PathLike[str] | None = None,
        digest: str | None = None,
    ) -> Path:
        """Write the recovery file of a part and its note; return the file's path.

        Raises
        ------
        FileError
            When the folder or a file cannot be written.
        """
        note = {
            "original": None if original is None else os.path.realpath(original),
            "digest": digest,
            "pid": os.getpid(),
            "started": started_at(os.getpid()),
            "time": time.time(),
        }
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise FileError(str(self.folder), str(error.strerror or error), "") from None
        path = self.folder / f"{key}{SUFFIX}"
        # The part first: a note without a part is ignored, a part without a note would be lost.
        write_bytes(path, text.write(part).encode("utf-8"))
        write_bytes(self.folder / f"{key}{NOTE_SUFFIX}", json.dumps(note).encode("utf-8"))
        return path

    def discard(self, key: str) -> None:
        """Remove a recovery file and its note, where they are."""
        for suffix in (SUFFIX, NOTE_SUFFIX):
            with contextlib.suppress(OSError):
                (self.folder / f"{key}{suffix}").unlink()

    def left_behind(self) -> tuple[Recovery, ...]:
        """Return the recovery files whose program no longer runs, the newest first.

        What killed programs left half written, and notes without a part, are removed.
        """
        clear_folder(self.folder)
        for note in self.folder.glob(f"*{NOTE_SUFFIX}"):
            if not note.with_name(note.name.removesuffix(NOTE_SUFFIX) + SUFFIX).exists():
                with contextlib.suppress(OSError):
                    note.unlink()
        return tuple(recovery for recovery in self.all() if recovery.is_left_behind)

    def all(self) -> tuple[Recovery, ...]:
        """Return every recovery file of the folder, the newest first."""
        if not self.folder.is_dir():
            return ()
        found = [self._read(path) for path in self.folder.glob(f"*{SUFFIX}")]
        return tuple(sorted(found, key=lambda recovery: -recovery.time))

    def _read(self, path: Path) -> Recovery:
        key = path.name.removesuffix(SUFFIX)
        try:
            note = json.loads(read_bytes(self.folder / f"{key}{NOTE_SUFFIX}", MAX_NOTE))
            original, started = note["original"], note.get("started")
            return Recovery(
                key,
                path,
                None if original is None else Path(original),
                None if note["digest"] is None else str(note["digest"]),
                int(note["pid"]),
                float(note["time"]),
                None if started is None else str(started),
            )
        except (FileError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
            # A note that is missing or broken must not hide the part.
            with contextlib.suppress(OSError):
                return Recovery(key, path, None, None, 0, path.stat().st_mtime)
            return Recovery(key, path, None, None, 0, 0.0)


def key_of_file(path: str | os.PathLike[str]) -> str:
    """Return what stands for a file, by whatever link or relative path it is named."""
    return _hash(os.path.realpath(path))


def is_running(pid: int) -> bool:
    """Tell whether a process of this number runs."""
    if pid <= 0:
        return False
    if sys.platform == "win32":
        return _is_running_on_windows(pid)
    try:
        os.kill(pid, 0)  # signal 0 only asks
    except ProcessLookupError:
        return False
    except (PermissionError, OverflowError):
        return True
    return True


def started_at(pid: int) -> str | None:
    """Return when a process started, in the system's own count; None where it does not tell."""
    try:
        line = Path(f"/proc/{pid}/stat").read_text(encoding="ascii", errors="replace")
        # Field 22, counted behind the name, which may hold spaces and parentheses (proc(5)).
        return line.rpartition(")")[2].split()[19]
    except (OSError, IndexError):
        return None


def _is_running_on_windows(pid: int) -> bool:
    # os.kill would end the process here; opening it only asks.
    import ctypes

    kernel = getattr(ctypes, "windll").kernel32  # noqa: B009 - only exists there
    handle = kernel.OpenProcess(0x1000, False, pid)
    if not handle:
        return False
    kernel.CloseHandle(handle)
    return True


def _hash(name: str) -> str:
    return digest(name.encode("utf-8", "surrogatepass"))[:24]
