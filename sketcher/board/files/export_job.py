"""An export makes its contents as a job; the files are written here, when all is made."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sketcher.board.job import Job, Worker
from sketcher.exchange.outputs import PLACE, Outputs


def export(
    worker: Worker, outputs: Outputs, name: str, write: Callable[..., Any], *given: Any,
    quick: float = 0.0, accepted: Callable[[Any], bool] = lambda made: True,
) -> Any:
    """Write planned outputs; return what `write` returns, None where that is not accepted.

    Parameters
    ----------
    worker : Worker
    outputs : Outputs
        What was planned.
    name : str
        What the person reads while it goes on.
    write : callable
        Takes `given` and `put`, to which it hands each path with its content.
    quick : float
        Seconds that it is tried in place first.
    accepted : callable
        Looks at what was made before anything is written.

    Raises
    ------
    Stopped
        When it was stopped; nothing is written then.
    SketcherError
        When it cannot be made or written.
    """
    made, contents = worker.finish(Job(name, contents_of, (write, given), quick))
    if not accepted(made):
        return None
    for path, data in contents:
        outputs.put(path, data)
    outputs.write()
    return made


def contents_of(
    write: Callable[..., Any], given: tuple[Any, ...]
) -> tuple[Any, list[tuple[PLACE, bytes]]]:
    """Return what a writer returns, and each path with its content in place of the files."""
    contents: list[tuple[PLACE, bytes]] = []
    made = write(*given, put=lambda path, data: contents.append((path, data)))
    return made, contents
