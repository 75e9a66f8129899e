"""The PDF of a marked sheet, made where the hand-in is: in the process that marked it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from sketcher.marking.comparison import Comparison
from sketcher.marking.hand_in import HandIn
from sketcher.marking.mark_tables import ungraded_reason
from sketcher.marking.marks import Marks
from sketcher.marking.roster import ClassEntry
from sketcher.part.value import Part, frozen


@dataclass(frozen=True, slots=True)
class SheetMaker:
    """Makes the content of a marked sheet's file.

    Parameters
    ----------
    names : bool
        Whether a student's name stands on it.
    codes : mapping of str to str
        What the variant of each number is called.
    """

    names: bool = True
    codes: Mapping[str, str] = field(default_factory=frozen)

    def __call__(self, comparison: Comparison, marks: Marks, entry: ClassEntry) -> bytes:
        """Return the PDF of a hand-in."""
        from sketcher.exchange.pdf import pdf_bytes
        from sketcher.marking.marked_sheet import marked_sheet

        return pdf_bytes(marked_sheet(comparison, marks, self._label(entry)))

    def of_ungraded(
        self, key: Part, marks: Marks, entry: ClassEntry, hand_in: HandIn | None
    ) -> bytes:
        """Return the PDF of a hand-in without points."""
        from sketcher.exchange.pdf import pdf_bytes
        from sketcher.marking.ungraded_sheet import ungraded_sheet

        told = replace(marks, ungraded=ungraded_reason(entry, marks, self.names))
        return pdf_bytes(ungraded_sheet(key, told, self._label(entry), hand_in))

    def _label(self, entry: ClassEntry) -> str:
        return entry.label(self.names, self.codes.get(entry.number, ""))
