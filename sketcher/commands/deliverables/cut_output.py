"""The cutter's file: ``--cut OUT.dxf``."""

from __future__ import annotations

import argparse
from collections.abc import Collection, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from sketcher.terminal import ExportOutput, ExportWork, progress

if TYPE_CHECKING:
    from sketcher.exchange.outputs import Form
    from sketcher.inspect.inspection import Inspection
    from sketcher.part.atomic import Put


def _form() -> Form:
    from sketcher.exchange.outputs import CUTTING

    return CUTTING


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--pieces", action="store_true",
                        help="single lines and arcs in place of polylines")


def _make(work: ExportWork) -> Iterator[str]:
    return write_cutting(work.inspection, work.place, work.args.pieces, work.despite, work.put)


def write_cutting(
    inspection: Inspection, path: str | Path, pieces: bool, despite: Collection[str], put: Put
) -> Iterator[str]:
    """Make the cutting file; yield what it holds and the cautions that go with it."""
    from sketcher.exchange.dxf_cut import CAUTIONS, write_cut
    from sketcher.inspect.words import length

    unit = inspection.part.unit
    with progress("exporting"):
        written = write_cut(inspection, path, pieces, despite, put)
    yield (f"{path}: {written.outside} outside and {written.inside} inside contours, "
           f"{length(written.length, unit)} of cut, unit {unit}")
    yield from (f"  mind: {finding.code}: {finding.text}" for finding in inspection.findings)
    for caution in CAUTIONS:
        yield f"  caution: {caution}"


OUTPUT = ExportOutput("cut", "OUT.dxf", "the cutting DXF to export", _form, _options, _make,
                      ("pieces",), rank=1)
