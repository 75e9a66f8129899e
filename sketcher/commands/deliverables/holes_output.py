"""The list of holes as a table: ``--holes OUT.csv``."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING

from sketcher.terminal import ExportOutput, ExportWork

if TYPE_CHECKING:
    from sketcher.exchange.outputs import Form


def _form() -> Form:
    from sketcher.exchange.hole_file import HOLE_LIST

    return HOLE_LIST


def _options(parser: argparse.ArgumentParser) -> None:
    """Add none: the zero and the direction of X are those of the drawing's table."""


def _make(work: ExportWork) -> Iterator[str]:
    from sketcher.exchange.hole_file import hole_file
    from sketcher.inspect.release import release_marking_out
    from sketcher.inspect.words import length, plural
    from sketcher.shop.hole_rows import hole_rows

    part = work.inspection.part
    release_marking_out(work.inspection, work.despite)
    holes = hole_rows(part)
    work.put(work.place, hole_file(holes))
    slots = sum(row.kind != "hole" for row in holes.rows)
    (x, y), turn = holes.axes.zero, holes.axes.turn
    along = f", X turned by {turn:g}°" if turn else ""
    yield (f"{work.place}: {plural(len(holes.rows) - slots, 'hole')} and {plural(slots, 'slot')}, "
           f"from X {length(x, part.unit)} Y {length(y, part.unit)} of the part{along}")
    yield from (f"  mind: {finding.code}: {finding.text}" for finding in work.inspection.findings)


OUTPUT = ExportOutput("holes", "OUT.csv", "the list of holes to export, place and size of each",
                      _form, _options, _make, (), rank=3)
