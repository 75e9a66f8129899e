"""The file of a cut that was ordered."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path
from typing import TYPE_CHECKING

from sketcher.board.board import Board
from sketcher.board.files.cutting_form import CutOrder, keep_values
from sketcher.board.files.export_job import export
from sketcher.board.files.open_and_save import suggested
from sketcher.board.files.replace_question import asked_place
from sketcher.board.window_port import Host
from sketcher.inspect.words import length
from sketcher.part.atomic import Put, write_bytes
from sketcher.quantity.units import UNIT_NAMES

if TYPE_CHECKING:
    from sketcher.exchange.dxf_cut import CutFile
    from sketcher.inspect.inspection import Inspection

TITLE = "Export a DXF for cutting"
CLOSED, PIECES = "closed contours", "single lines, arcs and circles"


def export_ordered(
    board: Board, host: Host, despite: frozenset[str], order: CutOrder
) -> bool:
    """Write the DXF of an order, where a person says; return whether it was written.

    Raises
    ------
    SketcherError
        When it cannot be cut so, or not be written.
    Stopped
        When it was stopped; nothing is written then.
    """
    from sketcher.exchange.dxf_cut import named_unit
    from sketcher.exchange.outputs import CUTTING

    bench = board.bench
    unit = board.part.unit
    name = suggested(bench, ".dxf")
    name = suggested(bench, f"-{unit}.dxf") if named_unit(name, unit) else name
    place = asked_place(bench, host, TITLE, CUTTING, ".dxf", name)
    if place is None:
        return False
    path, outputs = place
    export(bench.worker, outputs, "Exporting the cut", write_ordered,
           bench.derived.inspection(), path, order, despite)
    keep_values(order, board.part, bench.settings)
    how = f"{'R12, ' if order.form == 'r12' else ''}{PIECES if order.pieces else CLOSED}"
    kerf = order.settings.kerf
    size = f"offset for a kerf of {length(kerf, unit)}" if kerf else "nominal size"
    known = f", despite {', '.join(sorted(despite))}" if despite else ""
    minded = named_unit(path, unit) if order.form == "r12" else ()
    bench.say(f"{path.name} exported, in {UNIT_NAMES[unit]}: {how}, {size}{known}."
              + "".join(f" Mind: {line}." for line in minded), "done")
    bench.notices.add("exported")
    return True


def write_ordered(
    inspection: Inspection, path: Path, order: CutOrder, despite: Collection[str],
    put: Put = write_bytes,
) -> CutFile:
    """Write the DXF of an order; for another process, which finds it by its name."""
    from sketcher.exchange.dxf_cut import write_cut

    return write_cut(inspection, path, order.pieces, despite, put, order.settings,
                     order.form)
