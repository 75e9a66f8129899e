"""What is there before the dimensions: outline, holes, center lines and their marks, lettering."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from sketcher.drafting.layout.ink import (
    CENTER,
    EXTENSION,
    FAINT,
    HARD,
    HOLE,
    OUTLINE,
    PLUS,
    Array,
    Batch,
    Ink,
    pieces_of,
)
from sketcher.drafting.layout.runouts import Runouts
from sketcher.geometry.bounds import Box, bounds
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.geometry.evaluate import end_of, start_of

SAME = 1e-3  # mm: ends of curves closer than this join
SHORT = 3.2  # mm: the dash across a center is not longer (`centers.PLUS`)
CUT_OFF = 5.0 * HARD  # words that are cut off cannot be read: worse than lines that cross


@dataclass(frozen=True)
class Ground:
    """Curves in mm on paper.

    Parameters
    ----------
    outline : sequence of Curve
    centers : sequence of Curve
        Straight ones whole, from end to end.
    marks : sequence of (XY, float)
        Places where two center lines cross on a plus, with half its length.
    faint : sequence of Curve
        Construction lines that stand under everything.
    boxes : array (n, 6)
        Lettering that is there: middle, direction, half width and half height.
    within : tuple of float, optional
        Lower and upper corner of what is seen, where lettering is not to be cut off.
    corners : sequence of Curve
        Thin lines that carry edges on to where they would cross.
    beside : sequence of Curve
        Other lines of the view: rings of details, break lines.
    """

    outline: Sequence[Curve]
    centers: Sequence[Curve] = ()
    marks: Sequence[tuple[XY, float]] = ()
    faint: Sequence[Curve] = ()
    boxes: Array | None = None
    within: Box | None = None
    corners: Sequence[Curve] = ()
    beside: Sequence[Curve] = ()

    def measured_from(self, ends: Iterable[tuple[XY, XY]]) -> Ground:
        """Return the ground with the lost corners drawn from which lengths are measured.

        Parameters
        ----------
        ends : iterable of (XY, XY)
            Places, and the directions of extension lines from there.
        """
        found: dict[Curve, None] = {}
        for at, way in ends:
            found |= dict.fromkeys(self.runouts.lost_corner(at, way))
        return replace(self, corners=tuple(found)) if found else self

    def costs(self, batch: Batch) -> Array:
        """Return what each place of a batch costs on the ground, shape (places,)."""
        found: Array = self.ink.costs(batch)[:, 0]
        if self.within is not None:
            out = cut_off(batch.boxes, self.within)
            found = found + np.where(out > 0.0, CUT_OFF + out, 0.0)
        return found

    @cached_property
    def edges(self) -> Array:
        """The outline as straight pieces (n, 4), circles too."""
        return pieces_of((c, OUTLINE) for c in self.outline)[0]

    @cached_property
    def runouts(self) -> Runouts:
        """Where extension lines begin."""
        centers = pieces_of((c, CENTER) for c in self.centers)[0]
        return Runouts((c for c in (*self.outline, *self.centers) if isinstance(c, Line)),
                       self.edges, centers, self.outline)

    @cached_property
    def ink(self) -> Ink:
        """All of it, owned by nobody."""
        inside = holes(self.outline)
        kinds = [(c, HOLE if hole else OUTLINE)
                 for c, hole in zip(self.outline, inside, strict=True)]
        kinds += [(c, CENTER) for c in (*self.centers, *self.beside)]
        kinds += [(c, FAINT) for c in self.faint]
        kinds += [(c, EXTENSION) for c in self.corners]
        whole = [(c, k) for c, k in kinds if isinstance(c, Circle) and k != FAINT]
        pieces, of = pieces_of(k for k in kinds if not isinstance(k[0], Circle) or k[1] == FAINT)
        rows = [(*c.center, c.radius) for c, _ in whole if isinstance(c, Circle)]
        # Nearer than four fifths of its dash a line hides the plus.
        rows += [(*at, 0.8 * half) for at, half in self.marks]
        circle_kinds = [k for _, k in whole] + [PLUS] * len(self.marks)
        boxes = np.zeros((0, 6)) if self.boxes is None else self.boxes
        return Ink(pieces, of, np.zeros(len(pieces), np.intp), boxes,
                   np.zeros(len(boxes), np.intp), np.array(rows, float).reshape(-1, 3),
                   np.array(circle_kinds, np.intp), 1)


def cut_off(boxes: Array, within: Box) -> Array:
    """Return by how many mm lettering (n, 6) reaches out of what is seen, 0.0 where it does not."""
    x, y, c, s, wide, high = boxes.T
    across = wide * np.abs(c) + high * np.abs(s)
    tall = wide * np.abs(s) + high * np.abs(c)
    x0, y0, x1, y1 = within
    beyond = (x0 - x + across, x + across - x1, y0 - y + tall, y + tall - y1)
    return np.asarray(np.maximum(np.stack(beyond).max(axis=0), 0.0))


def holes(outline: Sequence[Curve]) -> list[bool]:
    """Tell of each curve whether its contour lies within the box of a larger one."""
    group = list(range(len(outline)))

    def root(k: int) -> int:
        while group[k] != k:
            group[k] = group[group[k]]
            k = group[k]
        return k

    ends: dict[tuple[int, int], int] = {}
    for k, curve in enumerate(outline):
        for x, y in () if isinstance(curve, Circle) else (start_of(curve), end_of(curve)):
            cell = (round(x / SAME), round(y / SAME))
            near = next((ends[c] for dx in (0, 1, -1) for dy in (0, 1, -1)
                         if (c := (cell[0] + dx, cell[1] + dy)) in ends), None)
            if near is None:
                ends[cell] = k
            else:
                group[root(k)] = root(near)
    boxes: dict[int, list[Box]] = defaultdict(list)
    for k, curve in enumerate(outline):
        boxes[root(k)].append(bounds(curve))
    around = {k: np.array([np.min(np.array(b)[:, :2], axis=0), np.max(np.array(b)[:, 2:], axis=0)])
              for k, b in boxes.items()}
    largest = max(around.values(), key=lambda b: float(np.prod(b[1] - b[0])), default=None)
    inside = {k: largest is not None and bool((b[0] > largest[0]).all()
                                              and (b[1] < largest[1]).all())
              for k, b in around.items()}
    return [inside[root(k)] for k in range(len(outline))]


def plus_marks(strokes: Iterable[Curve], longest: float = SHORT) -> list[tuple[XY, float]]:
    """Return where two short dashes of center lines share their middle, with half their length.

    Dashes up to `longest` mm are short.
    """
    found: dict[tuple[int, int], list[tuple[XY, float]]] = defaultdict(list)
    for curve in strokes:
        if curve.length <= longest:
            (x0, y0), (x1, y1) = start_of(curve), end_of(curve)
            at = (0.5 * (x0 + x1), 0.5 * (y0 + y1))
            found[round(at[0] / 0.02), round(at[1] / 0.02)].append((at, 0.5 * curve.length))
    return [(some[0][0], min(half for _, half in some))
            for some in found.values() if len(some) > 1]

