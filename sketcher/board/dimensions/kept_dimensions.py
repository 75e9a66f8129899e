"""The dimensions of a part as lines, kept until they change; those of a crowded part come later.

While a gesture goes on they go along with what they measure. A part that has just changed keeps the
places of the one before: only what cannot stand there any more moves. Once the part stands still,
what stands badly is looked at again. A few are laid out where
they are asked for, very many by a job, and until it is done those before stay that still hold.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from math import dist

from sketcher.board.dimensions.desk_layout import USUAL_SIZE, DeskLayout, lay_out_on_desk
from sketcher.board.dimensions.dimension_lines import DimLines, are_few
from sketcher.board.dimensions.following import Extent, Following
from sketcher.board.dimensions.shown_center_lines import CenterLine
from sketcher.board.dimensions.unread import unread
from sketcher.board.job import QUICK as QUICK_JOB
from sketcher.board.job import AtOnce, Job, Worker
from sketcher.drafting.layout.choose import FRAME, FULL, QUICK, REST, Effort
from sketcher.drafting.layout.dimension_places import Place
from sketcher.geometry.bounds import Box
from sketcher.part.value import CircleCurve, Part
from sketcher.solve.solve_report import SolveReport

GRAIN = 0.01
"""Pixels that a point may be off after a solve and stand where it stood."""


@dataclass(frozen=True, eq=False)
class Shown:
    """What a layout is made for; `within` is what is seen of the part, where that counts."""

    part: Part
    report: SolveReport
    px: float
    size: float = USUAL_SIZE
    centers: tuple[CenterLine, ...] = ()
    within: Box | None = None

    def same(self, other: Shown | None) -> bool:
        """Tell whether another is made for the very same."""
        return other is not None and (
            self.part is other.part and self.report is other.report and self.px == other.px
            and self.size == other.size and self.centers is other.centers
            and self.within == other.within)


class KeptDimensions:
    """The last layout, and the one that is being made."""

    def __init__(self) -> None:
        self._known: tuple[Shown, DeskLayout] | None = None
        self._still: frozenset[str] = frozenset()
        self._rested = False
        self._asked: Shown | None = None
        self._following: Following | None = None

    def at_hand(
        self, shown: Shown, worker: Worker, moving: Extent | None = None
    ) -> tuple[DimLines, ...]:
        """Return the dimensions, or for a crowded part what is known of them and still true.

        Parameters
        ----------
        shown : Shown
        worker : Worker
        moving : Extent, optional
            Given while a gesture moves the part.
        """
        if self._is_known(shown):
            assert self._known is not None
            return self._known[1].lines
        if moving is not None and are_few(shown.part):
            followed = self._followed(shown, moving)
            if followed is not None:
                return followed
        kept, at_once = self._kept(shown), isinstance(worker, AtOnce)
        if at_once or are_few(shown.part):
            still = self._unmoved(shown)
            effort = (REST if kept else FULL) if at_once else FRAME if kept else QUICK
            self._take(shown, laid_out(shown, kept, effort, still), still, rested=at_once)
        else:
            return () if self._known is None else tuple(still_true(*self._known, shown))
        assert self._known is not None
        return self._known[1].lines

    def _followed(self, shown: Shown, extent: Extent) -> tuple[DimLines, ...] | None:
        """Return the dimensions of the last layout where they have gone to with the part."""
        if self._known is None:
            return None
        was, layout = self._known
        if self._following is None or self._following.layout is not layout:
            self._following = Following(was.part, was.report, was.px, was.size, was.centers, layout)
        if not self._following.fits(shown.part, shown.px, shown.size):
            return None
        return self._following.at(shown.part, extent)

    def badly(self, shown: Shown) -> tuple[str, ...]:
        """Return the ids of the dimensions that found no room to be read in, as far as known."""
        if self._known is None or not self._is_known(shown):
            return ()
        layout = self._known[1]
        return unread(layout.badly, layout.lines, shown.px, shown.size, shown.within)

    def know(
        self, shown: Shown, worker: Worker, told: Callable[[], None],
        failed: Callable[[BaseException], None] | None = None,
    ) -> None:
        """See to it that those of a crowded part come to be known, and all others stand well.

        `told` is called then. `failed` hears why they do not; what was asked for stays, it is not
        begun again by itself.
        """
        if (self._is_known(shown) and self._rested) or shown.same(self._asked):
            return
        self._asked = shown

        def done(layout: DeskLayout) -> None:
            if shown.same(self._asked):
                self._take(shown, layout, still, rested=True)
                told()

        kept, still = self._kept(shown), self._unmoved(shown)
        effort = REST if kept else FULL
        quick = QUICK_JOB if are_few(shown.part) else 0.0
        worker.start(Job("Laying out dimensions", laid_out, (shown, kept, effort, still),
                         quick), done,
                     failed)

    def _take(
        self, shown: Shown, layout: DeskLayout, still: frozenset[str], rested: bool
    ) -> None:
        self._known, self._rested = (shown, layout), rested or layout.is_settled
        self._still = still
        self._following = None
        if rested:
            self._asked = None

    def _is_known(self, shown: Shown) -> bool:
        return self._known is not None and shown.same(self._known[0])

    def _kept(self, shown: Shown) -> dict[str, Place]:
        """Return the places of the last layout that mean the same for this part."""
        if self._known is None:
            return {}
        (was, layout), part = self._known, shown.part
        alike = {name for name, b in part.bindings.items()
                 if (o := was.part.bindings.get(name)) is not None
                 and (o.kind, o.of) == (b.kind, b.of)}
        alike |= {name for name in layout.places if name.partition(".")[0] in part.patterns
                  and name.partition(".")[0] in was.part.patterns}
        return {name: place for name, place in layout.places.items() if name in alike}

    def _unmoved(self, shown: Shown) -> frozenset[str]:
        """Return which dimensions stay where they are, as what they measure has not moved.

        What the same part has just been given by a frame may still be bettered at rest, and at
        another zoom all may find another place.
        """
        if self._known is None:
            return frozenset()
        was, layout = self._known
        if (was.px, was.size) != (shown.px, shown.size):
            return frozenset()
        if was.part is shown.part:
            return self._still
        return frozenset(name for name in layout.places
                         if measures_alike(name, was.part, shown.part, GRAIN * shown.px))


def laid_out(
    shown: Shown, kept: Mapping[str, Place], effort: Effort, still: Collection[str] = ()
) -> DeskLayout:
    """Return every dimension of a part, those of its patterns too."""
    return lay_out_on_desk(shown.part, shown.report, shown.px, shown.size, shown.centers, kept,
                           effort, still, shown.within)


def measures_alike(name: str, was: Part, part: Part, grain: float) -> bool:
    """Tell whether a dimension measures in another part what it did, at the very same place.

    Parameters
    ----------
    name : str
        Id of the binding, or of a pattern with what is measured of it behind a dot.
    was, part : Part
    grain : float
        Distance in the part's unit below which nothing has moved: the solver leaves that.
    """
    before, now = was.bindings.get(name), part.bindings.get(name)
    if before is None or now is None:
        pattern = name.partition(".")[0]
        return pattern in part.patterns and was.patterns.get(pattern) == part.patterns[pattern] \
            and was.points == part.points
    return (before.kind, before.of) == (now.kind, now.of) and all(
        _stood(one, was, part, grain) for one in now.of)


def _stood(name: str, was: Part, part: Part, grain: float) -> bool:
    """Tell whether a point or a curve is as good as where it was."""
    before, now = was.curves.get(name), part.curves.get(name)
    points: tuple[str, ...] = (name,)
    if now is not None:
        if before is None or before.points != now.points:
            return False
        points = now.points
        if isinstance(now, CircleCurve) and (
                not isinstance(before, CircleCurve) or abs(now.radius - before.radius) > grain):
            return False
    return all(at in was.points and at in part.points
               and dist(was.points[at], part.points[at]) <= grain for at in points)


def still_true(was: Shown, layout: DeskLayout, now: Shown) -> Iterator[DimLines]:
    """Give those of a layout that say and measure the same in another part, wherever they stand."""
    before, part = was.part, now.part
    alike = (before.parameters == part.parameters and before.unit == part.unit
             and replace(before.drawing, placed=part.drawing.placed) == part.drawing
             and was.report.troubled == now.report.troubled
             and was.report.doubled == now.report.doubled)
    for dim in layout.lines if alike else ():
        binding = part.bindings.get(dim.binding)
        if binding is not None and binding == before.bindings.get(dim.binding) \
                and before.drawing.placed.get(dim.binding) == part.drawing.placed.get(dim.binding) \
                and all(_stands(name, before, part) for name in binding.of):
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
