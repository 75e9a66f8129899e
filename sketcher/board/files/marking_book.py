"""The book of a class: what is marked by what, what came of it, and what a person said of it.

Comparing is a job. Points, caps, switches and rulings are put upon what came of it at once; a limit
or a layer asks for a new comparing, and until then what is there stays shown.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Literal

from sketcher.board.board import Board
from sketcher.board.files.marking_copies import MarkingCopies
from sketcher.board.files.marking_job import ClassCompared, compare_class
from sketcher.board.files.marking_kept import KeptMarking
from sketcher.board.job import Job
from sketcher.errors import SketcherError
from sketcher.interrupt import Stopped
from sketcher.marking.asked_layers import AskedLayer, asked_layers
from sketcher.marking.class_run import ClassProgress
from sketcher.marking.class_worker import Marked
from sketcher.marking.hand_in import LayerRole
from sketcher.marking.hand_rulings import (
    REACH,
    HandRuling,
    Verdict,
    needs_comparing,
    remarked,
    ruled,
    said_anew,
)
from sketcher.marking.marked_view import MarkedView
from sketcher.marking.marking_file import ClassMarking, load_marking, save_marking
from sketcher.marking.marks import Deduction, Marks, PointsByHand
from sketcher.marking.roster import ClassEntry
from sketcher.marking.rubric import Rubric
from sketcher.marking.rules import marking_rules
from sketcher.part.value import Part, frozen


@dataclass(frozen=True)
class BookRow:
    """A hand-in as the book has it.

    Parameters
    ----------
    entry : ClassEntry
    marks : Marks
        By the rubric and the rulings that stand.
    view : MarkedView or None
        What its picture shows: of what could not be graded itself alone; None for what could not
        be read.
    rulings : tuple of HandRuling
    alike : tuple of str
        Hand-ins that look like copies of it, each with why.
    reach : float
        Within which a ruling finds its deduction, in the key's unit.
    values_of : str
        Number of another student whose values it was drawn with; empty where nobody's.
    """

    entry: ClassEntry
    marks: Marks
    view: MarkedView | None = None
    rulings: tuple[HandRuling, ...] = ()
    alike: tuple[str, ...] = ()
    reach: float = REACH
    values_of: str = ""

    @cached_property
    def verdicts(self) -> tuple[Verdict, ...]:
        """What was said of each deduction."""
        said = ruled(self.marks.deductions, self.rulings, self.reach)
        return tuple(said[n].verdict if n in said else "open"
                     for n in range(len(self.marks.deductions)))

    @property
    def open(self) -> int:
        """How many deductions nobody has looked at."""
        return self.verdicts.count("open")

    def lost(self, rule: str) -> float:
        """Points that a rule takes off."""
        return sum(each.points for each in self.marks.deductions if each.rule == rule)


@dataclass(frozen=True, slots=True)
class LayerRow:
    """A layer that the class is asked about, or that was answered.

    Parameters
    ----------
    layer : str
    asked : AskedLayer or None
        None where it was answered before they were compared.
    answer : LayerRole or ""
    """

    layer: str
    asked: AskedLayer | None = None
    answer: LayerRole | Literal[""] = ""


class ClassBook(KeptMarking):
    """Keeps the marking of one class.

    Parameters
    ----------
    board : Board
        Whose part is the key where no file is chosen.
    heard : callable
        Called when anything is different.
    copies : MarkingCopies, optional
        Keeps what is ruled while it has no file of its own.
    """

    def __init__(
        self, board: Board, heard: Callable[[], object], copies: MarkingCopies | None = None
    ) -> None:
        super().__init__(board, copies)
        self.compared: ClassCompared | None = None
        self.rows: tuple[BookRow, ...] = ()
        self.progress: ClassProgress | None = None
        self.going = False
        self.trouble = ""
        self._by: object = None
        self._by_rubric = self.rubric
        self._heard = heard

    # What stands.

    @property
    def lacks(self) -> str:
        """What has to be chosen before the class can be marked; empty when nothing has to."""
        if self.key is None and self.variants is None and not self.has_part:
            return "Choose the key: the part as the paper has it."
        if self.folder is None:
            return "Choose the folder of the hand-ins."
        return ""

    @property
    def out_of_date(self) -> bool:
        """Whether what is shown was compared by something else than what is chosen now."""
        return self.compared is not None and (
            self._by != self._basis() or needs_comparing(self._by_rubric, self.rubric))

    @property
    def unit(self) -> str:
        """Unit of the key."""
        return self.compared.key.unit if self.compared is not None else self.board.part.unit

    def _basis(self) -> object:
        key: Path | Part = self.board.part if self.key is None else self.key
        return key if self.variants is None else self.variants, self.folder, self.roster

    # What is chosen.

    def use_key(self, path: Path | None) -> None:
        """Take a part's file as the key; None takes the part on the board."""
        self.key = path
        self._heard()

    def use_variants(self, path: Path | None) -> None:
        """Take a key of its own for each number, as a table has them; None for none."""
        self.variants = path
        self._heard()

    def use_folder(self, path: Path | None) -> None:
        """Take the hand-ins of a folder."""
        self.folder = path
        self._heard()

    def use_roster(self, path: Path | None) -> None:
        """Take the list of a class; None for none."""
        self.roster = path
        self._heard()

    def use_rubric(self, rubric: Rubric) -> None:
        """Take another rubric; what is there is marked by it at once where that can be."""
        if rubric != self.rubric:
            self.rubric = rubric
            self._keep()
            self._mark()

    def open_marking(self, path: Path) -> None:
        """Take up a marking as it was saved.

        Raises
        ------
        FileError
            When it cannot be read; what is here stays.
        """
        marking = load_marking(path)
        self._take(marking)
        self.path, self._saved = path, self._kept()
        self._heard()

    def take_up_left_behind(self) -> None:
        """Go on with what was ruled and came into no file."""
        marking = self.left_behind
        if marking is not None and self.folder is not None:
            self._copied.add(self.folder)
            self._take(marking)
            self._heard()

    def _take(self, marking: ClassMarking) -> None:
        self.stop()
        self.compared, self.rows = None, ()
        self._take_up(marking)

    def save(self, path: Path) -> None:
        """Write the marking.

        Raises
        ------
        FileError
            When the file cannot be written.
        """
        kept = self._kept()
        save_marking(kept, path)
        self.path, self._saved, self.unkept = path, kept, ""
        self.forget_copy()
        self._heard()

    # Marking.

    def begin(self) -> None:
        """Compare the class; what was there stays shown until it is done."""
        if self.lacks or self.folder is None:
            return
        self.trouble, self.going, self.progress = "", True, None
        self._heard()
        by, rubric = self._basis(), self.rubric

        def done(found: ClassCompared) -> None:
            self.take(found, by, rubric)

        given = (self.board.part if self.key is None else str(self.key), str(self.folder),
                 str(self.roster or ""), rubric,
                 tuple(map(str, filter(None, (self.key or self.board.bench.path, self.variants,
                                              self.roster, self.path)))),
                 str(self.variants or ""))
        self.board.bench.worker.start(Job(f"Marking {self.folder.name}", compare_class, given, 0.0),
                                      done, self._failed, self._on_the_way)

    def take(
        self, found: ClassCompared, by: object = None, rubric: Rubric | None = None
    ) -> None:
        """Have a class that was compared, by what was chosen then; by what is, where not told."""
        self._by, self._by_rubric = by or self._basis(), rubric or self.rubric
        self.going, self.compared = False, found
        self._mark()

    def stop(self) -> None:
        """Want nothing of it any more."""
        self.board.bench.worker.forget(compare_class)
        self.going = False

    def cancel(self) -> None:
        """Stop the comparing; what was there before stays."""
        if self.going:
            self.stop()
            self.trouble = "stopped"
            self._heard()

    def _on_the_way(self, progress: ClassProgress) -> None:
        self.progress = progress
        self._heard()

    def _failed(self, error: BaseException) -> None:
        self.going = False
        if isinstance(error, Stopped):
            self.trouble = "stopped"
        elif isinstance(error, SketcherError):
            self.trouble = str(error)
        else:
            self.trouble = (f"the marking broke off ({type(error).__name__}: {error}); "
                            "nothing of it was kept")
        self._heard()

    def _mark(self) -> None:
        """Put rubric and rulings upon what was compared."""
        compared = self.compared
        if compared is not None:
            alike = alike_words(compared)
            self.rows = tuple(self._row(one, alike[n]) for n, one in enumerate(compared.marked))
        self._heard()

    def _row(self, one: Marked, alike: tuple[str, ...]) -> BookRow:
        view = one.made if isinstance(one.made, MarkedView) else None
        reach = REACH if (self.unit if view is None else view.unit) == "mm" else REACH / 25.4
        rulings = self._rulings.get(one.entry.file, ())
        marks = remarked(one.marks, self.rubric, rulings, reach,
                         self._by_hand.get(one.entry.file, ()))
        if view is not None and marks.ungraded:
            view = alone(view)
        return BookRow(one.entry, marks, view, rulings, alike, reach, one.values_of)

    # What a person says.

    def say(
        self, number: int, deduction: Deduction, verdict: Verdict | None = None,
        points: float | None = None, comment: str | None = None,
    ) -> None:
        """Rule on a deduction of a hand-in; what is None stays as it was.

        Parameters
        ----------
        number : int
            Of the hand-in, as in `rows`.
        deduction : Deduction
            One of that row's.
        verdict : str, optional
        points : float, optional
            What it takes off from now on; makes the verdict ``changed``.
        comment : str, optional
        """
        compared, row = self.compared, self.rows[number]
        assert compared is not None
        every = compared.marked[number].marks.deductions
        kept = said_anew(every, deduction, row.rulings, row.reach, verdict, points, comment)
        self._rulings.pop(row.entry.file, None)
        if kept:
            self._rulings[row.entry.file] = kept
        self._said(number)

    def give(self, number: int, given: PointsByHand | None, place: int | None = None) -> None:
        """Give or take points of a hand-in beside the rules.

        Parameters
        ----------
        number : int
            Of the hand-in, as in `rows`.
        given : PointsByHand or None
            None drops what is at `place`.
        place : int, optional
            Of what it is in place of; without it one more is added.
        """
        row = self.rows[number]
        every = list(row.marks.by_hand)
        at = len(every) if place is None else place
        every[at:at + 1] = [given] if given is not None else []
        self._by_hand.pop(row.entry.file, None)
        if every:
            self._by_hand[row.entry.file] = tuple(every)
        self._said(number)

    def _said(self, number: int) -> None:
        """Mark a hand-in by what was said of it, and keep that."""
        assert self.compared is not None
        rows = list(self.rows)
        rows[number] = self._row(self.compared.marked[number], rows[number].alike)
        self.rows = tuple(rows)
        self._keep()
        self._heard()

    def keep_comment(self, text: str) -> None:
        """Put a sentence into the bank of comments."""
        if text and text not in self.rubric.comments:
            self.use_rubric(replace(self.rubric, comments=(*self.rubric.comments, text)))

    # For tables.

    def rules(self) -> tuple[str, ...]:
        """Return the rules that found anything, in their order."""
        seen = {each.rule for row in self.rows for each in row.marks.deductions}
        return tuple(name for name in marking_rules() if name in seen)

    def layers(self) -> tuple[LayerRow, ...]:
        """Return the layers that the hand-ins ask about, then others that were answered."""
        marked = self.compared.marked if self.compared is not None else ()
        answers = dict(self.rubric.layers)
        found = [LayerRow(each.layer, each, answers.pop(each.layer.lower(), ""))
                 for each in asked_layers(one.questions for one in marked)]
        return (*found, *(LayerRow(layer, None, role) for layer, role in answers.items()))

    def as_marked(self) -> tuple[Marked, ...]:
        """Return the class with the marks as they stand."""
        assert self.compared is not None
        return tuple(replace(one, marks=row.marks)
                     for one, row in zip(self.compared.marked, self.rows, strict=True))


def alone(shown: MarkedView) -> MarkedView:
    """Return the view of what fits no key as a hand-in, and not as the key itself."""
    return replace(shown, key=(), hand=frozen({**shown.hand, "outline": shown.key}))


def alike_words(compared: ClassCompared) -> list[tuple[str, ...]]:
    """Return, hand-in by hand-in, which others look like copies of it, and why."""
    found: list[list[str]] = [[] for _ in compared.marked]
    for each in compared.alike:
        for own, other in ((each.one, each.other), (each.other, each.one)):
            its = compared.marked[other].entry.number
            found[own].append(f"{its}: {'; '.join(each.reasons)}")
    return [tuple(words) for words in found]
