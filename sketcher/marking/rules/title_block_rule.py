"""Entries that a title block lacks: title, name of who drew it, date, scale.

Of the fields that ISO 7200 (from memory) wants, these are asked for in classes (common practice, no
source). A block without labels that can be read is not judged.
"""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.marking.marking_rule import MarkingRule, Mistake, Undecided
from sketcher.marking.no_dimensions import NO_SHEET
from sketcher.marking.title_entries import has_sheet, title_entries


def decide(comparison: Comparison) -> tuple[Mistake, ...] | Undecided:
    """Return the entries that are missing or empty."""
    if not has_sheet(comparison):
        return NO_SHEET
    entries = title_entries(comparison)
    if not any(entry.label_at for entry in entries):
        return Undecided("its title block has no labels that can be read")
    labels = [entry.label_at for entry in entries if entry.label_at is not None]
    found = []
    for entry in entries:
        if not entry.is_given:
            where = labels[0] if entry.label_at is None else entry.label_at
            text = (f"the title block has no place for the {entry.name}"
                    if entry.label_at is None
                    else f"the {entry.name} in the title block is left empty")
            found.append(Mistake(comparison.laid_point(where), "", entry.name, text))
    return tuple(sorted(found, key=lambda mistake: mistake.at))


RULE = MarkingRule("title-block", "entries of the title block", 1.0, 4.0, "sheet", decide, rank=0)
