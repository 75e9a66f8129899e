"""One process of a class: it marks one hand-in after the other, with keys that it made ready once.

Whatever a hand-in does to it ends this process and nothing else: `class_run` lists the hand-in and
starts another. What is sent is a number and an entry, what comes back is the number and a
`Marked`; the first word is None, when the process has its libraries and its key.
"""

from __future__ import annotations

import signal
import traceback
from collections import OrderedDict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from multiprocessing.connection import Connection
from typing import Any, TypeAlias

from sketcher.errors import SketcherError
from sketcher.marking.comparing import KeyReady
from sketcher.marking.comparison import Comparison
from sketcher.marking.copied_hand_ins import Traces, traces_of
from sketcher.marking.hand_in import HandIn, LayerQuestion
from sketcher.marking.hand_in_file import read_hand_in
from sketcher.marking.marks import Marks, marked, program_fault, ungraded
from sketcher.marking.others_values import number_with_values
from sketcher.marking.roster import ClassEntry
from sketcher.marking.rubric import Rubric
from sketcher.part.value import Part

KEPT_KEYS = 8
"""Keys that stay ready: a class with a key for each hand-in needs none twice."""

Make: TypeAlias = Callable[[Comparison, Marks, ClassEntry], Any]
"""What is made of a hand-in beside its marks, where both are; a function of a module."""
MakeUngraded: TypeAlias = Callable[[Part, Marks, ClassEntry, HandIn | None], Any]
"""The same where it has no points: with the key, and with what could be read of it."""


@dataclass(frozen=True, slots=True)
class Task:
    """What a class is marked by.

    Parameters
    ----------
    keys : mapping of str to Part
        Solved; by number of the student, with the one for all others under the empty text.
    rubric : Rubric
    make, make_ungraded : callable or None
    """

    keys: Mapping[str, Part]
    rubric: Rubric
    make: Make | None = None
    make_ungraded: MakeUngraded | None = None

    def key_name(self, entry: ClassEntry) -> str | None:
        """Return under which name an entry's key is; None when it has none."""
        return next((name for name in (entry.number, "") if name in self.keys), None)


@dataclass(frozen=True, slots=True)
class Marked:
    """What came of a hand-in.

    Parameters
    ----------
    entry : ClassEntry
    marks : Marks
    traces : Traces
        By which copies are known.
    made : object
        What the task made of it; None where nothing was asked or nothing came of it.
    questions : tuple of LayerQuestion
        What its file does not tell of its layers.
    fault : str
        The traceback where the program itself failed on it, or `Task.make` did.
    values_of : str
        Number of another student whose values it was drawn with; empty where nobody's.
    """

    entry: ClassEntry
    marks: Marks
    traces: Traces = Traces()  # noqa: RUF009 - it is frozen
    made: Any = None
    questions: tuple[LayerQuestion, ...] = ()
    fault: str = ""
    values_of: str = ""


class ClassMarker:
    """Marks hand-ins of a class, with keys made ready when they are first needed."""

    def __init__(self, task: Task) -> None:
        self._task = task
        self._ready: OrderedDict[str, KeyReady] = OrderedDict()
        if "" in task.keys:
            self._key("")

    def mark(self, entry: ClassEntry) -> Marked:
        """Return what a hand-in is given; what cannot be marked is told, never raised."""
        rubric, name = self._task.rubric, self._task.key_name(entry)
        if name is None:
            return Marked(entry, ungraded(entry.file, "its number has no key", rubric))
        hand_in, comparison, fault = None, None, ""
        traces, values_of = Traces(), ""
        try:
            hand_in = read_hand_in(entry.path, rubric.layers)
            try:
                comparison = self._key(name).compare(hand_in)
            finally:  # copies are known by what lies on no key too
                traces = traces_of(hand_in, entry.path, comparison)
            marks = marked(comparison, rubric)
            values_of = number_with_values(comparison, self._task.keys)
        except SketcherError as error:
            marks = ungraded(entry.file, _reason(error, entry), rubric)
        except Exception as error:  # noqa: BLE001 - the others must be marked all the same
            reason = program_fault(error)
            marks, fault = ungraded(entry.file, reason, rubric), traceback.format_exc()
        made = None
        try:
            made = self._made(comparison, marks, entry, self._task.keys[name], hand_in)
        except Exception:  # noqa: BLE001 - marks without a sheet are marks
            fault = fault or traceback.format_exc()
        questions = () if hand_in is None else hand_in.questions
        return Marked(entry, marks, traces, made, questions, fault, values_of)

    def _made(self, comparison: Comparison | None, marks: Marks, entry: ClassEntry, key: Part,
              hand_in: HandIn | None) -> Any:
        task = self._task
        if marks.ungraded:
            return task.make_ungraded and task.make_ungraded(key, marks, entry, hand_in)
        assert comparison is not None
        return task.make and task.make(comparison, marks, entry)

    def _key(self, name: str) -> KeyReady:
        if name in self._ready:
            self._ready.move_to_end(name)
        else:
            self._ready[name] = KeyReady(self._task.keys[name], self._task.rubric)
            if len(self._ready) > KEPT_KEYS:
                self._ready.popitem(last=False)
        return self._ready[name]


def _reason(error: SketcherError, entry: ClassEntry) -> str:
    """Return an error without the path of the file, which stands beside it anyway."""
    place = error.place.removeprefix(entry.path).removeprefix(entry.file).lstrip(":, ")
    return f"{place}: {error.reason}" if place else error.reason


def work(pipe: Connection, task: Task, not_mine: Sequence[Connection] = ()) -> None:
    """Mark what comes through a pipe until its other end goes away.

    A copied process has the other ends of all pipes too: with `not_mine` closed it hears the end.
    """
    for each in not_mine:
        each.close()
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl+C is meant for who started the class
    try:
        marker = ClassMarker(task)
        pipe.send(None)
        while True:
            number, entry = pipe.recv()
            pipe.send((number, marker.mark(entry)))
    except (EOFError, BrokenPipeError, ConnectionResetError):
        return
