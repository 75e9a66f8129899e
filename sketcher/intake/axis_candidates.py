"""Lines about which a shape may be its own reflection, from what it has few of."""

from __future__ import annotations

import numpy as np

from sketcher.geometry.curve_table import Floats
from sketcher.intake.joint_table import JointTable, Places
from sketcher.intake.twin_fit import loose, parted

CLASSES = 3
"""Classes that are asked; one would do where nothing is blurred: an axis maps each onto itself."""
NEAR_CENTER = 0.02
"""Share of the size within which nothing tells a direction."""


def axis_angles(table: JointTable, noise: float) -> list[float]:
    """Return directions of lines through the centroid that may be axes, radians, none twice.

    Each axis goes through the centroid and takes a corner, a circle or the middle of a curve to one
    of its own kind that is equally far from there. So it halves the angle from the first of a kind
    to itself or to another one.
    """
    classes: list[tuple[int, float, Floats]] = []
    near = loose(table, noise)
    far = max(NEAR_CENTER * table.size, 2.0 * near)
    sorts = ((table.circle, table.circle_radius), (table.joints[table.corner],
                                                   np.zeros(int(table.corner.sum()))),
             (table.middle, table.radius))
    for places, sizes in sorts:
        out = places - table.centroid
        keep = np.abs(out) > far
        classes += [(len(group), -float(np.abs(group).mean()), np.angle(group))
                    for group in _classes(out[keep], sizes[keep], near)]
    classes.sort(key=lambda one: one[:2])
    found: list[float] = []
    alike = near / max(table.size, 1e-300)
    for _, _, angles in classes[:CLASSES]:
        for angle in (0.5 * (angles[0] + angles)).tolist():
            apart = (angle - np.array(found) + 0.5 * np.pi) % np.pi - 0.5 * np.pi
            if (np.abs(apart) > alike).all():
                found.append(angle)
    return found


def _classes(out: Places, sizes: Floats, near: float) -> list[Places]:
    """Group by distance from the centroid and by size; a gap parts two groups."""
    groups: list[Places] = []
    for rows in parted(np.abs(out), near):
        groups += [out[rows[inner]] for inner in parted(sizes[rows], near)]
    return groups
