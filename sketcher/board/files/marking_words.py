"""What the page of a class says."""

from __future__ import annotations

from statistics import fmean, median

from sketcher.board.files.marking_book import BookRow, ClassBook
from sketcher.marking.class_run import ClassProgress
from sketcher.marking.deduction_table import notes_of, points_text, total_text
from sketcher.marking.hand_in import LayerRole
from sketcher.marking.hand_rulings import Verdict

VERDICTS: dict[Verdict, str] = {
    "open": "", "accepted": "\N{CHECK MARK} accepted", "changed": "changed",
    "waived": "\N{MULTIPLICATION X} waived"}
LAYER_ROLES: dict[LayerRole, str] = {
    "outline": "outline", "center": "center lines", "dimension": "dimensions",
    "construction": "construction", "sheet": "border and title block"}
FIRST = ("A class is marked in three steps: choose the key and the folder of the hand-ins here, "
         "say under Rubric what each rule costs, and press Mark the class. The marks then stand "
         "under Marks, each with its picture, to be accepted, changed or waived.")


def who(row: BookRow, names: bool) -> str:
    """Return whose a hand-in is: by number, with the name where names are shown."""
    return row.entry.label(names)


def points_words(row: BookRow) -> str:
    """Return what a hand-in is given, or that it is not."""
    star = "*" if row.marks.by_hand else ""
    return f"{total_text(row.marks)}{star}" if row.marks.has_points else "! not marked"


def cell_words(row: BookRow, rule: str) -> str:
    """Return what a rule takes off a hand-in: points, with ``*`` where a person changed them."""
    if row.marks.ungraded:
        return ""
    if rule in row.marks.undecided:
        return "?"
    own = [each for each in row.marks.deductions if each.rule == rule]
    if not own:
        return ""
    ruled = any(each.ruling != "as found" for each in own)
    return f"{points_text(row.lost(rule))}{'*' if ruled else ''}"


def going_words(progress: ClassProgress | None, names: bool) -> str:
    """Return how far a class is."""
    if progress is None:
        return "Reading the key and the folder ..."
    return (f"{progress.done} of {progress.of} compared{progress.left_words}: "
            f"{progress.last.label(names)}")


def book_state(book: ClassBook, names: bool) -> str:
    """Return one line: what goes on, what is missing, or what came of it."""
    if book.going:
        return going_words(book.progress, names)
    if book.trouble == "stopped":
        return "Stopped: what was there before stays." if book.compared else (
            "Stopped before the class was marked.")
    if book.trouble:
        return f"! {book.trouble}"
    if book.lacks:
        return book.lacks
    if book.unkept:
        return f"! {book.unkept}"
    if book.compared is None:
        return "Ready: press Mark the class."
    if book.out_of_date:
        return "? Something was changed that asks for comparing anew: press Mark again."
    asked = sum(not row.answer for row in book.layers())
    if asked:
        return (f"? {class_words(book)} Asked under Class: what {asked} "
                f"{'layer is' if asked == 1 else 'layers are'} for.")
    return class_words(book)


def class_words(book: ClassBook) -> str:
    """Return what a class is given, in one line."""
    graded = [row.marks.points for row in book.rows if row.marks.has_points]
    words = [f"{len(graded)} of {len(book.rows)} hand-ins marked"]
    if graded:
        mean, middle = (points_text(round(each, 1)) for each in (fmean(graded), median(graded)))
        words.append(f"mean {mean}, median {middle}")
    left = sum(row.open for row in book.rows)
    if left:
        words.append(f"{left} deductions not looked at")
    absent = len(book.compared.listed.absent) if book.compared is not None else 0
    if absent:
        words.append(f"{absent} handed in nothing")
    alike = sum(bool(row.alike) for row in book.rows)
    if alike:
        words.append(f"{alike} look like copies")
    return "; ".join(words) + "."


def remarks(row: BookRow) -> tuple[str, ...]:
    """Return what is told of a hand-in beside its deductions, what asks for a person first."""
    told = [f"? Looks like a copy, nothing taken off: {each}." for each in row.alike]
    if row.values_of:
        told.append(f"? It has the values of number {row.values_of}.")
    if not row.entry.listed:
        told.append("? Its number does not stand in the roster.")
    if row.marks.ungraded:
        given = "It has its points by hand." if row.marks.by_hand else (
            "It can be given points by hand: H.")
        return (f"! Not marked: {row.marks.ungraded}. {given}", *told)
    return (*told, *notes_of(row.view, row.marks))
