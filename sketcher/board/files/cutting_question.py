"""What is asked before a cutting file is written: what the rules say, and the cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sketcher.board.board import Board
from sketcher.board.job import Job
from sketcher.board.window_port import Host
from sketcher.inspect.words import UNADVISED, bare_length, length, plural

if TYPE_CHECKING:
    from sketcher.inspect.inspection import Inspection


def advice_lines(inspection: Inspection) -> tuple[str, ...]:
    """Return what each cutting rule minds, one line each, with what was found and is wanted."""
    unit = inspection.part.unit
    if not inspection.advised:
        return (f"no advice: {UNADVISED}",)
    return tuple(
        f"{advice.rule}, {advice.process}: {advice.where} is {bare_length(advice.found, unit)}, "
        f"wanted {'at most' if advice.most else 'at least'} {length(advice.wanted, unit)}"
        for advice in inspection.cutting)


def goes_to_cutter(board: Board, host: Host, title: str) -> bool:
    """Show what the cutting rules say of the part, and the cautions; return whether to go on.

    Raises
    ------
    Stopped
        When working the advice out was stopped.
    """
    from sketcher.exchange.dxf_cut import CAUTIONS

    derived = board.bench.derived
    lines = board.bench.worker.finish(
        Job("Advice for cutters", advice_lines, (derived.inspection(),), derived.quick))
    opening = "" if not lines else (
        f"The cutting rules mind {plural(len(lines), 'place')}. The values are a trade's starting "
        "values; the machine at hand may do better or worse.")
    return host.ask_reading(title, opening, lines, CAUTIONS, "Export")
