"""Parts in files: load, save, and notice when somebody else changed the file."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from sketcher.errors import FileError, SketcherError
from sketcher.part import file_text as text
from sketcher.part.atomic import digest, read_bytes, write_bytes
from sketcher.part.value import Part

SUFFIX = ".profile.json"


@dataclass(frozen=True, slots=True)
class Stored:
    """A part as read from a file, with the fingerprint of what was read."""

    part: Part
    path: Path
    digest: str


def open_file(path: str | os.PathLike[str]) -> Stored:
    """Read a part's file.

    Sides that the file leaves out stay open: the first solve searches them.

    Raises
    ------
    FileError
        When the file cannot be read or is not a part; the place begins with the path.
    """
    part, data = _read(path)
    return Stored(part, Path(path), digest(data))


def load(path: str | os.PathLike[str]) -> Part:
    """Read a part's file; see `open_file`."""
    return _read(path)[0]


def _read(path: str | os.PathLike[str]) -> tuple[Part, bytes]:
    data = read_bytes(path, text.MAX_BYTES)
    try:
        return text.read(data), data
    except SketcherError as error:
        place = f"{path}: {error.place}" if error.place else str(path)
        raise FileError(place, error.problem, error.remedy) from None


def save(part: Part, path: str | os.PathLike[str], known: str | None = None) -> str:
    """Write a part's file in one step; return the fingerprint of what was written.

    Parameters
    ----------
    part : Part
        What to write.
    path : path-like
        Where to; a symbolic link is followed, the file's mode is kept.
    known : str, optional
        Fingerprint of the file as it was last read or written; when the file on disk is another by
        now nothing is written. Left out, whatever is there is replaced.

    Raises
    ------
    FileError
        When the file cannot be written or was changed by somebody else; the old file stays.
    """
    data = content(part, path)
    if known is not None and changed_on_disk(path, known):
        raise FileError(str(path), "the file was changed by another program since it was read",
                        "save under another name, or open it again")
    write_bytes(path, data)
    return digest(data)


def content(part: Part, path: str | os.PathLike[str]) -> bytes:
    """Return what a part's file holds.

    Raises
    ------
    FileError
        When a file cannot hold the part; the place is `path`.
    """
    try:
        return text.write(part).encode("utf-8")
    except FileError as error:
        raise FileError(str(path), error.problem, error.remedy) from None
    except UnicodeEncodeError:
        raise FileError(str(path), "a text holds half of a character", "retype it") from None


def changed_on_disk(path: str | os.PathLike[str], known: str) -> bool:
    """Tell whether a file is there and is not the one that is known; a missing one is not."""
    if not os.path.exists(path):
        return False
    return digest(read_bytes(path, text.MAX_BYTES)) != known
