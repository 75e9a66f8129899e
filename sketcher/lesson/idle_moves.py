"""Moves of which nothing is used later are left out: a point may be found before its last line."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from sketcher.lesson.order_step import OrderStep
from sketcher.lesson.strokes import (
    Angled,
    Crossed,
    GivenLine,
    GoneOver,
    Move,
    Named,
    Ruled,
    Stroke,
    Swung,
)

HELPER = re.compile(r"\d+[A-Za-z]+")
"""Name of what is drawn only to get at something else."""


def uses(stroke: Stroke) -> tuple[str, ...]:
    """Return the names that a stroke needs, in no order; some twice."""
    match stroke:
        case GivenLine(_, through):
            return (through,)
        case Ruled(_, through):
            return through
        case Angled(_, at, base):
            return (at, base)
        case Swung(_, center, opening):
            return (center, *(opening.span or ()))
        case Crossed(_, of, which):
            return (*of, which.of)
        case Named(_, of):
            return (of,)
        case GoneOver(_, on, ends):
            return (on, *ends)
    return ()


def without_idle_moves(steps: Sequence[OrderStep]) -> tuple[OrderStep, ...]:
    """Return the steps without moves that draw nothing of the part and nothing that is used.

    The first level line stays: a board has one, needed or not.
    """
    needed: set[str] = set()
    out: list[OrderStep] = []
    for step in reversed(steps):
        kept: list[Move] = []
        for move in reversed(step.moves):
            if _of_use(move.strokes, needed):
                kept.append(move)
                needed.update(name for stroke in move.strokes for name in uses(stroke))
        out.append(step if len(kept) == len(step.moves)
                   else replace(step, moves=tuple(reversed(kept))))
    return tuple(reversed(out))


def _of_use(strokes: Iterable[Stroke], needed: set[str]) -> bool:
    return any(isinstance(stroke, GivenLine) or stroke.name in needed
               or not HELPER.fullmatch(stroke.name) for stroke in strokes)
