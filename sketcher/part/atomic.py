"""Reading and writing a file so that it is the old one or the new one, never half of one.

And a saved file is still the same file (see `write_bytes`). Where it has to be written into and
that is cut short, it is a beginning of the copy beside it, and reading it gives the copy; under its
other names in other folders it does not.
"""

from __future__ import annotations

import contextlib
import os
import stat
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias, TypeVar

from sketcher.errors import FileError
from sketcher.part.leftovers import (
    Temporary,
    clear_leftovers,
    is_left_over,
    journal_of,
    remove_leftover,
)

Meant = TypeVar("Meant")

Put: TypeAlias = Callable[[str | os.PathLike[str], bytes], None]
"""Takes a file's path and content: `write_bytes`, or what keeps them until more is ready."""

RETRIES = 5
"""Tries to replace a file that another program holds open for a moment (Windows)."""

READING = os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0)
"""Without waiting: a FIFO that takes the place of a file must not hang the program."""

KEPT_ATTRIBUTES = ("user.", "system.posix_acl_access")
"""Extended attributes that go from the old file to the new one: a person's own and the ACL."""


def digest(data: bytes) -> str:
    """Return the fingerprint by which a changed file is noticed (SHA-256)."""
    import hashlib  # loads a library of ciphers, which reading alone does not need

    return hashlib.sha256(data).hexdigest()


def read_bytes(path: str | os.PathLike[str], most: int) -> bytes:
    """Return a file's content.

    Where saving into a file with several names was interrupted (see `write_bytes`), the content
    that was being saved is returned.

    Raises
    ------
    FileError
        When it cannot be read, is no regular file (a folder, a FIFO, a device), or has more than
        `most` bytes.
    """
    place = str(path)
    try:
        data = _content(path, most, place)
        whole = _being_saved(path, most)
        if len(data) < len(whole) and whole.startswith(data):
            data = whole
    except FileError:
        raise
    except (OSError, ValueError) as error:
        raise FileError(place, said(error), "check the path") from None
    if len(data) > most:
        raise FileError(place, f"the file has more than {most} bytes", "it is not a part")
    return data


def read_text(path: str | os.PathLike[str], most: int, save_as: str = "UTF-8") -> str:
    """Return the text of a UTF-8 file, a mark of the byte order left out.

    Raises
    ------
    FileError
        When the file cannot be read, or is no such text; `save_as` says how to save it then.
    """
    try:
        return read_bytes(path, most).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise FileError(
            str(path), "the file is not UTF-8 text", f"save it as {save_as}") from None


def read_text_as(
    path: str | os.PathLike[str], most: int, meaning: Callable[[str], Meant]
) -> Meant:
    """Return what the text of a UTF-8 file means.

    Parameters
    ----------
    path : path-like
    most : int
        Bytes that it may have.
    meaning : callable
        Its FileErrors get the file's name before their place.

    Raises
    ------
    FileError
        When the file cannot be read, is no such text, or means nothing.
    """
    text = read_text(path, most)
    try:
        return meaning(text)
    except FileError as error:
        place = f"{path}: {error.place}" if error.place else str(path)
        raise FileError(place, error.problem, error.remedy) from None


def write_bytes(path: str | os.PathLike[str], data: bytes) -> None:
    """Replace a file's content in one step.

    The new content goes into a temporary file in the same folder, is forced to the disk and takes
    the old one's place. Symbolic links are followed; mode, owner, group, ACL and a person's own
    extended attributes stay. When anything fails the old file stays as it was. What an
    interrupted save of the same file left over is removed.

    A file with several names (hard links), or with an owner whom this user cannot give it, would
    lose them if another took its place. It is written into instead, with the whole new content
    beside it (`NAME.saving`) until that is done: whoever reads a file that was cut short reads
    that.

    Raises
    ------
    FileError
        When the file cannot be written, is read-only, or what is there is no regular file.
    """
    place = str(path)
    try:
        refuse_special(path, place)
        target = os.path.realpath(path)
        old = status_of(target)
        if old is not None and not _writable(target, old):
            raise FileError(place, "the file is read-only", "save under another name")
        clear_leftovers(target)
        temporary = Temporary.beside(target, 0o666 if old is None else 0o600)
    except FileError:
        raise
    except (OSError, ValueError) as error:
        raise FileError(place, said(error), "save in another folder") from None
    _Saving(place, target, data, old).through(temporary)


def refuse_special(path: str | os.PathLike[str], place: str) -> None:
    """Raise a FileError when what is at a path is there and is not a regular file.

    A device or FIFO is not opened to find out, for opening one can already do something.
    """
    status = status_of(path)
    if status is not None and not stat.S_ISREG(status.st_mode):
        raise FileError(place, f"is {_nature(status.st_mode)}, not a file", "name a file")


def status_of(path: str | os.PathLike[str]) -> os.stat_result | None:
    """Return what the system tells of a path, links followed; None when nothing is there."""
    try:
        return os.stat(path)
    except FileNotFoundError:
        return None


def may_be_written(path: str | os.PathLike[str]) -> bool:
    """Tell whether a file is not there or is not read-only."""
    status = status_of(path)
    return status is None or _writable(os.fspath(path), status)


def said(error: Exception) -> str:
    """Return the system's words for an error, without its number and the path."""
    text = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return text[:1].lower() + text[1:]


@dataclass(frozen=True, slots=True)
class _Saving:
    """One save on its way: where to (as named, and in truth), what, and what was there."""

    place: str
    target: str
    data: bytes
    old: os.stat_result | None

    def through(self, temporary: Temporary) -> None:
        """Fill the temporary file and let it take the old one's place, or be copied into it."""
        try:
            with os.fdopen(temporary.handle, "wb") as file:
                file.write(self.data)
                file.flush()
                os.fsync(file.fileno())
                into = self.old is not None and not _alike(temporary, self.target, self.old)
                if os.name == "posix":  # still locked, so that nobody takes it for a leftover
                    self._finish(temporary.path, into)
            if os.name != "posix":  # an open file cannot be renamed there
                self._finish(temporary.path, into)
        except OSError as error:
            with contextlib.suppress(OSError):
                os.unlink(temporary.path)
            raise FileError(self.place, said(error), "the file on disk is unchanged") from None

    def _finish(self, temporary: str, into: bool) -> None:
        journal = journal_of(self.target)
        if not into:
            _replace(temporary, self.target)
            _sync_folder(self.target)
            remove_leftover(journal)
            return
        if not is_left_over(journal):
            raise OSError(0, "another program is saving this file now")
        _replace(temporary, journal)
        _sync_folder(journal)
        before = _content(self.target, -1, self.place)
        try:
            _write_into(self.target, self.data)
        except OSError as error:
            self._put_back(before, journal, error)
            raise
        os.unlink(journal)

    def _put_back(self, before: bytes, journal: str, error: OSError) -> None:
        try:
            _write_into(self.target, before)
        except OSError:
            os.truncate(self.target, 0)  # needs no room; the journal begins with nothing as well
            raise FileError(
                self.place, f"{said(error)}, in the middle of saving",
                f"the whole content is in {journal} and is read from there",
            ) from None
        os.unlink(journal)


def _content(path: str | os.PathLike[str], most: int, place: str) -> bytes:
    """Return at most one byte more than `most`, or everything when it is negative."""
    refuse_special(path, place)
    handle = os.open(path, READING)
    with os.fdopen(handle, "rb") as file:
        if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):  # it changed in this moment
            raise FileError(place, "is not a file", "name a file")
        return file.read(most + 1 if most >= 0 else -1)


def _being_saved(path: str | os.PathLike[str], most: int) -> bytes:
    """Return what a save of a file with several names was writing; empty when there is none."""
    journal = journal_of(os.path.realpath(path))
    with contextlib.suppress(OSError, FileError):  # another person's cannot be read
        return _content(journal, most, journal)
    return b""


def _nature(mode: int) -> str:
    if stat.S_ISDIR(mode):
        return "a folder"
    if stat.S_ISFIFO(mode):
        return "a FIFO"
    return "a socket" if stat.S_ISSOCK(mode) else "a device"


def _writable(target: str, status: os.stat_result) -> bool:
    """Whether the file may be changed; one that nobody may write is read-only for root as well."""
    return bool(status.st_mode & 0o222) and os.access(target, os.W_OK)


def _alike(temporary: Temporary, target: str, old: os.stat_result) -> bool:
    """Give the new file the old one's owner, mode and ACL; tell whether it can take its place."""
    if old.st_nlink > 1:
        return False
    try:
        if not hasattr(os, "fchown"):
            os.chmod(temporary.path, stat.S_IMODE(old.st_mode))
            return True
        new = os.fstat(temporary.handle)
        if (new.st_uid, new.st_gid) != (old.st_uid, old.st_gid):
            os.fchown(temporary.handle, old.st_uid, old.st_gid)
        os.fchmod(temporary.handle, stat.S_IMODE(old.st_mode))  # chown takes bits away: after it
        _keep_attributes(temporary.handle, target)
    except OSError:
        return False
    return True


def _keep_attributes(handle: int, target: str) -> None:
    if not hasattr(os, "listxattr"):
        return
    try:
        theirs, ours = os.listxattr(target), os.listxattr(handle)
    except OSError:
        return  # the file system has none
    for name in ours:
        if name.startswith(KEPT_ATTRIBUTES) and name not in theirs:
            os.removexattr(handle, name)  # what the folder gives to new files
    for name in theirs:
        if name.startswith(KEPT_ATTRIBUTES):
            os.setxattr(handle, name, os.getxattr(target, name))


def _write_into(target: str, data: bytes) -> None:
    """Write a file in its place, emptied first: cut short, it is a beginning of the new content."""
    handle = os.open(target, os.O_WRONLY | getattr(os, "O_BINARY", 0))
    with os.fdopen(handle, "wb") as file:
        os.ftruncate(file.fileno(), 0)
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _replace(temporary: str, target: str) -> None:
    for attempt in range(RETRIES):
        try:
            os.replace(temporary, target)
        except PermissionError:
            if os.name != "nt" or attempt == RETRIES - 1:
                raise
            time.sleep(0.2)
        else:
            return


def _sync_folder(target: str) -> None:
    """Force the new directory entry to the disk where the system knows how."""
    if os.name != "posix":
        return
    with contextlib.suppress(OSError):
        handle = os.open(Path(target).parent, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
