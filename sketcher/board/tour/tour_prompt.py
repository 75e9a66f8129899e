"""One prompt of the tour: what is asked for, and what is still missing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sketcher.board.tour.half_view import HalfView


@dataclass(frozen=True, slots=True)
class Prompt:
    """One step of the first part.

    Parameters
    ----------
    rank : int
        Place among the others, from 1.
    title : str
        What to do, in a few words.
    ask : str
        How, in a sentence or two; ``{circle}`` stands for the tool of that name with its key.
    missing : callable
        Says what is still missing; empty when nothing is, however that came about.
    tool : str
        The tool that the text speaks of first, for whoever wants to read more about it.
    """

    rank: int
    title: str
    ask: str
    missing: Callable[[HalfView], str]
    tool: str = "pick"
