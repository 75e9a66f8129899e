"""Read off a hand-in which values of the key were drawn otherwise, before anything is solved.

The rows of the key at the hand-in's coordinates differ from zero only where it was drawn with
another value. Coordinates that are off for another reason, or lacking, are bridged: unknowns x of
the key and a shift t are found that make ``sum |valued rows| + alpha sum |image of x + t - m|``
least under all other rows, m being the places that the hand-in shows. Sums of absolute values let
few terms be far off and all others hold exactly (least absolute deviations, by iteratively
reweighted least squares: Daubechies, DeVore, Fornasier & Gunturk, *Iteratively reweighted least
squares minimization for sparse recovery*, 2010; from memory).
"""

from __future__ import annotations

from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.curves import XY, Line
from sketcher.marking.changed_keys import ChangedKey
from sketcher.marking.laid import Explanation
from sketcher.solve.system import System

Floats: TypeAlias = NDArray[np.float64]

SHOWN = 5.0
"""What a coordinate that the hand-in shows counts beside a value of the key."""
PLAIN = 30.0
"""What a row without a value counts, over the least deviation told apart: it holds."""
FINE = 0.02
"""Deviations below this share of the tolerance are one."""
MOST = 40
COARSE = 0.25
"""Share of the size below which all deviations are one at first."""
STEADY = 0.55
"""Factor by which deviations that are told apart get finer from step to step."""


class Reading(NamedTuple):
    """What was read.

    Attributes
    ----------
    x : array
        Unknowns of the key's system as the hand-in has them.
    shift : array, shape (2,)
    deviations : dict of str to float
        Measured less wanted of each dimension that is off, in equation units, by binding id.
    """

    x: Floats
    shift: Floats
    deviations: dict[str, float]


def read_values(key: ChangedKey, seen: Explanation, near: Floats | None = None) -> Reading:
    """Read the values that a hand-in was drawn with.

    Parameters
    ----------
    key : ChangedKey
        The key without changes of values: what the deviations are from.
    seen : Explanation
        Whose matching tells which feature of the hand-in is which.
    near : array, optional
        Unknowns to begin with, where it was read before.
    """
    system, within = key.system, key.shape.within
    fine = FINE * within
    shown, target, moves = _shown(system, seen)
    width = system.width
    x, t = (key.x if near is None else near).copy(), np.zeros(2)
    valued = system.row_valued
    coarse = COARSE * key.shape.size
    a, g = np.empty((width + 2, width + 2)), np.empty(width + 2)
    for _ in range(MOST):
        rows = system.residual(x)
        jacobian = system.dense_jacobian(x)
        off = shown @ x + moves @ t - target
        w_rows = np.where(valued, 1.0 / np.maximum(np.abs(rows), coarse), PLAIN / coarse)
        w_shown = SHOWN / np.maximum(np.abs(off), coarse)
        weighed, moved = shown * w_shown[:, None], moves * w_shown[:, None]
        a[:width, :width] = (jacobian * w_rows[:, None]).T @ jacobian + weighed.T @ shown
        a[:width, width:] = weighed.T @ moves
        a[width:, :width] = a[:width, width:].T
        a[width:, width:] = moved.T @ moves
        g[:width] = jacobian.T @ (w_rows * rows) + weighed.T @ off
        g[width:] = moved.T @ off
        a.flat[:: width + 3] += 1e-12 * a.diagonal().max()
        step = np.linalg.solve(a, g)
        x, t = x - step[:width], t - step[width:]
        if coarse <= fine and np.abs(step).max() < 0.1 * fine:
            break
        coarse = max(STEADY * coarse, fine)
    return Reading(x, t, _deviations(system, x, within))


def _shown(system: System, seen: Explanation) -> tuple[Floats, Floats, Floats]:
    """Return rows over the unknowns, what they come to in the hand-in, and how the shift moves it.

    Held places stay where the key has them. Instances of patterns say nothing of the half: they
    stand where the steps put them.
    """
    key, hand = seen.shape, seen.hand
    slots, column = system.slots, system.column
    constant = system.reduction.constant
    entries: list[tuple[int, int, float]] = []
    target: list[float] = []
    moves: list[tuple[float, float]] = []

    def entry(slot: int, amount: float) -> float:
        if column[slot] >= 0:
            entries.append((len(target), int(column[slot]), amount))
            return 0.0
        return amount * float(constant[slot])

    seeds = _seeds(seen)
    for i, j in seen.matching.pairs:
        if key.pieces[key.found[i].sources[0]].image.instance:
            continue
        for name, image, drawn_at in key.observed(i, hand[j]):
            matrix, shift = key.affine(image)
            slot = slots.points[name]
            place = seeds.get(name, drawn_at) if image.drawn else drawn_at
            for axis in (0, 1):
                given = float(shift[axis]) + sum(
                    entry(slot + k, float(matrix[axis, k])) for k in (0, 1) if matrix[axis, k])
                target.append(place[axis] - given)
                moves.append((1.0, 0.0) if axis == 0 else (0.0, 1.0))
        round_ = key.radius_name(i)
        drawn = hand[j].curve
        if round_ is not None and not isinstance(drawn, Line):
            given = entry(slots.radii[round_], 1.0)
            target.append(drawn.radius - given)
            moves.append((0.0, 0.0))
    shown = np.zeros((len(target), system.width))
    for row, at, amount in entries:
        shown[row, at] += amount
    return shown, np.array(target), np.array(moves).reshape(-1, 2)


def _seeds(seen: Explanation) -> dict[str, XY]:
    """Return centers of repeated rounds where most of the instances put them, by point.

    A hole that was moved may be the one that is drawn; its instances show where it was meant.
    """
    key = seen.shape
    back: dict[str, list[XY]] = {}
    for i, j in seen.matching.pairs:
        piece, curve = key.pieces[key.found[i].sources[0]], seen.hand[j].curve
        if isinstance(curve, Line) or piece.image.mirrors:
            continue
        name = key.center_anchor(piece)
        at = key.instance_back(curve.center, piece.image)
        if piece.image.instance:
            back.setdefault(name, []).append(at)
        else:
            back.setdefault(name, []).insert(0, at)
    out: dict[str, XY] = {}
    for name, places in back.items():
        if len(places) > 2:
            table = np.array(places)
            apart = np.hypot(*np.moveaxis(table[:, None] - table[None], 2, 0))
            near = apart <= key.within
            best = int(near.sum(axis=1).argmax())  # the drawn one stands first, where they tie
            if near[best].sum() > 1:
                x, y = table[near[best]].mean(axis=0)
                out[name] = (float(x), float(y))
    return out


def _deviations(system: System, x: Floats, within: float) -> dict[str, float]:
    """Measured less wanted of each dimension whose rows are off by more than the tolerance."""
    rows = np.abs(system.residual(x))
    measured = system.measured(x) - system.values
    found: dict[str, float] = {}
    first = row = 0
    for block in system.blocks:
        for k, owner in enumerate(block.owner.tolist()):
            many = block.equation.rows
            if block.valued[k] and rows[row:row + many].max() > within:
                found[system.binding_ids[owner]] = float(measured[first])
            first += 1
            row += many
    return found
