"""The advice for cutters as a section, and as one row beside what a sound part measures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sketcher.desk.panes.sections import (
    Section,
    SectionEntry,
    number,
    readable,
    sentence,
    words,
)
from sketcher.inspect.words import bare_length, listed

NAME, TITLE = "cutting", "Cutting"
COLUMNS = ("Rule", "Where", "Found", "Wanted")
PENDING = "\N{HORIZONTAL ELLIPSIS}"
"""In the place of what is not known yet."""


@dataclass(frozen=True, slots=True)
class CuttingTold:
    """What the rules of cutting say of a part: all of it, and in short."""

    section: Section
    short: SectionEntry


def short_entry(text: str) -> SectionEntry:
    """Return the row that stands for all advice while there is none."""
    return SectionEntry((words(TITLE), words(text)))


def cutting_told(inspection: Any) -> CuttingTold:
    """Return the advice for cutters; it may take long, so it is made beside the window."""
    from sketcher.inspect.advice_rows import advice_in_short, advice_rows
    from sketcher.inspect.rules import rules

    unit, silent = inspection.part.unit, inspection.unjudged
    known, found = rules(), advice_rows(inspection.cutting)
    rows = [
        SectionEntry(
            (
                words(f"{row.advice.rule}, {row.advice.process}"), words(row.where),
                number(row.advice.found, bare_length(row.advice.found, unit)),
                number(row.advice.wanted, f"{'at most' if row.advice.most else 'at least'} "
                                          f"{bare_length(row.advice.wanted, unit)}"),
            ),
            row.ids, row.advice.at, row.advice.found, row.serious, row.advice.why,
            sentence(known[row.advice.rule].why), sentence(known[row.advice.rule].mend), leads=True,
            about=row.advice.ids,
        )
        for row in found
    ]
    short = advice_in_short(inspection, found)
    rows = [*map(_against, inspection.cut_findings), *rows, *map(_remark, inspection.remarks)]
    if silent or not inspection.advised:
        told = inspection.unadvised or silent
        rows.append(SectionEntry((words("no advice"), words(told), words(""), words(""))))
    note = "" if not (silent or not inspection.advised) else \
        "not all judged" if found else "not judged"
    section = Section(NAME, TITLE, COLUMNS, tuple(rows), wraps=True, count=short.places, note=note)
    return CuttingTold(
        readable(section),
        SectionEntry((words(TITLE), words(short.text)), short.ids, short.at, short.found,
                     short.strong, leads=True))


def _against(finding: Any) -> SectionEntry:
    """What the material forbids, in the place of the worst advice."""
    return SectionEntry((words(finding.code), words(finding.text), words(""), words("")),
                        bad=True, tip=finding.text, why=finding.why, mend=finding.mend)


def _remark(remark: Any) -> SectionEntry:
    about = f"{remark.rule}, {listed(remark.processes)}"
    return SectionEntry((words(about), words(remark.text), words(""), words("")),
                        tip=remark.text)
