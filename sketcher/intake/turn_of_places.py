"""How a part without axis or square edges is turned: by where its centers and corners stand.

On paper places are given in round figures along two directions, and slopes in whole degrees. A turn
is weighed by how many of them it makes round and how unlikely each is by chance: between two steps
of a grid a doubt of t on either side covers 2 t / step of all values. The weights are logarithms
and add up; that any turn would have done is taken off, and the file's own place has the first say.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import log, pi, radians

import numpy as np

from sketcher.geometry.curve_table import Floats
from sketcher.geometry.curves import Circle, Line
from sketcher.intake.half_sketch import center_doubt
from sketcher.intake.joint_table import JointTable, Places
from sketcher.intake.straighten import quarter_turn
from sketcher.interrupt import check
from sketcher.part.value import Unit

STEPS = {"mm": ((10.0, 5.0, 1.0, 0.5, 0.1, 0.01),),
         "in": ((0.5, 0.25, 0.125, 0.0625, 1 / 64), (0.5, 0.25, 0.1, 0.05, 0.01, 0.001))}
"""Steps of lengths, the plainest first; a drawing keeps to one row."""
STREWN = 20.0
"""Turns that chance may give to a place; where it is in doubt, coarser steps leave fewer."""
DEGREES = tuple(map(radians, (15.0, 5.0, 1.0)))
ROOM = 20.0
"""Least steps in doubts, as for coarse round figures."""
SURE = log(1e4)
"""So much likelier than where the file has it, and than chance, a turn has to be."""
PLAINER = log(1e2)
"""And so much than the next: whole multiples of 5 are whole under a turn of 3, 4 and 5 as well."""
BASES, PLACES, EDGES = 4, 25, 24
"""Places that are measured from, places in all, directions of edges."""
FINEST = 1e-9
"""Share of the size below which noise is what doubles leave."""


@dataclass(frozen=True)
class _Ways:
    """What is measured from one place: other places, off by `doubt`; directions of edges."""

    to: Places
    doubt: Floats
    edge: Floats
    blur: Floats


@dataclass(frozen=True)
class _Turn:
    """A turn, how far it may be off, and how much likelier than by chance it makes a part."""

    angle: float
    lean: float
    weight: float = 0.0


def turn_of_places(table: JointTable, noise: float, unit: Unit) -> float:
    """Return by how many radians a part is turned from where its places are round, or 0.

    Parameters
    ----------
    table : JointTable
    noise : float
        How far an end may lie from where it was meant, in the part's unit.
    unit : Unit
    """
    noise = max(noise, FINEST * table.size)
    at, doubt = _places(table, noise)
    edge, blur = _edges(table, noise)
    found: list[_Turn] = []
    own = 0.0
    for base in range(min(BASES, len(at))):
        ways = _measured(at, doubt, base, edge, blur)
        for steps in STEPS[unit]:
            own = max(own, _tried(ways, _Turn(0.0, 0.0), steps).weight)
            for turn in _turns(ways, steps):
                check()
                found.append(_tried(ways, turn, steps))
    best = max(found, key=lambda turn: turn.weight, default=_Turn(0.0, 1.0))
    others = [turn.weight for turn in found
              if abs(quarter_turn(turn.angle - best.angle)) > 2.0 * (turn.lean + best.lean)]
    if best.weight < own + SURE or best.weight < max(others, default=0.0) + PLAINER:
        return 0.0
    return best.angle


def _places(table: JointTable, noise: float) -> tuple[Places, Floats]:
    """Return centers and corners, each once, large holes first, and how far each may lie off."""
    rounds = [each.curve for run in table.runs for each in run if not isinstance(each.curve, Line)]
    ranked = sorted((not isinstance(one, Circle), center_doubt(one, noise), -one.radius, one.center)
                    for one in rounds)
    sharp = table.joints[table.corner & (table.slide == 0.0)]
    at: list[complex] = []
    doubt: list[float] = []
    for place, off in (*((complex(*center), off) for _, off, _, center in ranked),
                       *((complex(place), noise) for place in sharp)):
        if len(at) == PLACES:
            break
        near = [4.0 * (off + known) for known in doubt]
        if bool((np.abs(np.array(at) - place) > near).all()):
            at.append(place)
            doubt.append(off)
    return np.array(at, dtype=complex), np.array(doubt, dtype=float)


def _edges(table: JointTable, noise: float) -> tuple[Floats, Floats]:
    """Return directions of straight edges; of those that are whole steps of 15° apart only one.

    Its like tells no more: six sides of a nut go together however it lies.
    """
    way = (table.joints[table.last] - table.joints[table.first])[table.radius == 0.0]
    way = way[np.argsort(-np.abs(way))]
    angle, blur = np.angle(way), 2.0 * noise / np.abs(way)
    kept = _apart(angle, blur, DEGREES[0], EDGES)
    return angle[kept], blur[kept]


def _apart(angle: Floats, blur: Floats, step: float, most: int) -> list[int]:
    """Return which directions to keep so that no two differ by whole steps, the first of each."""
    kept: list[int] = []
    for k in range(len(angle)):
        if len(kept) == most:
            break
        off = np.abs((angle[kept] - angle[k] + 0.5 * step) % step - 0.5 * step)
        if step >= ROOM * blur[k] and bool((off > 2.0 * (blur[kept] + blur[k])).all()):
            kept.append(k)
    return kept


def _measured(at: Places, doubt: Floats, base: int, edge: Floats, blur: Floats) -> _Ways:
    """Return the places from one of them: of those in line, or square to it, the furthest."""
    to = np.delete(at - at[base], base)
    off = np.delete(doubt + doubt[base], base)
    order = np.argsort(-np.abs(to))
    to, off = to[order], off[order]
    kept = _apart(np.angle(to), off / np.abs(to), 0.5 * pi, PLACES)
    return _Ways(to[kept], off[kept], edge, blur)


def _turns(ways: _Ways, steps: tuple[float, ...]) -> Iterator[_Turn]:
    """Yield the turns under which some place is round both ways."""
    for to, doubt in zip(ways.to, ways.doubt, strict=True):
        far = abs(to)
        # Figures in a quarter of a ring that is 2 t wide.
        least = max(2.0 * ROOM * doubt, float(np.sqrt(pi * far * doubt / STREWN)))
        step = min((step for step in steps if step >= least), default=None)
        if step is None:
            continue
        run = step * np.arange(int((far + doubt) / step) + 1)
        rise = step * np.round(np.sqrt(np.maximum(far * far - run * run, 0.0)) / step)
        met = np.abs(np.hypot(run, rise) - far) <= doubt
        for angle in np.angle(to) - np.arctan2(rise[met], run[met]):
            yield _Turn(quarter_turn(float(angle)), float(doubt / far))


def _tried(ways: _Ways, turn: _Turn, steps: tuple[float, ...]) -> _Turn:
    """Return a turn with its weight, settled among all that it makes round."""
    to = ways.to * np.exp(-1j * turn.angle)
    far = np.abs(to)
    doubt = ways.doubt + turn.lean * far
    run, x = _figures(to.real, doubt, steps)
    rise, y = _figures(to.imag, doubt, steps)
    slope, angle = _figures(np.angle(to), doubt / far, DEGREES)
    placed = (run > 0.0) & (rise > 0.0)
    edge, way = _figures(ways.edge - turn.angle, ways.blur + turn.lean, DEGREES)
    weight = float(np.where(placed, run + rise, slope).sum() + edge.sum())
    if turn.lean == 0.0:
        return replace(turn, weight=weight)
    # Each tells the turn as well as it is far beside its doubt.
    off = np.concatenate([np.where(placed, np.angle(to / (x + 1j * y)), np.angle(to) - angle),
                          ways.edge - turn.angle - way])
    sure = np.concatenate([(far / ways.doubt) ** 2 * (placed | (slope > 0.0)),
                           ways.blur ** -2.0 * (edge > 0.0)])
    settled = quarter_turn(turn.angle + float((sure * off).sum() / sure.sum()))
    # Of so many turns that can be told apart one had to make something round.
    return _Turn(settled, turn.lean, weight - log(0.5 * pi / turn.lean))


def _figures(values: Floats, doubt: Floats, steps: tuple[float, ...]) -> tuple[Floats, Floats]:
    """Return the weights of values, 0 where one is not round, and the plainest figures."""
    weight, figure = np.zeros(len(values)), values.copy()
    for step in reversed(steps):
        near = step * np.round(values / step)
        met = (np.abs(near - values) <= doubt) & (step >= ROOM * doubt)
        weight[met] = np.log(step / (2.0 * len(steps) * doubt[met]))
        figure[met] = near[met]
    return weight, figure
