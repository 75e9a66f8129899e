"""The deductions of a hand-in as a table, and what is told below it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from sketcher.drafting.lettering import text_width
from sketcher.drafting.paper_scale import scale_text
from sketcher.marking.marked_view import MarkedView
from sketcher.marking.marks import Deduction, Marks
from sketcher.marking.ruled_rows import BOLD, PAD, RING, SMALL, CellText, RuledRows, said
from sketcher.marking.rules import marking_rules
from sketcher.quantity.format import angle, exact
from sketcher.quantity.units import UNIT_NAMES

SHARE = 0.17  # of a table's width that found and wanted take at most, each
SCALE_SAME = 1e-3
LEAST_SHARED, MOST_SHARED = 3, 12
"""So many mistakes that take nothing any more share a row, and so many are told in it."""


def points_text(points: float) -> str:
    """Return points as they are written: without decimals that say nothing."""
    return exact(round(points, 2))


def signed_text(points: float) -> str:
    """Return points that are given, with a plus, or taken, with a minus."""
    sign = "−" if points < 0.0 else "+"
    return f"{sign}{points_text(abs(points))}"


def by_hand_texts(marks: Marks) -> tuple[str, ...]:
    """Return what a person gave or took beside the rules, each as ``By hand: −5, late``."""
    return tuple(f"By hand: {', '.join(filter(None, (signed_text(each.points), each.words)))}"
                 for each in marks.by_hand)


def total_text(marks: Marks) -> str:
    """Return ``87 of 100``."""
    return f"{points_text(marks.points)} of {points_text(marks.of)}"


def deduction_rows(marks: Marks, width: float) -> RuledRows:
    """Return the deductions of a hand-in as a table of a width in mm."""
    titles = ("no", "points", "what", "found", "wanted")
    rows = (*_rows(marks.kept), *(
        (said(""), said(signed_text(each.points), right=True),
         CellText(tuple(filter(None, ("By hand", each.words))), bold=True), said(""), said(""))
        for each in marks.by_hand))
    values = [max(_need(titles[k]), min(SHARE * width, max(
        (text_width(row[k].paragraphs[0], SMALL) + 2.0 * PAD + 0.2 for row in rows
         if row[k].paragraphs), default=0.0))) for k in (3, 4)]
    number = 2.0 * PAD + max([2.0 * RING, *(
        text_width(row[0].paragraphs[0], SMALL) + 0.2 for row in rows if row[0].paragraphs)])
    points = _need(titles[1])
    what = width - number - points - sum(values)
    return RuledRows(titles, (number, points, what, *values), rows, "deductions")


def _need(title: str) -> float:
    return BOLD * text_width(title, SMALL) + 2.0 * PAD + 0.2


def _rows(some: Sequence[Deduction]) -> Iterator[tuple[CellText, ...]]:
    """Give a row for each deduction; those of a rule that take nothing any more share one."""
    for rule, group in groupby(some, key=lambda each: each.rule):
        members = list(group)
        nothing = [each for each in members if not each.points and not each.comment]
        if len(nothing) < LEAST_SHARED:
            nothing = []
        yield from (_row(each) for each in members if each not in nothing)
        if nothing:
            yield _shared_row(rule, nothing)


def _shared_row(rule: str, some: Sequence[Deduction]) -> tuple[CellText, ...]:
    said_so = [f"{each.number}: {each.mistake.text}" for each in some[:MOST_SHARED]]
    if len(some) > MOST_SHARED:
        said_so.append(f"and {len(some) - MOST_SHARED} more")
    numbers = f"{some[0].number}–{some[-1].number}"
    return (said(numbers), said("0", right=True),
            CellText((f"{marking_rules()[rule].heading}: more of it", *said_so), bold=True),
            said(""), said(""))


def _row(each: Deduction) -> tuple[CellText, ...]:
    mistake = each.mistake
    title = marking_rules()[each.rule].heading
    if mistake.count > 1:
        title += f", at {mistake.count} places"
    comment = (f"Comment: {each.comment}",) if each.comment else ()
    return (CellText((str(each.number),), ringed=True),
            said(f"−{points_text(each.points)}" if each.points else "0", right=True),
            CellText((title, mistake.text, *comment), bold=True),
            said(mistake.found), said(mistake.wanted))


def notes_of(shown: MarkedView | None, marks: Marks) -> tuple[str, ...]:
    """Return what is told below the table, a paragraph each."""
    notes = []
    if any(not each.points for each in marks.kept):
        notes.append("0 points: more of the same mistake, whose most has been taken off already.")
    waived = [str(each.number) for each in marks.deductions if each.ruling == "waived"]
    if waived:
        notes.append(f"Waived: {', '.join(waived)}.")
    how = _how(shown, marks)
    if how:
        notes.append(f"{how}: shown as it lies on the key.")
    notes += [f"In reading the file: {told}" for told in marks.told]
    return (*notes, *_undecided(marks))


def _undecided(marks: Marks) -> Iterator[str]:
    """Give a paragraph for each reason for which rules could not be decided."""
    reasons: dict[str, list[str]] = {}
    for name, reason in marks.undecided.items():
        reasons.setdefault(reason, []).append(marking_rules()[name].title)
    for reason, titles in reasons.items():
        if reason.split()[0] in ("has", "is", "does"):
            reason = f"the file {reason}"
        yield f"Not decided, nothing taken off ({reason}): {'; '.join(titles)}."


def _how(shown: MarkedView | None, marks: Marks) -> str:
    """Return how a hand-in was drawn where that is not as the key is."""
    said_so = []
    if shown is not None and marks.unit and marks.unit != shown.unit:
        said_so.append(f"in {UNIT_NAMES[marks.unit]}")
    if shown is not None and abs(shown.scale - 1.0) > SCALE_SAME:
        said_so.append(f"at {scale_text(round(shown.scale, 3))}")
    if abs(marks.turned % 360.0) > 1e-9:
        said_so.append(f"turned by {angle(round(marks.turned, 2))}")
    if marks.mirrored:
        said_so.append("mirrored")
    return f"Drawn {', '.join(said_so)}" if said_so else ""
