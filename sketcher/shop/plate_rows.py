"""Copies of a part in rows on a plate.

A row repeats one copy, or a pair of which the second is turned by half and pushed into the first;
the next row may be turned by half too, and may stand half a step further. Of all these ways, and
with the part turned by quarters where the grain allows it, the one is taken that needs the least of
the plate. All distances are reckoned on what is cut, leads and kerf included. Rows are what a shop
lays out by hand; a denser nest of free turns is the business of a package made for it, and none is
used here: those that are kept well need a program of their own to be built, for a gain that one
part in rows rarely shows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, hypot, inf, radians
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from sketcher.errors import ExportError
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.cubic import cubics
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.inspect.stock import KERF_MM
from sketcher.inspect.words import length
from sketcher.interrupt import check
from sketcher.quantity.units import convert
from sketcher.shop.cut_plan import CutPlan
from sketcher.shop.moved_plan import moved_plan

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

CHORD = radians(2.0)
"""Arcs are reckoned by chords, and what those lie off the arc is added to every distance."""

SLIM = 1e-3
"""Copies are reckoned wider by this part of their size, so that few corners do."""

TINY = 1e-9
"""A lead without a kerf has this width, as a line without any has no room."""

LEAST_BETWEEN_MM = 3.0
"""The least distance of copies that is taken without being told: common practice, no source."""

FILL = 0
"""Number of copies that means as many as there is room for."""

Turn: TypeAlias = int
"""Quarter turns counter-clockwise."""


@dataclass(frozen=True, slots=True)
class Stand:
    """Where one copy stands: turned about zero by quarters, then moved."""

    turn: Turn
    x: float
    y: float

    def at(self, point: XY) -> XY:
        """Return where a point of the part comes to lie."""
        x, y = point
        for _ in range(self.turn % 4):
            x, y = -y, x
        return x + self.x, y + self.y


def on_plate(plan: CutPlan) -> CutPlan:
    """Return the plan with its copies on the plate, all of a copy one after the other.

    Parameters
    ----------
    plan : CutPlan
        Of one part, with kerf and leads; `plan.settings` says how many copies, on which plate, how
        far apart and whether the grain keeps them from being turned by a quarter.

    Raises
    ------
    ExportError
        When they do not fit; it says how many do.
    """
    settings = plan.settings
    if settings.plate is None:
        if settings.copies != 1:
            raise ExportError("copies", "no plate is given to lay them out on",
                              "give its width and height")
        return plan
    rows = _Rows(plan)
    wanted = settings.copies
    stands = rows.best(wanted)
    width, height = (length(side, plan.unit) for side in settings.plate)
    if len(stands) < max(1, wanted):
        fit = f"{len(stands)} of {wanted} fit" if wanted > 1 else "it does not fit"
        raise ExportError("copies", f"{fit} on a plate of {width} x {height}, "
                          f"{length(rows.between, plan.unit)} apart",
                          "give a larger plate, fewer copies or less between")
    copies = [moved_plan(plan, stand.at) for stand in stands]
    corners = [(0.0, 0.0), (settings.plate[0], 0.0), settings.plate, (0.0, settings.plate[1])]
    edges = tuple(Line(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True))
    word = "copy" if len(copies) == 1 else "copies"
    told = (f"{len(copies)} {word} on a plate of {width} x {height}, "
            f"at least {length(rows.between, plan.unit)} apart and from its edges",)
    return replace(
        plan, plate=edges, told=(*plan.told, *told),
        paths=tuple(replace(path, copy=k) for k, one in enumerate(copies) for path in one.paths),
        marks=tuple(replace(mark, copy=k) for k, one in enumerate(copies) for mark in one.marks),
        finished=tuple(contour for one in copies for contour in one.finished))


def usual_between(plan: CutPlan) -> float:
    """Return how far copies stay apart without being told, in the part's unit.

    The thickness of the plate, twice the kerf and 3 mm, whichever is most (common practice, no
    source).
    """
    process = plan.settings.process
    kerf = plan.settings.kerf or (convert(KERF_MM[process], "mm", plan.unit) if process else 0.0)
    return max(plan.thickness, 2.0 * kerf, convert(LEAST_BETWEEN_MM, "mm", plan.unit))


class _Rows:
    """Ways of laying copies out in rows."""

    def __init__(self, plan: CutPlan) -> None:
        assert plan.settings.plate is not None
        self.settings = plan.settings
        self.plate = plan.settings.plate
        self.between = (usual_between(plan) if plan.settings.between is None
                        else plan.settings.between)
        self.exact, self.shape, self.around, self.box = _footprints(plan, self.between)
        self.size = hypot(self.box[2] - self.box[0], self.box[3] - self.box[1])

    def best(self, wanted: int) -> list[Stand]:
        """Return the stands of the way that needs the least of the plate, or fits the most."""
        found: list[tuple[int, float, list[Stand]]] = []
        for stands in self._ways(wanted):
            check()
            needed = self._needed(stands)
            found.append((-len(stands), needed, stands))
        found.sort(key=lambda way: way[:2])
        return next((stands for _, _, stands in found if self._apart(stands)), [])

    def _apart(self, stands: Sequence[Stand]) -> bool:
        """Tell whether no copy comes too near to another, whichever rows they are in."""
        from shapely import Polygon, STRtree

        edges = [Polygon(self.exact.ring(one.turn) + np.array([one.x, one.y])) for one in stands]
        if not edges:
            return True
        near = self.between * (1.0 - 1e-9)
        one, other = STRtree(edges).query(edges, "dwithin", near)
        return bool((one == other).all())

    def _needed(self, stands: Sequence[Stand]) -> float:
        """Return how much of the plate's long side is used up, then a little of the other."""
        boxes = np.array([self._box(stand) for stand in stands]).reshape(-1, 4)
        if not len(boxes):
            return 0.0
        far = boxes[:, 2].max() / self.plate[0], boxes[:, 3].max() / self.plate[1]
        long = self.plate[0] >= self.plate[1]
        return float(far[0 if long else 1] + 1e-3 * far[1 if long else 0])

    def _box(self, stand: Stand) -> Box:
        x0, y0, x1, y1 = self.box
        (ax, ay), (bx, by) = stand.at((x0, y0)), stand.at((x1, y1))
        return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)

    def _ways(self, wanted: int) -> Iterator[list[Stand]]:
        most = wanted or 10**6
        for turn in (0,) if self.settings.grain else (0, 1):  # the others are these, upside down
            for unit in self._units(turn):
                for next_turned in (False, True):
                    for columns in (False, True):
                        yield self._laid_out(unit, next_turned, columns, most)

    def _units(self, turn: Turn) -> Iterator[tuple[Stand, ...]]:
        """Yield what a row repeats: one copy, or two with the second turned and pushed in."""
        one = Stand(turn, 0.0, 0.0)
        yield (one,)
        _, y0, x1, y1 = self._box(one)
        other = Stand(turn + 2, 0.0, 0.0)
        ox0, oy0, _, oy1 = self._box(other)
        for share in (-0.5, -0.25, 0.0, 0.25, 0.5):
            down = 0.5 * (y0 + y1) - 0.5 * (oy0 + oy1) + share * (y1 - y0)
            raised = Stand(turn + 2, x1 - ox0 + self._reach(), down)
            yield (one, self._pushed((one,), raised))

    def _pushed(self, those: Sequence[Stand], stand: Stand) -> Stand:
        """Return a stand that came from the right, as near to those as it may."""
        return replace(stand, x=stand.x - self._slack(those, (stand,), (1.0, 0.0)))

    def _laid_out(
        self, unit: tuple[Stand, ...], next_turned: bool, columns: bool, most: int
    ) -> list[Stand]:
        """Return the stands of one way; rows run along x, or with `columns` along y."""
        ahead, up = ((0.0, 1.0), (1.0, 0.0)) if columns else ((1.0, 0.0), (0.0, 1.0))
        step = self._step(unit, unit, ahead)
        rows = [unit, _half_turned(unit) if next_turned else unit]
        lifts = [self._lift(rows[k], rows[1 - k], ahead, step, up) for k in (0, 1)]
        stands: list[Stand] = []
        base, shift = self._corner(unit), 0.0
        k = 0
        while len(stands) < most:
            check()
            row = self._row(rows[k % 2], base, ahead, step, most - len(stands))
            if not row:
                break
            stands += row
            shift = lifts[k % 2]
            nxt = self._corner(rows[(k + 1) % 2])
            now = self._corner(rows[k % 2])
            raised = (base[0] - now[0] + shift * up[0], base[1] - now[1] + shift * up[1])
            base = (nxt[0] + raised[0], nxt[1] + raised[1])
            k += 1
        return stands

    def _corner(self, unit: Sequence[Stand]) -> XY:
        """Return by how much a unit is moved so that it stands in the plate's lower left."""
        boxes = [self._box(stand) for stand in unit]
        return (self.between - min(box[0] for box in boxes),
                self.between - min(box[1] for box in boxes))

    def _row(
        self, unit: Sequence[Stand], base: XY, ahead: XY, step: float, most: int
    ) -> list[Stand]:
        """Return the stands of one row that lie on the plate, from the lower left on."""
        found: list[Stand] = []
        k = 0
        while len(found) < most:
            before = len(found)
            for stand in unit:
                put = replace(stand, x=stand.x + base[0] + k * step * ahead[0],
                              y=stand.y + base[1] + k * step * ahead[1])
                if self._fits(put) and len(found) < most:
                    found.append(put)
            if len(found) == before:
                break
            k += 1
        return found

    def _fits(self, stand: Stand) -> bool:
        x0, y0, x1, y1 = self._box(stand)
        least, near = self.between, 1e-9 * self.size
        return (x0 >= least - near and y0 >= least - near and x1 <= self.plate[0] - least + near
                and y1 <= self.plate[1] - least + near)

    def _step(self, unit: Sequence[Stand], other: Sequence[Stand], ahead: XY) -> float:
        """Return the step along a row at which a unit is clear of the one before."""
        far = self._reach()
        moved = [replace(s, x=s.x + far * ahead[0], y=s.y + far * ahead[1]) for s in other]
        return far - self._slack(unit, moved, ahead)

    def _lift(
        self, row: Sequence[Stand], above: Sequence[Stand], ahead: XY, step: float, up: XY
    ) -> float:
        """Return how far the row above is moved across, so that it is clear of a whole row."""
        wide = int(2.0 * (self.size + self.between) / step) + 1
        below = [replace(s, x=s.x + k * step * ahead[0], y=s.y + k * step * ahead[1])
                 for s in row for k in range(-wide, wide + 1)]
        now, then = self._corner(row), self._corner(above)
        far = self._reach()
        moved = [replace(s, x=s.x + then[0] - now[0] + far * up[0],
                         y=s.y + then[1] - now[1] + far * up[1]) for s in above]
        return far - self._slack(below, moved, up)

    def _reach(self) -> float:
        return 4.0 * (self.size + self.between)

    def _slack(self, those: Sequence[Stand], moving: Sequence[Stand], way: XY) -> float:
        """Return how far stands beyond those can go back against `way` until they are as near."""
        fixed = np.concatenate([self._edges(self.around, stand, way) for stand in those])
        coming = np.concatenate([self._edges(self.shape, stand, way) for stand in moving])
        return min(_first_contact(fixed, coming), _first_contact(-coming, -fixed))

    def _edges(self, of: _Footprint, stand: Stand, way: XY) -> NDArray[np.float64]:
        """Return edges (n, 2, 2) of a stand, each end as (across, along) the way."""
        ring = of.ring(stand.turn) + np.array([stand.x, stand.y])
        if way[0]:
            ring = ring[:, ::-1]
        return np.stack((ring[:-1], ring[1:]), axis=1)


def _first_contact(fixed: NDArray[np.float64], coming: NDArray[np.float64]) -> float:
    """Return how far corners of what comes are above the edges of what is there, at least."""
    across, along = coming[:, 0, 0, None], coming[:, 0, 1, None]
    (a, low), (b, high) = fixed[:, 0].T, fixed[:, 1].T
    wide = np.where(a == b, 1.0, b - a)
    share = (across - a) / wide
    met = (share >= 0.0) & (share <= 1.0)
    gaps = np.where(met, along - (low + share * (high - low)), inf)
    level = (a == b) & (across == a)
    gaps = np.where(level, along - np.maximum(low, high), gaps)
    return float(gaps.min(initial=inf))


def _half_turned(unit: Sequence[Stand]) -> tuple[Stand, ...]:
    return tuple(Stand(stand.turn + 2, -stand.x, -stand.y) for stand in reversed(unit))


class _Footprint:
    """The edge of what one copy takes up, turned by quarters."""

    def __init__(self, ring: NDArray[np.float64]) -> None:
        self._ring = ring

    def ring(self, turn: Turn) -> NDArray[np.float64]:
        """Return its corners (n, 2), the first again at the end, turned about zero."""
        c, s = ((1, 0), (0, 1), (-1, 0), (0, -1))[turn % 4]
        return np.asarray(self._ring @ np.array([[c, s], [-s, c]], float))


def _footprints(
    plan: CutPlan, between: float
) -> tuple[_Footprint, _Footprint, _Footprint, Box]:
    """Return what one copy takes up: by all its chords, by few, by few with `between` around; box.

    Its outside as it is cut, with leads and kerf; with few chords a little larger than it is.
    """
    from shapely import LineString, Polygon, union_all

    half = 0.5 * plan.settings.kerf
    taken: list[BaseGeometry] = []
    off = 0.0
    for path in plan.paths:
        if path.contour.hole:
            continue
        off = max(off, _off_chords(path.curves))
        taken.append(Polygon(_points(path.contour.curves)).buffer(half))
        taken += [LineString(_points(lead, closed=False)).buffer(half + TINY)
                  for lead in (path.lead_in, path.lead_out) if lead]
    whole = union_all(taken)
    x0, y0, x1, y1 = bounds_of(curve for path in plan.paths for curve in path.curves)
    slim = SLIM * hypot(x1 - x0, y1 - y0)

    def print_of(wider: BaseGeometry) -> _Footprint:
        return _Footprint(np.array(wider.exterior.coords))

    few, around = (print_of(whole.buffer(off + slim + more).simplify(slim))
                   for more in (0.0, between))
    box = x0 - half, y0 - half, x1 + half, y1 + half
    return print_of(whole.buffer(off)), few, around, box


def _points(curves: Sequence[Curve], closed: bool = True) -> NDArray[np.float64]:
    runs = [np.array([curve.start]) if isinstance(curve, Line) else cubics(curve, CHORD)[:, 0]
            for curve in curves]
    last = curves[-1]
    if not closed and not isinstance(last, Circle):
        runs.append(np.array([last.end]))
    return np.concatenate(runs)


def _off_chords(curves: Sequence[Curve]) -> float:
    """Return how far an arc lies outside of its chords at most."""
    return max((curve.radius * (1.0 - cos(0.5 * CHORD)) for curve in curves
                if isinstance(curve, Arc | Circle)), default=0.0)
