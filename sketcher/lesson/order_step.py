"""One step of a construction, as it is told, drawn and counted."""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.lesson.strokes import Move


@dataclass(frozen=True, slots=True)
class OrderStep:
    """One step.

    Parameters
    ----------
    number : int
        From 1.
    text : str
        What to do, with the bindings in brackets at the end.
    curves, points, bindings : tuple of str
        What the step draws, what it finds, and which bindings it uses.
    together : bool
        True when the step takes places that no straightedge and compass finds.
    stage : str
        Heading under which it stands; steps of one stage follow each other.
    substeps : tuple of str
        Sentences of a step of several parts, such as a fillet; empty for a plain one.
    moves : tuple of Move
        What the hand does, in order.
    """

    number: int
    text: str
    curves: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    bindings: tuple[str, ...] = ()
    together: bool = False
    stage: str = ""
    substeps: tuple[str, ...] = ()
    moves: tuple[Move, ...] = ()
