"""``sketcher order FILE --as-problem DIR``: the part as a problem, with its key."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.commands.lesson_outputs import LessonOutput, LessonWork
from sketcher.terminal import STREAM

OPTION = "as-problem"


def _make(work: LessonWork) -> Iterator[str]:
    from sketcher.marking.problem_files import put_problem

    source = work.args.file
    place = "standard input" if source == STREAM else str(source)
    files = put_problem(work.solution, place, work.outputs, f"--{OPTION}", work.place)
    yield f"{files.handout}: the handout, a dimensioned drawing with the task on it"
    yield f"{files.key}: the key, for 'sketcher mark'"
    yield f"{files.key_sheet}: how it is constructed"


OUTPUT = LessonOutput(
    OPTION, "DIR",
    "set the part as a problem: NAME-handout.pdf, the dimensioned drawing with the task on it and "
    "nothing of places or construction, NAME-key.profile.json, and NAME-key.pdf, the construction; "
    "a part with findings is none, nor one whose sheet does not say all of it", _make)
