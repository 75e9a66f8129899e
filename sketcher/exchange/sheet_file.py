"""Writes the finished drawing; the suffix of the file chooses the form."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from sketcher.drafting.page import Page
from sketcher.drafting.sheet import pages
from sketcher.errors import FileError
from sketcher.part.atomic import Put, write_bytes
from sketcher.part.value import Part

Writer: TypeAlias = Callable[[Sequence[Page], Path, Put], list[Path]]


@dataclass(frozen=True, slots=True)
class WrittenSheet:
    """The files of a sheet, and what to tell with them.

    Parameters
    ----------
    files : tuple of Path
    caution : str
        Tells of dimensions that found no room, or is empty.
    lacks : tuple of str
        What it takes more to make the part by the sheet alone, each with its place.
    """

    files: tuple[Path, ...]
    caution: str
    lacks: tuple[str, ...] = ()


def write_sheet(
    part: Part, path: str | os.PathLike[str], measured: Mapping[str, float] | None = None,
    stamp: Sequence[str] = (), judged: bool = False, put: Put = write_bytes,
) -> WrittenSheet:
    """Write the sheet of a solved part as PDF, SVG, PNG or DXF.

    Parameters
    ----------
    part : Part
        The solved part; `part.drawing` holds what the sheet shows.
    path : path
        ``.pdf`` holds all pages. ``.svg`` and ``.png`` hold one: further pages are written beside
        it as ``NAME-2.svg``. ``.dxf`` holds the first page, in the part's unit at its true size.
    measured : mapping of str to float, optional
        Measured values by binding id for the inspection page.
    stamp : sequence of str
        Codes of the findings for which the sheet is stamped, see `inspect.release`.
    judged : bool
        Whether to look what the sheet lacks, see `lacks_of`.
    put : callable
        Takes path and content; left out, each file is written in one step.

    Returns
    -------
    WrittenSheet
        The files written, and what to tell with them.

    Raises
    ------
    FileError
        For an unknown suffix or a file that cannot be written.
    SketcherError
        When the part does not fit on the sheet.
    """
    writer, target = _writer(path)
    drawn = pages(part, measured, stamp)
    lacks = lacks_of(part, drawn[0], stamp) if judged else ()
    return WrittenSheet(tuple(writer(drawn, target, put)), drawn[0].caution, lacks)


def lacks_of(part: Part, page: Page, stamp: Sequence[str] = ()) -> tuple[str, ...]:
    """Return what a drawing lacks to make the part by it alone, each with its place.

    Nothing is asked of an exercise without dimensions, of a stamped sheet, which says so itself,
    and of one with a table of holes, which is not read.
    """
    if stamp or not part.drawing.dimensions or part.drawing.hole_table:
        return ()
    from sketcher.drafting.rebuild import rebuild

    return tuple(lack.told() for lack in rebuild(page).lacks)


def write_sheets(
    drawings: Sequence[Sequence[Page]], path: str | os.PathLike[str], put: Put = write_bytes
) -> WrittenSheet:
    """Write the pages of several parts, in their order, into one PDF.

    Raises
    ------
    FileError
        When the file is no PDF, or cannot be written.
    """
    writer, target = _writer(path)
    if writer is not _pdf:
        raise FileError(str(target), "holds the drawing of one part",
                        "name a .pdf for the drawings of several")
    drawn = [page for pages_of_one in drawings for page in pages_of_one]
    cautions = [f"{pages_of_one[0].title}: {pages_of_one[0].caution}"
                for pages_of_one in drawings if pages_of_one[0].caution]
    return WrittenSheet(tuple(writer(drawn, target, put)), "; ".join(cautions))


def write_pages(
    drawn: Sequence[Page], path: str | os.PathLike[str], put: Put = write_bytes
) -> list[Path]:
    """Write pages as the suffix says, see `write_sheet`; return the files.

    Raises
    ------
    FileError
        For an unknown suffix or a file that cannot be written.
    """
    writer, target = _writer(path)
    return writer(drawn, target, put)


def _writer(path: str | os.PathLike[str]) -> tuple[Writer, Path]:
    """Return what writes a file by its suffix, and the file's path."""
    target = Path(path)
    writer = WRITERS.get(target.suffix.lower())
    if writer is None:
        raise FileError(str(target), f"no sheet is written as {target.suffix or 'this'!r}",
                        f"end the name with one of {', '.join(WRITERS)}")
    if not target.parent.is_dir():
        raise FileError(str(target), "the folder does not exist", "choose another folder")
    return writer, target


def numbered(path: Path, number: int) -> Path:
    """Return the file for a page: the path itself for the first, ``NAME-2.svg`` for the second."""
    return path if number == 1 else path.with_name(f"{path.stem}-{number}{path.suffix}")


def _pdf(drawn: Sequence[Page], path: Path, put: Put) -> list[Path]:
    from sketcher.exchange.pdf import pdf_bytes

    put(path, pdf_bytes(drawn))
    return [path]


def _svg(drawn: Sequence[Page], path: Path, put: Put) -> list[Path]:
    from sketcher.exchange.svg import svg_text

    files = [numbered(path, number) for number, _ in enumerate(drawn, 1)]
    for page, file in zip(drawn, files, strict=True):
        put(file, svg_text(page).encode())
    return files


def _png(drawn: Sequence[Page], path: Path, put: Put) -> list[Path]:
    from sketcher.exchange.pdf import write_png

    files = [numbered(path, number) for number, _ in enumerate(drawn, 1)]
    for page, file in zip(drawn, files, strict=True):
        write_png(page, file, put=put)
    return files


def _dxf(drawn: Sequence[Page], path: Path, put: Put) -> list[Path]:
    from sketcher.exchange.dxf_sheet import write_dxf_sheet

    write_dxf_sheet(drawn[0], path, put)
    return [path]


WRITERS: Mapping[str, Writer] = {".pdf": _pdf, ".svg": _svg, ".png": _png, ".dxf": _dxf}
"""Writer by suffix; a new form of the sheet is one entry here."""
