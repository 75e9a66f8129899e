"""The sheet and the inspection record of a part, and one PDF with the sheets of several."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from sketcher.errors import EditError, ExportError
from sketcher.terminal import ExportWork, minded, progress

if TYPE_CHECKING:
    from sketcher.drafting.page import Page
    from sketcher.part.atomic import Put


def measured_values(work: ExportWork) -> dict[str, float] | None:
    """Return what was measured on the part, where a record with such values is given."""
    from sketcher.exchange.measured_file import read_measured

    args, part = work.args, work.inspection.part
    if args.measured is None:
        return None
    if args.record is None and not part.drawing.inspection_page:
        raise EditError("--measured", "the drawing of this part has no inspection page",
                        "add --record OUT.csv")
    return read_measured(part, args.measured)


def sheet_output(work: ExportWork, measured: dict[str, float] | None) -> Iterator[str]:
    """Draw the sheet of a part; yield what was written and what has to be minded."""
    from sketcher.drafting.center_findings import center_findings
    from sketcher.exchange.sheet_file import write_sheet
    from sketcher.inspect.release import UNBUILDABLE, release_made, release_sheet, stamp_codes

    inspection = work.inspection
    part, stamp = inspection.part, stamp_codes(inspection)
    on_paper = center_findings(part)
    release_sheet(inspection, work.despite, on_paper)
    yield from minded(on_paper if work.args.cut else (*inspection.findings, *on_paper))
    with progress("drawing"):
        sheet = write_sheet(part, work.place, measured, stamp, True, work.put)
    release_made(part.name, sheet.lacks, work.despite)
    yield from (f"wrote {file}" for file in sheet.files)
    yield from [f"  mind: {sheet.caution}"] if sheet.caution else []
    yield from (f"  mind: {UNBUILDABLE}: {lack}" for lack in sheet.lacks)
    yield from [f"  mind: stamped: {', '.join(stamp)}"] if stamp else []


def record_output(work: ExportWork, measured: dict[str, float] | None) -> Iterator[str]:
    """Write the inspection record of a part; yield that, and what is outside its limits."""
    from sketcher.exchange.record_file import write_record
    from sketcher.inspect.release import stamp_codes

    inspection = work.inspection
    if not inspection.report.converged:
        raise ExportError(inspection.part.name, "the bindings cannot all hold",
                          "see which with 'sketcher inspect'")
    write_record(inspection.part, work.place, measured, stamp_codes(inspection), work.put)
    yield f"wrote {work.place}"


def outside_limits(work: ExportWork, measured: dict[str, float] | None) -> list[str]:
    """Return the dimensions that were measured outside their limits."""
    from sketcher.drafting.record import FAIL, record

    if measured is None:
        return []
    return [row.id for row in record(work.inspection.part, measured) if row.verdict == FAIL]


@dataclass(slots=True)
class SheetsTogether:
    """The sheets of several parts for one PDF.

    A part that is refused keeps all of it from being written: one that lacks a part would look
    whole.
    """

    drawings: list[Sequence[Page]] = field(default_factory=list)

    def add(self, work: ExportWork) -> Iterator[str]:
        """Draw one part more; yield what has to be minded."""
        from sketcher.drafting.center_findings import center_findings
        from sketcher.drafting.sheet import pages
        from sketcher.exchange.sheet_file import lacks_of
        from sketcher.inspect.release import (
            UNBUILDABLE,
            release_made,
            release_sheet,
            stamp_codes,
        )

        inspection, part = work.inspection, work.inspection.part
        on_paper, stamp = center_findings(part), stamp_codes(inspection)
        release_sheet(inspection, work.despite, on_paper)
        yield from minded((*inspection.findings, *on_paper))
        with progress(f"drawing {part.name}"):
            self.drawings.append(pages(part, None, stamp))
            lacks = lacks_of(part, self.drawings[-1][0], stamp)
        release_made(part.name, lacks, work.despite)
        yield from (f"  mind: {UNBUILDABLE}: {lack}" for lack in lacks)
        yield from [f"  mind: stamped: {', '.join(stamp)}"] if stamp else []

    def write(self, place: str | Path, put: Put) -> Iterator[str]:
        """Write the PDF; yield what was written."""
        from sketcher.exchange.sheet_file import write_sheets

        sheet = write_sheets(self.drawings, place, put)
        yield from (f"wrote {file}" for file in sheet.files)
        yield from [f"  mind: {sheet.caution}"] if sheet.caution else []


