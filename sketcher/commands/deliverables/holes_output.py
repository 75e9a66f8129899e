"""The list of holes as a table: ``--holes OUT.csv``."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING

from sketcher.terminal import ExportOutput, ExportWork, minded

if TYPE_CHECKING:
    from sketcher.exchange.outputs import Form


def _form() -> Form:
    from sketcher.exchange.hole_file import HOLE_LIST

    return HOLE_LIST


def _options(_: argparse.ArgumentParser, group: argparse._ActionsContainer) -> None:
    group.add_argument("--zero", metavar="POINT|EDGE,EDGE",
                       help="from where holes are measured, on the sheet too: a point, a hole, or "
                            "the corner where two edges meet; auto is a corner")
    group.add_argument("--along", metavar="EDGE|POINT,POINT",
                       help="which way their X runs: along an edge or from place to place; level")


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
    yield from minded(work.inspection.findings)


OUTPUT = ExportOutput("holes", "OUT.csv", "the list of holes to export, place and size of each",
                      _form, "the list of holes", _options, _make, ("zero", "along"), rank=20)
