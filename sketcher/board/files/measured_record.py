"""The inspection record on the desk: what was measured, kept in a CSV file beside the part.

That is ``NAME.record.csv`` beside ``NAME.profile.json``, with the columns of
`drafting.record.CSV_COLUMNS`, of which only `id` and `measured` are read back.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from sketcher.board.files.export_job import export
from sketcher.board.job import QUICK, AtOnce, Worker
from sketcher.board.steps.bench import Bench, fingerprint
from sketcher.drafting.record import FAIL, PASS, RecordRow, cells, record
from sketcher.errors import QuantityError
from sketcher.exchange.measured_file import read_measured
from sketcher.exchange.outputs import FILLED_RECORD, Form, Outputs
from sketcher.exchange.outputs import RECORD as EMPTY_RECORD
from sketcher.exchange.record_file import write_record
from sketcher.inspect.release import stamp_codes
from sketcher.part.store import SUFFIX
from sketcher.part.value import Part
from sketcher.quantity.written import evaluate_written

RECORD = ".record.csv"


def record_path(bench: Bench) -> Path | None:
    """Return where the record of the part on the bench lies; None while the part has no file."""
    if bench.path is None:
        return None
    name = bench.path.name
    stem = name[: -len(SUFFIX)] if name.endswith(SUFFIX) else bench.path.stem
    return bench.path.with_name(f"{stem}{RECORD}")


class Recording:
    """Measured values of one part as they are typed.

    Parameters
    ----------
    part : Part
        The solved part.
    measured : dict, optional
        What is known already, by the rows' ids.
    stamp : sequence of str
        Codes of the findings for which its pages are stamped.
    """

    def __init__(
        self, part: Part, measured: dict[str, float] | None = None, stamp: Sequence[str] = ()
    ) -> None:
        self.part, self.stamp = part, stamp
        self.measured = dict(measured or {})
        self.known: dict[Path, str | None] = {}  # fingerprints of files that were read or written
        self._saved = dict(self.measured)

    @property
    def rows(self) -> tuple[RecordRow, ...]:
        """The record as it stands."""
        return record(self.part, self.measured)

    def cells(self) -> list[tuple[str, ...]]:
        """Return the record as text, a tuple a dimension."""
        return [cells(self.part, row) for row in self.rows]

    @property
    def is_changed(self) -> bool:
        """Whether anything was typed that is in no file."""
        return self.measured != self._saved

    def type(self, name: str, text: str) -> None:
        """Take a measured value as typed; an empty text takes it away.

        Raises
        ------
        QuantityError
            When it cannot be understood; what was there stays.
        """
        if not text.strip():
            self.measured.pop(name, None)
            return
        row = next((row for row in self.rows if row.id == name), None)
        if row is None:
            raise QuantityError(f"bindings.{name}", "is no dimension of the drawing")
        quantity = "angle" if row.angular else "length"
        place = f"measured.{name}"
        self.measured[name] = evaluate_written(text, quantity, self.part.unit, {}, place)

    def summary(self) -> str:
        """Say how many pass, fail and are still to be measured."""
        verdicts = [row.verdict for row in self.rows if row.lower is not None]
        left = len(verdicts) - verdicts.count(PASS) - verdicts.count(FAIL)
        return (f"{verdicts.count(PASS)} pass, {verdicts.count(FAIL)} fail, "
                f"{left} still to be measured")

    def write(
        self, path: Path, outputs: Outputs | None = None, worker: Worker | None = None
    ) -> None:
        """Write the record as CSV or PDF, into outputs if some are planned; a CSV keeps values."""
        if outputs is None:
            write_record(self.part, path, self.measured, self.stamp)
        else:
            export(worker or AtOnce(), outputs, "Writing the record", write_record,
                   self.part, path, self.measured, self.stamp,
                   quick=QUICK if path.suffix == ".csv" else 0.0)
        if path.suffix.lower() == ".csv":
            self._saved = dict(self.measured)
            self.known[path] = fingerprint(path)


def opened_record(bench: Bench) -> Recording:
    """Return the record of the part on the bench, with what its file beside the part holds.

    Raises
    ------
    FileError
        When there is such a file and it cannot be read.
    """
    path, stamp = record_path(bench), stamp_codes(bench.derived.inspection())
    if path is None or not path.exists():
        return Recording(bench.part, None, stamp)
    version = fingerprint(path)  # before it is read: a change in between is then noticed
    recording = Recording(bench.part, read_measured(bench.part, path), stamp)
    recording.known[path] = version
    return recording


def replaceable(recording: Recording, path: Path) -> Form:
    """Return what a record written to a path may replace unasked.

    A file with measured values only when they were read from it or written to it here, and nobody
    has changed it since.
    """
    known = recording.known.get(path)
    return FILLED_RECORD if known is not None and fingerprint(path) == known else EMPTY_RECORD
