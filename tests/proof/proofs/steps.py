"""Undo leads back to the very bytes from which an edit started, and redo to those it made.

A case makes 200 edits of every kind, one after the other, goes a few steps back and forth in the
middle, then undoes all of them and makes all of them again. A part is compared as it is written,
each state with what was written when the edit was made.
"""

from __future__ import annotations

from sketcher.board.steps.reach import check_reach
from sketcher.errors import SketcherError
from sketcher.part.check import check_changes
from sketcher.part.file_text import read, write
from sketcher.part.history import History
from tests.proof.edits import random_edit
from tests.proof.proof import Proof
from tests.proof.proofs.walks import starts
from tests.proof.tally import Case

EDITS = 200
MOST_TRIES = 20 * EDITS
FEWEST_CURVES, MOST_CURVES = 2, 50
"""Beyond these the next edit puts the first part in again: little fits so few or so many."""


def one_history(case: Case) -> None:
    random, first = case.random, starts()[case.number % len(starts())]
    history, written = History(first), [write(first)]
    done = 0
    for _ in range(MOST_TRIES):
        if done == EDITS:
            break
        if random.random() < 0.05:
            back_and_forth(case, history, written)
        before = history.part
        if not FEWEST_CURVES <= len(before.curves) <= MOST_CURVES and before is not first:
            history.push("start again", first)
            written[history.position:] = [write(first)]
            continue
        name, edit = random_edit(random, before)
        try:
            part = edit(before).part
            check_changes(before, part)
            check_reach(part)
        except SketcherError:
            case.tally.count("refused")
            part = before
        if write(before) != written[history.position]:
            case.tally.fault("changed", f"case {case.number}: {name} changed what it was given")
            return
        if history.push(name, part):
            done += 1
            text = write(part)
            written[history.position:] = [text]
            if read(text) != part:
                case.tally.fault("unreadable", f"case {case.number}: {name}: another part is read")
                return
    case.tally.count("edits", done)
    go(case, history, written, 0)
    go(case, history, written, len(written) - 1)


def back_and_forth(case: Case, history: History, written: list[str]) -> None:
    """Go some steps back, and not always all of them forth again."""
    last = history.position
    go(case, history, written, max(0, last - case.random.randint(1, 9)))
    go(case, history, written, case.random.randint(history.position, last))


def go(case: Case, history: History, written: list[str], position: int) -> None:
    """Undo or redo step by step; every state must be what was written when it was made."""
    while history.position != position:
        part = history.undo() if history.position > position else history.redo()
        case.tally.count("steps gone")
        if write(part) != written[history.position]:
            name = history.steps[history.position].name
            case.tally.fault("bytes", f"case {case.number}: step {history.position} ({name})")
            return


PROOF = Proof(
    "steps", "edits undone and redone: the very bytes, whatever came between", "edits",
    ("exception", "bytes", "changed", "unreadable", "hung"), whole=500, short=2, case=one_history,
    limit=120.0,
    minutes=6.0,
)
