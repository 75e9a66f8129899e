"""Which contours are the one plate, and which lie off it or inside one of its holes.

A part is one piece. Contours hang together where one is a hole in the material of the other, and
where they meet: how deep a contour lies is not to be trusted there, and the meeting is a finding of
its own. What hangs together with the largest outside contour is the plate; all else is detached.

Of equally large contours (a half that ends short of its axis) the one drawn first is the plate. All
that is detached is told with size and place, one finding a piece whatever lies in it, and left out
of area, moments, perimeter, bounds, mass, advice, the cut and the sheet.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.loops import Loop, Loops, find_loops
from sketcher.part.whole import Piece

ALIKE = 1e-9
"""Areas that differ by less, relatively, are equal: then the one drawn first is the plate."""


@dataclass(frozen=True, slots=True)
class Detached:
    """A piece that does not hang together with the plate.

    Parameters
    ----------
    contours : tuple of int
        Numbers of its contours, the outside one first.
    ids : tuple of str
        Curves of the outside one.
    within : tuple of str
        Curves of the plate's hole that it lies in; none where it lies off the plate.
    size : (width, height)
        Of the box around it.
    diameter : float
        Of a round one, else 0.
    at : (x, y)
        The middle of that box.
    copied : bool
        True for an image of the plate itself, by a reflection or a pattern.
    """

    contours: tuple[int, ...]
    ids: tuple[str, ...]
    within: tuple[str, ...]
    size: tuple[float, float]
    diameter: float
    at: XY
    copied: bool


def find_detached(found: Loops, outline: Sequence[Piece]) -> tuple[Detached, ...]:
    """Return what lies beside the plate, in the order in which it is drawn.

    Parameters
    ----------
    found : Loops
        The contours of the whole part.
    outline : sequence of Piece
        The curves that they were found in, the drawn ones before their images.
    """
    # Where outlines cross by the thousand it is not even known which of them meet.
    if len(found.loops) < 2 or found.more:
        return ()
    loops = found.loops
    place = {piece.id: k for k, piece in enumerate(outline)}
    first = [min(place[name] for name in loop.ids) for loop in loops]
    groups = sorted(_hanging_together(found), key=lambda group: first[group[0]])
    largest = max(loops[group[0]].area for group in groups)
    plate = next(g for g in groups if loops[g[0]].area >= (1.0 - ALIKE) * largest)
    own = frozenset(outline[place[name]].source for name in loops[plate[0]].ids)
    inside = frozenset(plate)
    beside = []
    for group in groups:
        if group is not plate:
            outside = loops[group[0]]
            hole = loops[outside.parent].ids if outside.parent in inside else ()
            images = [outline[place[name]] for name in outside.ids]
            copied = all(image.source in own and not image.drawn for image in images)
            beside.append(_detached(group, outside, hole, copied))
    return tuple(beside)


def without_detached(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """Return the pieces of a whole part less the outline that is detached from the plate."""
    outline = [piece for piece in pieces if piece.role == "outline"]
    found = find_loops([(piece.id, piece.curve) for piece in outline])
    beside = {name for piece in find_detached(found, outline) for k in piece.contours
              for name in found.loops[k].ids}
    return tuple(piece for piece in pieces if piece.id not in beside)


def _hanging_together(found: Loops) -> list[list[int]]:
    """Group the numbers of the loops, the largest loop of each group first."""
    root = list(range(len(found.loops)))

    def top(k: int) -> int:
        while root[k] != k:
            root[k] = root[root[k]]
            k = root[k]
        return k

    for one, other in _bonds(found):
        root[top(one)] = top(other)
    groups: dict[int, list[int]] = {}
    for k in sorted(range(len(root)), key=lambda k: -found.loops[k].area):
        groups.setdefault(top(k), []).append(k)
    return list(groups.values())


def _bonds(found: Loops) -> Iterator[tuple[int, int]]:
    """Yield pairs of loops that belong to one piece."""
    for k, loop in enumerate(found.loops):
        if loop.hole and loop.parent is not None:
            yield k, loop.parent
    owner = {name: k for k, loop in enumerate(found.loops) for name in loop.ids}
    meeting: list[tuple[str, ...]] = [(c.a, c.b) for c in found.crossings]
    meeting += [(o.a, o.b) for o in found.overlaps]
    meeting += [branch.ids for branch in found.branches]
    for ids in meeting:
        met = [owner[name] for name in ids if name in owner]
        for other in met[1:]:
            yield met[0], other


def _detached(
    group: Sequence[int], outside: Loop, hole: tuple[str, ...], copied: bool
) -> Detached:
    x0, y0, x1, y1 = bounds_of(outside.curves)
    only = outside.curves[0]
    round_one = len(outside.curves) == 1 and not isinstance(only, Line)
    return Detached(
        contours=tuple(group),
        ids=outside.ids,
        within=hole,
        size=(x1 - x0, y1 - y0),
        diameter=2.0 * only.radius if round_one else 0.0,  # type: ignore[union-attr]
        at=(0.5 * (x0 + x1), 0.5 * (y0 + y1)),
        copied=copied,
    )
