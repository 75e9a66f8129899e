"""One way out of what is wrong with a binding."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sketcher.board.preview import Ghost
from sketcher.part.value import Part


@dataclass(frozen=True, slots=True)
class Offer:
    """One way to mend: what it says, the binding that it changes, and the edit.

    `step` is the name of the step in the history. Where it was tried, `says` tells in words what
    would change and `ghosts` are the curves that would lie elsewhere.
    """

    label: str
    binding: str
    step: str
    edit: Callable[[Part], Part]
    says: str = ""
    ghosts: tuple[Ghost, ...] = ()
