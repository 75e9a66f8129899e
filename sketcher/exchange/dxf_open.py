"""Open a DXF: bytes to the library's document, mended as far as that goes, and what was mended."""

from __future__ import annotations

import io
import logging
import re
import struct
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sketcher.errors import FileError, SketcherError
from sketcher.exchange.dxf_written import CLASSES, with_class_marks, written_decimals
from sketcher.part.atomic import read_bytes

MAX_BYTES = 64 * 1024 * 1024
BINARY = b"\r\n\x1a\x00"
"""What ends the first 22 bytes of the binary form (DXF reference, binary DXF files)."""
REMEDY = "export it again as DXF R2000 or later"


@dataclass(frozen=True, slots=True)
class OpenDxf:
    """A document of the library, what was mended, the decimals of its text (None: in full)."""

    document: Any
    mended: tuple[str, ...]
    decimals: int | None


@contextmanager
def quiet() -> Iterator[None]:
    """Keep the library's log off the terminal; what it mends is told in the content."""
    log = logging.getLogger("ezdxf")
    before = log.level
    log.setLevel(logging.CRITICAL)
    try:
        yield
    finally:
        log.setLevel(before)


def open_dxf(path: Path) -> OpenDxf:
    """Open a file in the text or the binary form.

    Raises
    ------
    FileError
        When the file is missing, too large, or no DXF; it says where it is damaged.
    """
    data = read_bytes(path, MAX_BYTES)
    if not data.strip():
        raise FileError(str(path), "is empty", REMEDY)
    if b"ENTITIES" not in data:  # the library would make an empty drawing of anything
        raise FileError(str(path), "is not a readable DXF: it has no section ENTITIES", REMEDY)
    if data[:22].endswith(BINARY):
        return _binary(path)
    text = data.decode("latin-1")  # the structure is plain ASCII in every encoding
    text, *told = _whole_text(text)
    if not told:
        sound = _sound(data, text)
        if sound is not None:
            document, auditor = sound
            return OpenDxf(document, tuple(_told(auditor)), written_decimals(text))
    try:
        document, auditor = _recovered(path, text.encode("latin-1"))
    except FileError:
        marked, lacking = with_class_marks(text)
        if not lacking:
            raise
        document, auditor = _recovered(path, marked.encode("latin-1"))
        told += [f"{count} {kind} without {CLASSES[kind]}, the mark of its class, taken as if it "
                 "had it" for kind, count in lacking.items()]
    return OpenDxf(document, (*told, *_told(auditor)), written_decimals(text))


def unreadable() -> tuple[type[Exception], ...]:
    """Everything that the library raises on a damaged file, besides its own errors."""
    from ezdxf.lldxf.const import DXFError

    return (DXFError, ValueError, LookupError, TypeError, AttributeError, ArithmeticError,
            AssertionError, struct.error, RecursionError)


def not_dxf(path: Path, error: Exception) -> SketcherError:
    """Return the error for a file that the library fails on, with what it says of the place."""
    from ezdxf.lldxf.const import DXFError

    if isinstance(error, SketcherError):
        return error
    said = ""
    if isinstance(error, DXFError) and str(error):
        said = ": " + re.sub(r"\s+", " ", str(error)).strip().rstrip(".")
    return FileError(str(path), f"is not a readable DXF{said}", REMEDY)


def _binary(path: Path) -> OpenDxf:
    import ezdxf

    try:
        document = ezdxf.readfile(str(path))
        _give_pictures(document)
        return OpenDxf(document, tuple(_told(document.audit())), None)
    except unreadable() as error:
        raise not_dxf(path, error) from None


def _sound(data: bytes, text: str) -> tuple[Any, Any] | None:
    """Return the document of a file and its auditor, or None where more than tables is to mend.

    The library's mending reader takes twice the time of its plain one.
    """
    import ezdxf
    from ezdxf.filemanagement import dxf_stream_info
    from ezdxf.lldxf.encoding import decode_dxf_unicode

    try:
        info = dxf_stream_info(io.StringIO(text))
        decoded = data.decode(info.encoding, "surrogateescape")
        if "\\U+" in decoded:
            decoded = decode_dxf_unicode(decoded)
        document = ezdxf.read(io.StringIO(decoded, newline=None))
        _give_pictures(document)
        auditor = document.audit()
    except unreadable():
        return None
    if any(map(_drawn, (*auditor.errors, *auditor.fixes))):
        return None
    return document, auditor


def _give_pictures(document: Any) -> None:
    """Give dimensions without a picture an empty one: the library would drop them for the lack."""
    for each in list(document.entitydb.values()):
        if each.dxftype() == "DIMENSION" and each.get_geometry_block() is None:
            each.dxf.geometry = document.blocks.new_anonymous_block(type_char="D").name


def _recovered(path: Path, data: bytes) -> tuple[Any, Any]:
    from ezdxf import recover

    try:
        document, auditor = recover.read(io.BytesIO(data))
    except unreadable() as error:
        raise not_dxf(path, error) from None
    return document, auditor


def _whole_text(text: str) -> tuple[str, ...]:
    """Return the text, up to its last whole entity where it breaks off, and what was done."""
    tail = text.rstrip()
    if tail[tail.rfind("\n") + 1:].strip() == "EOF":
        return (text,)
    starts = [match.start() for match in re.finditer(r"^ *0 *\r?\n *[A-Z]", tail, re.MULTILINE)]
    kept = tail[:starts[-1]] if starts else tail
    closing = "" if re.search(r"ENDSEC\s*$", kept) else "0\nENDSEC\n"
    return (f"{kept.rstrip()}\n{closing}0\nEOF\n",
            f"the file breaks off in line {tail.count(chr(10)) + 1}, without its end mark: what "
            "stood from there on is missing")


def _drawn(problem: Any) -> bool:
    """Whether something drawn hangs on a problem: not so on handles, owners and dictionaries."""
    from ezdxf.audit import AuditError as Code

    return problem.code >= Code.INVALID_EXTRUSION_VECTOR or problem.code in {
        Code.REMOVED_INVALID_GRAPHIC_ENTITY, Code.MISSING_REQUIRED_SEQEND,
        Code.UNDEFINED_BLOCK, Code.INVALID_BLOCK_REFERENCE_CYCLE,
        Code.UNDEFINED_BLOCK_NAME, Code.DECODING_ERROR, Code.INVALID_INTEGER_VALUE,
        Code.INVALID_FLOATING_POINT_VALUE,
        Code.ORPHANED_LAYOUT_ENTITY, Code.MODELSPACE_NOT_FOUND}


def _told(auditor: Any) -> Iterator[str]:
    """Say what the library mended: entities one by one, the file's own tables in one line."""
    told: Counter[str] = Counter()
    kept = 0
    for problem in (*auditor.errors, *auditor.fixes):
        if _drawn(problem):
            told[str(problem.message).rstrip(".")] += 1
        else:
            kept += 1
    for message, count in told.items():
        yield message if count == 1 else f"{message} ({count} times)"
    if kept:
        yield (f"{kept} {'entry' if kept == 1 else 'entries'} of the file's own tables put right, "
               "which hold nothing drawn")
