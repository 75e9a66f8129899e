"""How far a curve may be off because the sheet rounds its numbers."""

from __future__ import annotations

import numpy as np

from sketcher.drafting.rebuild.on_paper import OnPaper
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part
from sketcher.solve.system import System

HALF_DIGIT = {"mm": 5e-4, "in": 5e-5}
"""Half of the last digit of a length that the sheet prints, in the part's unit."""
HALF_DEGREE = 5e-3
"""The same of an angle, in degrees."""


def allowed(solved: Part, paper: OnPaper) -> dict[str, float]:
    """Return for each outline curve what half the last printed digits amount to, all together.

    To first order: the sum over the dimensions of sensitivity times half a digit, in the part's
    unit.
    """
    system = System(solved)
    x = system.x0
    matrix = system.dense_jacobian(x)
    grains = np.zeros(len(system.values))
    owners = np.concatenate([np.zeros(0, int), *(b.owner for b in system.blocks)])
    for at, owner in enumerate(owners.tolist()):
        name = system.binding_ids[owner]
        if name in paper.redrawn.said_by:
            angle = KINDS[solved.bindings[name].kind].quantity == "angle"
            grains[at] = np.radians(HALF_DEGREE) if angle else HALF_DIGIT[solved.unit]
    said = np.flatnonzero(grains)
    steps = np.zeros((system.height, len(said)))
    rows = system.residual(x)
    for column, at in enumerate(said.tolist()):
        values = system.values.copy()
        values[at] += grains[at]
        steps[:, column] = rows - system.residual(x, values)
    moves = np.abs(np.linalg.lstsq(matrix, steps, rcond=None)[0]).sum(axis=1)
    padded = np.append(moves, 0.0)[system.column]
    count = 2 * len(system.slots.points)
    index = {name: k for k, name in enumerate(system.slots.points)}
    radii = dict(zip(system.slots.radii, padded[count:].tolist(), strict=True))
    points = padded[:count].reshape(-1, 2).sum(axis=1)
    return {name: max((*(float(points[index[p]]) for p in solved.curves[name].points),
                       radii.get(name, 0.0))) for name in paper.curves}
