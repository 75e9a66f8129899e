"""Work on values, that can be done here and now or in another process while the window goes on."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from typing import Any, Generic, Protocol, TypeVar

from sketcher.interrupt import Stopped
from sketcher.part.value import Part
from sketcher.progress import reported_to

T = TypeVar("T")

QUICK = 0.05
"""Seconds of its own time that a job may take where it stands before it goes elsewhere."""


class NotNow(Stopped):
    """A job would have to be waited for, where nobody may wait."""


@dataclass(frozen=True, slots=True)
class Job(Generic[T]):
    """One piece of work.

    Parameters
    ----------
    name : str
        What the person reads while it goes on.
    function : callable
        Of a module, not made inside another function: another process finds it by its name.
    given : tuple
        What it is called with: values alone, never the board.
    quick : float
        Seconds that it is tried in place first; 0 for what is known to take longer.
    keeps : Part, optional
        What the recovery copy has to hold before the work begins; the part on the board when left
        out.
    """

    name: str
    function: Callable[..., T]
    given: tuple[Any, ...] = ()
    quick: float = QUICK
    keeps: Part | None = None

    def run(self) -> T:
        """Do the work here."""
        return self.function(*self.given)

    def is_as(self, other: Job[Any]) -> bool:
        """Tell whether another job does the same with the very same values."""
        return self.function is other.function and len(self.given) == len(other.given) and all(
            one is its for one, its in zip(self.given, other.given, strict=True)
        )


@dataclass(frozen=True, slots=True)
class OnTheWay:
    """What is said of a job before it is done: how much of it is, or other news."""

    share: float | None = None
    news: Any = None


class Worker(Protocol):
    """Who does jobs."""

    @property
    def waits_for(self) -> str:
        """Name of the job that somebody waits for; empty when nobody does."""

    def finish(self, job: Job[T]) -> T:
        """Return what a job makes; nothing else may change meanwhile.

        Raises
        ------
        Stopped
            When the person thinks better of it.
        """

    def start(
        self, job: Job[T], done: Callable[[T], None],
        failed: Callable[[BaseException], None] | None = None,
        heard: Callable[[Any], None] | None = None,
    ) -> None:
        """Begin a job and go on; `done` hears what it made, `failed` why it made nothing.

        What it reports on the way (`progress.report`) goes to `heard`.

        Another job with the same function takes its place: then neither is called. What was made
        may be out of date, so `done` looks whether it is still wanted.
        """

    def forget(self, function: Callable[..., Any]) -> None:
        """Drop what was started of a function: nobody wants to hear of it any more."""

    def standing(self) -> AbstractContextManager[None]:
        """Return a context in which `finish` does what is quick and else raises `NotNow`.

        For painting: who waits inside it lets other events in, which paint over half a picture.
        """


class AtOnce:
    """Does every job where it stands: the program without a window."""

    waits_for = ""

    def finish(self, job: Job[T]) -> T:
        """Return what a job makes."""
        return job.run()

    def start(
        self, job: Job[T], done: Callable[[T], None],
        failed: Callable[[BaseException], None] | None = None,
        heard: Callable[[Any], None] | None = None,
    ) -> None:
        """Do a job and tell at once."""
        try:
            with reported_to(heard):
                made = job.run()
        except (Exception, Stopped) as error:
            if failed is None:
                raise
            failed(error)
            return
        done(made)

    def forget(self, function: Callable[..., Any]) -> None:
        """Do nothing: everything is done already."""

    def standing(self) -> AbstractContextManager[None]:
        """Return a context that changes nothing."""
        return nullcontext()


def reunited(part: Part, made: Part) -> Part:
    """Return a part that comes back from elsewhere, made of the objects of the one it began as.

    Equal is not enough: what is the very same object is known not to have changed.
    """
    changes: dict[str, Any] = {}
    for name in Part.__dataclass_fields__:
        was, now = getattr(part, name), getattr(made, name)
        if was is now:
            continue
        if was == now:
            changes[name] = was
        elif name in ("points", "curves", "bindings"):
            changes[name] = {key: was[key] if key in was and was[key] == value else value
                             for key, value in now.items()}
    together = made.having(**changes) if changes else made
    same = all(getattr(part, name) is getattr(together, name)
               for name in Part.__dataclass_fields__)
    return part if same else together
