"""The PDF of a marked sheet, made where the hand-in is, or of what a picture of it shows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from sketcher.marking.comparison import Comparison
from sketcher.marking.hand_in import HandIn
from sketcher.marking.mark_tables import ungraded_reason
from sketcher.marking.marked_view import MarkedView, hand_view, marked_view
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
        return self.of_view(marked_view(comparison), marks, entry)

    def of_ungraded(
        self, key: Part, marks: Marks, entry: ClassEntry, hand_in: HandIn | None
    ) -> bytes:
        """Return the PDF of a hand-in without points."""
        return self.of_ungraded_view(key, marks, entry, hand_view(key, hand_in))

    def of_view(self, shown: MarkedView, marks: Marks, entry: ClassEntry) -> bytes:
        """Return the PDF of a hand-in, of what a picture of it shows."""
        from sketcher.exchange.pdf import pdf_bytes
        from sketcher.marking.marked_sheet import sheet_of_view

        return pdf_bytes(sheet_of_view(shown, marks, self._label(entry)))

    def of_ungraded_view(
        self, key: Part, marks: Marks, entry: ClassEntry, shown: MarkedView | None
    ) -> bytes:
        """Return the PDF of a hand-in without points; `shown` is None where nothing was read."""
        from sketcher.exchange.pdf import pdf_bytes
        from sketcher.marking.ungraded_sheet import ungraded_pages

        told = replace(marks, ungraded=ungraded_reason(entry, marks, self.names))
        return pdf_bytes(ungraded_pages(key, told, self._label(entry), shown))

    def _label(self, entry: ClassEntry) -> str:
        return entry.label(self.names, self.codes.get(entry.number, ""))
