"""The dimensions of a part as lines, kept until they change; those of a crowded part come later.

Each keeps off all others, so the work grows with their square: a few are laid out where they are
asked for, very many by a job, and until it is done those of the layout before stay that still hold.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from sketcher.board.dimensions.dimension_lines import DimLines
from sketcher.board.job import AtOnce, Job, Worker
from sketcher.part.kinds import KINDS
from sketcher.part.value import CircleCurve, Part
from sketcher.solve.solve_report import SolveReport

FEW = 60
"""Dimensions that are laid out at once: some 25 ms on a plate of holes."""

Key = tuple[Part, SolveReport, float]


class KeptDimensions:
    """The last layout, and the one that is being made."""

    def __init__(self) -> None:
        self._known: tuple[Key, tuple[DimLines, ...]] | None = None
        self._asked: Key | None = None

    def at_hand(self, key: Key, worker: Worker) -> tuple[DimLines, ...]:
        """Return the dimensions, or for a crowded part what is known of them and still true."""
        if self._is_known(key):
            assert self._known is not None
            return self._known[1]
        if isinstance(worker, AtOnce) or are_few(key[0]):
            self._known = (key, laid_out(*key))
            return self._known[1]
        return () if self._known is None else tuple(still_true(*self._known, key))

    def know(
        self, key: Key, worker: Worker, told: Callable[[], None],
        failed: Callable[[BaseException], None] | None = None,
    ) -> None:
        """See to it that those of a crowded part come to be known; `told` is called then.

        `failed` hears why they do not; what was asked for stays, it is not begun again by itself.
        """
        if self._is_known(key) or _same(self._asked, key) or are_few(key[0]):
            return
        self._asked = key

        def done(dims: tuple[DimLines, ...]) -> None:
            if _same(self._asked, key):
                self._known, self._asked = (key, dims), None
                told()

        worker.start(Job("Laying out dimensions", laid_out, key, 0.0), done, failed)

    def _is_known(self, key: Key) -> bool:
        return self._known is not None and _same(self._known[0], key)


def are_few(part: Part) -> bool:
    """Tell whether a part has so few dimensions that they are laid out at once."""
    return sum(KINDS[b.kind].quantity is not None for b in part.bindings.values()) <= FEW


def laid_out(part: Part, report: SolveReport, px: float) -> tuple[DimLines, ...]:
    """Return every dimension of a part, those of its patterns too."""
    from sketcher.board.dimensions.desk_layout import lay_out
    from sketcher.board.dimensions.spacing_lines import spacing_lines

    return (*lay_out(part, report, px), *spacing_lines(part, px))


def still_true(key: Key, dims: tuple[DimLines, ...], now: Key) -> Iterator[DimLines]:
    """Give those of a layout that say and measure the same in another part, wherever they stand."""
    (was, before, _), (part, report, _) = key, now
    alike = (was.parameters == part.parameters and was.unit == part.unit
             and replace(was.drawing, placed=part.drawing.placed) == part.drawing
             and before.clashes == report.clashes and before.doubled == report.doubled)
    for dim in dims if alike else ():
        binding = part.bindings.get(dim.binding)
        if binding is not None and binding == was.bindings.get(dim.binding) \
                and was.drawing.placed.get(dim.binding) == part.drawing.placed.get(dim.binding) \
                and all(_stands(name, was, part) for name in binding.of):
            yield dim


def _stands(name: str, was: Part, part: Part) -> bool:
    """Tell whether a point or a curve is where it was."""
    curve = part.curves.get(name)
    if curve is None:
        return was.points.get(name) == part.points.get(name)
    before = was.curves.get(name)
    if isinstance(curve, CircleCurve) and curve != before:
        return False
    return before is not None and before.points == curve.points and all(
        was.points[point] == part.points[point] for point in curve.points)


def _same(one: Key | None, other: Key) -> bool:
    return one is not None and one[0] is other[0] and one[1] is other[1] and one[2] == other[2]
