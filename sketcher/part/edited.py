"""What an edit hands back: the next part, and what it could not keep."""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.part.value import Part


@dataclass(frozen=True, slots=True)
class Edited:
    """Outcome of an edit.

    Parameters
    ----------
    part : Part
        The next part; the very same one when nothing changed.
    said : str
        What was done, in one sentence for the status line.
    dropped : tuple of str
        Bindings, patterns and mirrors that no longer made sense.
    made : tuple of str
        Ids of the curves, points or bindings that are new, the chief one first.
    """

    part: Part
    said: str = ""
    dropped: tuple[str, ...] = ()
    made: tuple[str, ...] = ()
