"""Which dimensions would hold what is loose in the fresh part, in words and with a place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sketcher.drafting.rebuild.drawn_outline import looks_level, looks_plumb
from sketcher.drafting.rebuild.on_paper import OnPaper
from sketcher.geometry.curves import XY, Circle, Line
from sketcher.geometry.evaluate import midpoint
from sketcher.part.value import Part
from sketcher.solve.rank import judge
from sketcher.solve.system import System
from sketcher.solve.witness import jacobian

Floats = NDArray[np.float64]
STILL = 1e-6
"""Share of the largest motion below which a thing stands still."""
LARGE = 1_500
"""Unknowns past which not all ways to move are asked for: a second of work."""
MOST = 12
"""Missing dimensions that are told at most."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A dimension that stands nowhere: what it would be, and where its feature lies."""

    text: str
    name: str
    at: XY


@dataclass(frozen=True, slots=True)
class _Candidate:
    rank: int
    text: str
    name: str
    at: XY
    motion: Floats  # by how much it changes in each of the ways to move


def missing(paper: OnPaper, solved: Part, freedoms: int) -> tuple[Wanted, ...]:
    """Return dimensions that together would hold what is loose.

    Parameters
    ----------
    paper : OnPaper
    solved : Part
        The fresh part.
    freedoms : int
        In how many ways it can still move.
    """
    system = System(solved)
    ways = _ways(system)
    found: list[Wanted] = []
    while ways.shape[1] and len(found) < min(freedoms, MOST):
        moves = _Motions(system, solved, ways)
        each = [c for c in _candidates(paper, moves) if np.abs(c.motion).max() > STILL]
        if not each:
            break
        best = min(each, key=lambda c: (c.rank, -np.abs(c.motion).max().round(6)))
        found.append(Wanted(best.text, best.name, best.at))
        ways = _held(ways, best.motion)
    return tuple(found)


def _ways(system: System) -> Floats:
    """Return the ways to move, shape (unknowns, ways): all of them, of a large system a few."""
    if system.width > LARGE:
        return judge(jacobian(system, system.x0)).motions
    matrix = system.dense_jacobian(system.x0)
    matrix /= np.maximum(np.linalg.norm(matrix, axis=1, keepdims=True), 1e-300)
    _, sizes, right = np.linalg.svd(matrix)
    rank = int((sizes > 1e-8 * sizes.max(initial=1e-300)).sum())
    return right[rank:].T


def _held(ways: Floats, motion: Floats) -> Floats:
    """Return the ways to move that are left when one measure is held."""
    unit = motion / np.linalg.norm(motion)
    left = ways @ np.linalg.svd(unit[None, :])[2][1:].T
    size = np.abs(left).max(axis=0, initial=0.0)
    left = left[:, size > STILL]
    return np.asarray(left / np.abs(left).max(axis=0), float) if left.shape[1] else left


class _Motions:
    """How points and radii move; as the most of them stand still, wherever the paper is held."""

    def __init__(self, system: System, part: Part, ways: Floats) -> None:
        padded = np.vstack([ways, np.zeros((1, ways.shape[1]))])
        every = padded[system.column]
        count = 2 * len(system.slots.points)
        self.part = part
        self._points = every[:count].reshape(-1, 2, ways.shape[1])
        self._radii = dict(zip(system.slots.radii, every[count:], strict=True))
        self._index = {name: k for k, name in enumerate(system.slots.points)}
        for axis in range(2):
            self._points[:, axis] -= self._usual(self._points[:, axis])

    def _usual(self, motions: Floats) -> Floats:
        """The motion that most points share."""
        keys = [tuple(row) for row in motions.round(5).tolist()]
        usual = Counter(keys).most_common(1)[0][0]
        return np.asarray(motions[keys.index(usual)], float)

    def point(self, name: str) -> Floats:
        """Motion of a point, shape (2, ways)."""
        return np.asarray(self._points[self._index[name]], float)

    def radius(self, name: str) -> Floats:
        """Change of a radius, shape (ways,)."""
        return np.asarray(self._radii[name], float)


def _candidates(paper: OnPaper, moves: _Motions) -> Iterator[_Candidate]:
    """Give every dimension that could be set, best first."""
    for number, (drawn, name) in enumerate(zip(paper.outline.curves, paper.curves, strict=True)):
        curve, said = drawn.curve, drawn.name
        at = curve.center if isinstance(curve, Circle) else midpoint(curve)
        if isinstance(curve, Line):
            ends = paper.redrawn.curves[name].points
            sharp = _sharp(paper, number)
            yield from _edge(moves, curve, ends, said, at, any(sharp))
            if all(sharp) and not looks_level(curve) and not looks_plumb(curve):
                one, other = (moves.point(end) for end in ends[:2])
                grown = curve.direction @ (other - one)
                yield _Candidate(3, f"the length of the edge {said}", said, at, grown)
            continue
        round_ = isinstance(curve, Circle)
        yield _Candidate(0 if round_ else 5, f"the {'diameter' if round_ else 'radius'} of {said}",
                         said, at, moves.radius(name))
    rounds = {paper.redrawn.curves[name].points[-1]: (drawn, name)
              for drawn, name in zip(paper.outline.curves, paper.curves, strict=True)
              if not isinstance(drawn.curve, Line)}
    for center, (drawn, _) in rounds.items():
        place, motion = paper.centers[center], moves.point(center)
        rank = 4 if center in paper.marked else 7
        for axis, word in enumerate(("level", "plumb")):
            yield _Candidate(rank, f"the {word} place of the center of {drawn.name}", drawn.name,
                             place, motion[axis])
    for ring, name in zip(paper.marks.rings, paper.rings, strict=True):
        yield _Candidate(1, "the size of the circle of centers", "circle of centers", ring.center,
                         moves.radius(name))
    for corner, at in zip(paper.corners, paper.outline.corners, strict=True):
        for axis, word in enumerate(("level", "plumb")):
            yield _Candidate(8, f"the {word} place of the corner", "corner", at,
                             moves.point(corner)[axis])


def _sharp(paper: OnPaper, number: int) -> list[bool]:
    """Tell of both ends of an edge whether they are sharp corners."""
    others = [paper.outline.other(corner, number)
              for corner in paper.outline.curves[number].ends or ()]
    return [k is not None and isinstance(paper.outline.curves[k].curve, Line) for k in others]


def _edge(
    moves: _Motions, line: Line, ends: tuple[str, ...], said: str, at: XY, sharp: bool
) -> Iterator[_Candidate]:
    """Give distance and angle of an edge; the distance first where it keeps its angle.

    A slanted edge between two rounds only goes with them.
    """
    (ux, uy), (one, other) = line.direction, (moves.point(end) for end in ends[:2])
    away = [uy * motion[0] - ux * motion[1] for motion in (one, other)]
    turn, shift = away[0] - away[1], 0.5 * (away[0] + away[1])
    steady = np.abs(turn).max() < STILL * max(1.0, float(np.abs(shift).max()))
    level = looks_level(line) or looks_plumb(line)
    yield _Candidate((1 if level else 2) if steady and (level or sharp) else 6,
                     f"the distance of the edge {said} from another feature", said, at, shift)
    yield _Candidate(6, f"the angle of the edge {said}", said, at, turn)
