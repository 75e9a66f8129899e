# mypy: ignore-errors
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

from collections.abc import Sequence
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.marking.assignment import Matching
from sketcher.marking.key_shape import KeyShape
from sketcher.marking.outline_features import Feature
from sketcher.solve.system import System

Floats: TypeAlias = NDArray[np.float64]

SHOWN = 5.0
"""What a coordinate that the hand-in shows counts beside a value of the key."""
PLAIN = 30.0
"""What a row without a value counts, over the least deviation told apart: it holds."""
FINE = 0.02
"""Deviations below this share of the tolerance are one."""
MOST = 40
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


def read_values(
    system: System, key: KeyShape, matching: Matching, hand: Sequence[Feature]
) -> Reading:
    """Read the values that a hand-in was drawn with.

    Parameters
    ----------
    system : System
        Of the key.
    key : KeyShape
    matching : Matching
    hand : sequence of Feature
        As they lie on the key.
    """
    fine = FINE * key.within
    shown, target, moves = _shown(system, key, matching, hand)
    width = system.width
    x, t = system.x0.copy(), np.zeros(2)
    valued = system.row_valued
    coarse = 0.25 * key.size
    for _ in range(MOST):
        rows = system.residual(x)
        jacobian = system.dense_jacobian(x)
        off = shown @ x + moves @ t - target
        w_valued = 1.0 / np.maximum(np.abs(rows), coarse)
        w_rows = np.where(valued, w_valued, PLAIN / coarse)
        w_shown = SHOWN / np.maximum(np.abs(off), coarse)
        a = np.zeros((width + 2, width + 2))
        a[:width, :width] = (jacobian * w_rows[:, None]).T @ jacobian + (
            shown * w_shown[:, None]).T @ shown
        a[:width, width:] = (shown * w_shown[:, None]).T @ moves
        a[width:, :width] = a[:width, width:].T
        a[width:, width:] = (moves * w_shown[:, None]).T @ moves
        g = np.concatenate([
            jacobian.T @ (w_rows * rows) + shown.T @ (w_shown * off), moves.T @ (w_shown * off)])
        a.flat[:: width + 3] += 1e-12 * a.diagonal().max()
        step = np.linalg.solve(a, g)
        x, t = x - step[:width], t - step[width:]
        if coarse <= fine and np.abs(step).max() < 0.1 * fine:
            break
        coarse = max(STEADY * coarse, fine)
    return Reading(x, t, _deviations(system, x, key.within))


def _shown(
    system: System, key: KeyShape, matching: Matching, hand: Sequence[Feature]
) -> tuple[Floats, Floats, Floats]:
    """Return rows over the unknowns, what they come to in the hand-in, and how the shift moves it.

    Held places stay where the key has them.
    """
    slots, column = system.slots, system.column
    constant = system.reduction.constant
    rows: list[Floats] = []
    target: list[float] = []
    moves: list[tuple[float, float]] = []

    def entry(row: Floats, slot: int, amount: float) -> float:
        if column[slot] >= 0:
            row[column[slot]] += amount
            return 0.0
        return amount * float(constant[slot])

    for i, j in matching.pairs:
        for name, image, (px, py) in key.observed(i, hand[j]):
            matrix, shift = key.affine(image)
            for axis, place in enumerate((px, py)):
                row = np.zeros(system.width)
                slot = slots.points[name]
                given = shift[axis] + sum(
                    entry(row, slot + k, float(matrix[axis, k])) for k in (0, 1))
                rows.append(row)
                target.append(place - given)
                moves.append((1.0, 0.0) if axis == 0 else (0.0, 1.0))
        name = key.radius_name(i)
        if name is not None:
            row = np.zeros(system.width)
            given = entry(row, slots.radii[name], 1.0)
            rows.append(row)
            target.append(hand[j].curve.radius - given)
            moves.append((0.0, 0.0))
    return (np.array(rows).reshape(-1, system.width), np.array(target),
            np.array(moves).reshape(-1, 2))


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
