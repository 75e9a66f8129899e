"""The inspection record as CSV and PDF; `measured_file` reads the CSV back."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from sketcher.drafting.record import CSV_COLUMNS, FAIL, RecordRow, cells, record
from sketcher.errors import FileError
from sketcher.exchange.outputs import RECORD_MADE_HERE
from sketcher.part.atomic import Put, write_bytes
from sketcher.part.value import Part

SUFFIXES = (".csv", ".pdf")


def write_record(
    part: Part, path: str | os.PathLike[str], measured: Mapping[str, float] | None = None,
    stamp: Sequence[str] = (), put: Put = write_bytes,
) -> list[str]:
    """Write the inspection record of a solved part.

    Parameters
    ----------
    part : Part
        The solved part.
    path : path
        ``.csv`` or ``.pdf``.
    measured : mapping of str to float, optional
        Measured values by the rows' ids, in the part's unit or in degrees.
    stamp : sequence of str
        Codes of the findings for which the pages are stamped, see `inspect.release`.
    put : callable
        Takes path and content; left out, the file is written in one step.

    Returns
    -------
    list of str
        Ids of the dimensions whose measured value is outside its limits.

    Raises
    ------
    FileError
        For another suffix, or when the file cannot be written.
    """
    rows = record(part, measured)
    suffix = Path(path).suffix.lower()
    if suffix == ".csv":
        put(path, csv_text(part, rows).encode("utf-8-sig"))
    elif suffix == ".pdf":
        from sketcher.drafting.sheet import pages_alone
        from sketcher.exchange.pdf import write_pdf

        write_pdf(pages_alone("inspection", part, measured, stamp), path, put, RECORD_MADE_HERE)
    else:
        raise FileError(str(path), f"no record is written as {suffix or 'this'!r}",
                        f"end the name with {' or '.join(SUFFIXES)}")
    return [row.id for row in rows if row.verdict == FAIL]


def csv_text(part: Part, rows: tuple[RecordRow, ...]) -> str:
    """Return the record as comma separated values with a title line; last the rows' ids."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(CSV_COLUMNS)
    writer.writerows((*cells(part, row), row.id) for row in rows)
    return stream.getvalue()
