"""The inspection record as CSV and PDF, and the measured values read back from the CSV."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Mapping
from pathlib import Path

from sketcher.drafting.record import COLUMNS, FAIL, Row, cells, record
from sketcher.errors import FileError, QuantityError
from sketcher.part.atomic import read_bytes, write_bytes
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part
from sketcher.quantity.parse import evaluate

MOST_BYTES = 4_000_000
SUFFIXES = (".csv", ".pdf")


def write_record(
    part: Part, path: str | os.PathLike[str], measured: Mapping[str, float] | None = None
) -> list[str]:
    """Write the inspection record of a solved part.

    Parameters
    ----------
    part : Part
        The solved part.
    path : path
        ``.csv`` or ``.pdf``.
    measured : mapping of str to float, optional
        Measured values by binding id, in the part's unit or in degrees.

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
        write_bytes(path, csv_text(part, rows).encode("utf-8-sig"))
    elif suffix == ".pdf":
        from sketcher.drafting.sheet import record_pages
        from sketcher.exchange.pdf import write_pdf

        write_pdf(record_pages(part, measured), path)
    else:
        raise FileError(str(path), f"no record is written as {suffix or 'this'!r}",
                        f"end the name with {' or '.join(SUFFIXES)}")
    return [row.id for row in rows if row.verdict == FAIL]


def csv_text(part: Part, rows: tuple[Row, ...]) -> str:
    """Return the record as comma separated values with a title line."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    writer.writerows(cells(part, row) for row in rows)
    return stream.getvalue()


def read_measured(part: Part, path: str | os.PathLike[str]) -> dict[str, float]:
    """Read the measured column of a record; empty cells are left out.

    Values may be written as everywhere in the program: ``1 5/8``, ``25.4 mm``, ``30°``.

    Raises
    ------
    FileError
        When the file is no record of this part or a value cannot be understood; names the line.
    """
    try:
        text = read_bytes(path, MOST_BYTES).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise FileError(str(path), "the file is not UTF-8 text", "save it as CSV UTF-8") from None
    # A spreadsheet of a country with a decimal comma writes semicolons.
    first = text.splitlines()[0] if text.strip() else ""
    reader = csv.DictReader(io.StringIO(text), delimiter=";" if ";" in first else ",")
    if not {"id", "measured"} <= set(reader.fieldnames or ()):
        raise FileError(str(path), "has no columns 'id' and 'measured'",
                        "start from a record that --record wrote")
    found: dict[str, float] = {}
    for line, row in enumerate(reader, 2):
        name, said = (row.get("id") or "").strip(), (row.get("measured") or "").strip()
        if not said:
            continue
        place = f"{path}, line {line}"
        binding = part.bindings.get(name)
        quantity = KINDS[binding.kind].quantity if binding is not None else None
        if quantity is None:
            raise FileError(place, f"the part has no dimension {name!r}",
                            "use the record of this part")
        try:
            found[name] = evaluate(said, quantity, part.unit, {}, place)
        except QuantityError as error:
            raise FileError(place, error.problem, error.remedy) from error
    return found
