"""Writing a file so that it is either the old one or the new one, never half of one."""

from __future__ import annotations

import contextlib
import hashlib
import os
import secrets
import time
from pathlib import Path

from sketcher.errors import FileError

RETRIES = 5
"""Tries to replace a file that another program holds open for a moment (Windows)."""


def digest(data: bytes) -> str:
    """Return the fingerprint by which a changed file is noticed (SHA-256)."""
    return hashlib.sha256(data).hexdigest()


def read_bytes(path: str | os.PathLike[str], most: int) -> bytes:
    """Return a file's content.

    Raises
    ------
    FileError
        When it cannot be read or has more than `most` bytes.
    """
    try:
        with open(path, "rb") as file:
            data = file.read(most + 1)
    except (OSError, ValueError) as error:
        raise FileError(str(path), _said(error), "check the path") from None
    if len(data) > most:
        raise FileError(str(path), f"the file has more than {most} bytes", "it is not a part")
    return data


def write_bytes(path: str | os.PathLike[str], data: bytes) -> None:
    """Replace a file's content in one step.

    The new content goes into a temporary file in the same folder, is forced to the disk and takes
    the old one's place; symbolic links are followed and the file's mode is kept. When anything
    fails the old file stays as it was.

    Raises
    ------
    FileError
        When the file cannot be written.
    """
    try:
        target = os.path.realpath(path)
        mode = _mode(target)
        if mode is not None and not os.access(target, os.W_OK):
            raise FileError(str(path), "the file is read-only", "save under another name")
        temporary = f"{target}.{secrets.token_hex(4)}.new"
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
        handle = os.open(temporary, flags, 0o666)  # the umask has its say
    except (OSError, ValueError) as error:
        raise FileError(str(path), _said(error), "save in another folder") from None
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if mode is not None:
            os.chmod(temporary, mode)
        _replace(temporary, target)
    except OSError as error:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise FileError(str(path), _said(error), "the file on disk is unchanged") from None
    _sync_folder(Path(target).parent)


def _mode(target: str) -> int | None:
    try:
        return os.stat(target).st_mode & 0o7777
    except FileNotFoundError:
        return None


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


def _sync_folder(folder: Path) -> None:
    """Force the new directory entry to the disk where the system knows how."""
    if os.name != "posix":
        return
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _said(error: Exception) -> str:
    text = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return text[:1].lower() + text[1:]
