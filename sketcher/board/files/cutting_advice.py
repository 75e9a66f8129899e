"""What is read before a cutting file is written: what the rules say of the part, by process."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sketcher.board.window_port import STRONG
from sketcher.inspect.advice_rows import AdviceRow, advice_rows
from sketcher.inspect.words import bare_length, length, listed

if TYPE_CHECKING:
    from sketcher.inspect.inspection import Inspection


INDENT = "    "
"""Before a line that belongs to the heading above."""
REMARKS = "Of the material and the tables"


@dataclass(frozen=True, slots=True)
class ToRead:
    """What is read before a cutting file is written: lines, and of how many places they tell."""

    lines: tuple[str, ...]
    places: int


def advice_lines(inspection: Inspection) -> ToRead:
    """Return what the cutting rules say by process, each the worst first.

    What all processes mind is said once, and first; what is so thin that no cutter here makes it
    well is strong.
    """
    if not inspection.advised:
        return ToRead((f"no advice: {inspection.unadvised}",), 0)
    alike: dict[tuple[str, str, float], list[AdviceRow]] = {}
    for row in advice_rows(inspection.cutting):
        alike.setdefault((row.advice.rule, row.where, row.advice.found), []).append(row)
    groups: dict[str, list[str]] = {}
    for found in alike.values():
        rows = sorted(found, key=lambda row: row.advice.process)
        minding = listed(row.advice.process for row in rows).replace(", ", " and ")
        strong = rows[0].serious and len(rows) == len(inspection.processes)
        line = f"{INDENT}{STRONG if strong else ''}{_line(rows, inspection.part.unit)}"
        groups.setdefault(minding, []).append(line)
    lines = [line for minding in sorted(groups, key=lambda name: " and " not in name)
             for line in (f"{minding[:1].upper()}{minding[1:]}", *groups[minding])]
    remarks = [f"{INDENT}{remark.text}" for remark in inspection.remarks
               if not set(inspection.processes).isdisjoint(remark.processes)]
    if remarks:
        lines += [REMARKS, *remarks]
    return ToRead(tuple(lines), len(alike))


def _line(rows: Sequence[AdviceRow], unit: str) -> str:
    """Return what one rule says of a place, and what each process asks for."""
    first = rows[0].advice
    wanted = [f"{'at most' if row.advice.most else 'at least'} {length(row.advice.wanted, unit)}"
              + (f" ({row.advice.process})" if len(rows) > 1 else "") for row in rows]
    return (f"{first.rule}: {rows[0].where} is {bare_length(first.found, unit)}, "
            f"wanted {listed(wanted)}")
