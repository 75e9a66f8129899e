"""A variant of a problem for each student of a class: tried, judged and drawn, on all cores."""

from __future__ import annotations

import signal
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field
from functools import partial

from sketcher.errors import EditError, SketcherError
from sketcher.inspect.words import plural
from sketcher.interrupt import check
from sketcher.marking.class_run import TURN, cores, processes
from sketcher.marking.draw_order import matched, variant_code
from sketcher.marking.problem import Problem
from sketcher.marking.tried_draw import Sameness, TriedDraw, try_draw
from sketcher.marking.varied_values import DrawSpace
from sketcher.part.value import Part
from sketcher.progress import tell

TRIED_EACH, TRIED_MORE = 50, 200
"""Draws that are tried at most: so many for each student, and so many more."""
REASONS_TOLD = 6

Try = Callable[[Mapping[str, str], str], TriedDraw]


@dataclass(frozen=True, slots=True)
class StudentVariant:
    """What a student gets.

    Parameters
    ----------
    number : str
    code : str
        Of the variant: equal values have the same one.
    draw : mapping of str to str
        Expressions by name.
    key : Part
    handout : bytes
        PDF.
    """

    number: str
    code: str
    draw: Mapping[str, str]
    key: Part
    handout: bytes


@dataclass(frozen=True, slots=True)
class RefusedDraw:
    """A draw that does not count, and why."""

    draw: Mapping[str, str]
    reason: str
    detail: str


@dataclass(frozen=True, slots=True)
class ClassVariants:
    """The variants of a class in the order of its numbers, and what was tried for them."""

    students: tuple[StudentVariant, ...]
    draws: int
    tried: int
    refused: tuple[RefusedDraw, ...]

    def summary(self) -> str:
        """Return in one line how many draws were refused, and why."""
        return summary_of(self.tried, self.refused)


def summary_of(tried: int, refused: Sequence[RefusedDraw]) -> str:
    """Return how many of the draws that were tried do not count, and why, the most first."""
    if not refused:
        return f"none of {tried} draws refused"
    counts = Counter(each.reason for each in refused).most_common()
    told = [f"{count} {reason}" for reason, count in counts[:REASONS_TOLD]]
    rest = sum(count for _, count in counts[REASONS_TOLD:])
    told += [f"{rest} for other reasons"] if rest else []
    return f"{len(refused)} of {tried} draws refused: {', '.join(told)}"


def class_variants(
    problem: Problem, space: DrawSpace, numbers: Sequence[str], seed: int = 0,
    jobs: int | None = None,
) -> ClassVariants:
    """Return a variant for each number; no two are the same part.

    Parameters
    ----------
    problem : Problem
    space : DrawSpace
    numbers : sequence of str
        All different; in which order makes no difference to what each gets.
    seed : int
        Another one gives other variants.
    jobs : int, optional
        Processes; without it one for each processor.

    Raises
    ------
    EditError
        When there are fewer draws that count than numbers.
    Stopped
        When nobody wants it any more.
    """
    if space.count < len(numbers):
        raise _too_few(space.count, numbers, f"there are {space.count} draws in all")
    tasks = partial(try_draw, problem, space)
    with _Tries(tasks, max(1, min(cores() if jobs is None else jobs, len(numbers)))) as tries:
        under_way = _UnderWay(space, numbers, tries)
        found = matched(seed, numbers, space.count, under_way.tried)
        if found is None:
            raise _too_few(under_way.good, numbers, under_way.summary())
        students = under_way.students(found)
    return ClassVariants(students, space.count, len(under_way.results), under_way.refused())


def _too_few(count: int, numbers: Sequence[str], why: str) -> EditError:
    students = plural(len(numbers), "student")
    return EditError("--vary", f"gives {count} different variants for {students}; {why}",
                     "widen a range, take a smaller step, or vary one more value")


@dataclass(slots=True)
class _UnderWay:
    """The draws of a class that were tried so far, by index."""

    space: DrawSpace
    numbers: Sequence[str]
    tries: _Tries
    results: dict[int, TriedDraw] = field(default_factory=dict)
    drawn_for: dict[int, str] = field(default_factory=dict)

    @property
    def good(self) -> int:
        """How many different variants there are among them."""
        return len({each.sameness for each in self.results.values() if not each.refused})

    def tried(self, wishes: Mapping[str, int]) -> Mapping[int, Sameness | None]:
        """Try what numbers wish; each draw is tried once, for the first who wishes it."""
        new: dict[int, str] = {}
        for number, index in wishes.items():
            if index not in self.results:
                new.setdefault(index, number)
        most = TRIED_EACH * len(self.numbers) + TRIED_MORE
        if len(self.results) + len(new) > most:
            raise _too_few(self.good, self.numbers, f"no more than {most} draws are tried, and "
                           f"{self.summary()}")
        self._try(new)
        return {index: None if self.results[index].refused else self.results[index].sameness
                for index in wishes.values()}

    def _try(self, which: Mapping[int, str]) -> None:
        asked = {index: (self.space.draw(index), number) for index, number in which.items()}
        for index, result in self.tries.each(asked):
            self.results[index], self.drawn_for[index] = result, which[index]
            tell(min(1.0, self.good / len(self.numbers)))

    def students(self, found: Mapping[str, int]) -> tuple[StudentVariant, ...]:
        """Return what each number gets; a sheet that was drawn for another is drawn once more."""
        self._try({found[number]: number for number in self.numbers
                   if self.drawn_for[found[number]] != number})
        students = []
        codes: dict[str, str] = {}
        for number in self.numbers:
            draw, result = self.space.draw(found[number]), self.results[found[number]]
            code = variant_code(draw)
            if result.key is None or codes.setdefault(code, number) != number:
                raise SketcherError("variants", f"{number} cannot be told from {codes.get(code)}, "
                                    f"both have the code {code}", "take another --seed")
            students.append(StudentVariant(number, code, draw, result.key, result.handout))
        return tuple(students)

    def refused(self) -> tuple[RefusedDraw, ...]:
        """Return what does not count, in the order of the draws."""
        return tuple(RefusedDraw(self.space.draw(index), each.refused, each.detail)
                     for index, each in sorted(self.results.items()) if each.refused)

    def summary(self) -> str:
        """Return how many draws were refused, and why."""
        return summary_of(len(self.results), self.refused())


_task: Try | None = None


def _begin(task: Try) -> None:
    """Make a process ready: what all draws share is sent once."""
    global _task
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl+C is meant for who started the class
    _task = task


def _tried_there(draw: Mapping[str, str], number: str) -> TriedDraw:
    assert _task is not None
    return _task(draw, number)


class _Tries:
    """Tries draws, here or in several processes that stay until the end."""

    def __init__(self, task: Try, jobs: int) -> None:
        self._task = task
        self._pool = ProcessPoolExecutor(jobs, processes(), _begin, (task,)) if jobs > 1 else None

    def __enter__(self) -> _Tries:
        return self

    def __exit__(self, *_: object) -> None:
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)

    def each(
        self, asked: Mapping[int, tuple[Mapping[str, str], str]]
    ) -> Iterable[tuple[int, TriedDraw]]:
        """Yield what comes of each, as it is there.

        Raises
        ------
        SketcherError
            When a process has come down.
        """
        if self._pool is None:
            for index, (draw, number) in asked.items():
                check()
                yield index, self._task(draw, number)
            return
        try:
            waiting: dict[Future[TriedDraw], int] = {
                self._pool.submit(_tried_there, dict(draw), number): index
                for index, (draw, number) in asked.items()}
            while waiting:
                check()
                done, _ = wait(waiting, TURN, FIRST_COMPLETED)
                for each in done:
                    yield waiting.pop(each), each.result()
        except BrokenProcessPool:
            raise SketcherError("variants", "a process that tries draws has come down",
                                "try it with --jobs 1, or with more memory free") from None
