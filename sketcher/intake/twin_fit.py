"""Whether a shape is its own reflection about a line, and what in it is whose twin."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sketcher.geometry.curve_table import Floats, Ints
from sketcher.intake.joint_table import JointTable, Places

SHARE = 1e-5
"""Of the size by which twins may differ, and of the area by which the reflection may."""
NOISES = 6.0
"""So many noises twins may be apart: either has its own, and the axis a part."""
SCATTER = 8.0
"""... or so many times what half of the twins are apart. A drawing that is blurred all over is
blurred evenly: of uniform noise the largest of 2,000 is 3 times the median; one hole that was
meant to be larger is far outside of it."""
BLUR = 5e-4
"""Share of the size above which twins are never so blurred."""
LOOSE = 50.0
"""Times the noise within which a twin is looked for at first."""
EVEN = 1.2
"""Root mean square of the distance of twins, square to the outline, whose ends are off by 1 at
most in x and in y, evenly (1.0 to 1.4 on three demo parts; the square root of 2/3 for lines)."""
PROBES = 16
"""Places whose twins are looked for first."""


@dataclass(frozen=True)
class TwinFit:
    """An axis about which a shape is its own reflection.

    Parameters
    ----------
    angle : float
        Of the axis, radians.
    through : complex
        A place on it.
    joint, curve, circle : int
        The twin of each; what lies on the axis or crosses it is its own.
    differs : float
        Area between the shape and its reflection, as a share of the shape's.
    noise : float
        How far the ends are off as told by the twins alone.
    """

    angle: float
    through: complex
    joint: Ints
    curve: Ints
    circle: Ints
    differs: float
    noise: float

    def reflected(self, places: Places) -> Places:
        """Return the reflection of places."""
        return mirrored(places, self.angle, self.through)


def mirrored(places: Places, angle: float, through: complex) -> Places:
    """Return the reflection of places about the line through a place."""
    return np.asarray(through + np.exp(2j * angle) * np.conj(places - through))


def loose(table: JointTable, noise: float) -> float:
    """Return how far a twin may be while the axis is only nearly known, in the part's unit."""
    return max(LOOSE * noise, 2e-3 * table.size)


def twin_fit(table: JointTable, angle: float, noise: float, quantum: float) -> TwinFit | None:
    """Return the axis near a line through the centroid, or None where there is none.

    Twins are matched loosely, the axis is put to them by least squares, and then all have to
    agree: the whole outline square to itself, circles by center and radius.

    Parameters
    ----------
    table : JointTable
    angle : float
        Of the line, radians.
    noise, quantum : float
        As in `Shape`; circles were never joined to anything, so theirs is the last decimal alone.
    """
    through = table.centroid
    near = loose(table, noise)
    first = _matched(table, angle, through, near)
    if first is None:
        return None
    angle, through = _refit(table, *first)
    matched = _matched(table, angle, through, near)
    curve = None if matched is None else _curves(table, matched[0])
    if matched is None or curve is None:
        return None
    joint, circle = matched
    angle, through = _refit(table, joint, circle)
    outline, area = _apart(table, curve, angle, through)
    moved = np.abs(mirrored(table.circle, angle, through) - table.circle[circle])
    wider = np.abs(table.circle_radius - table.circle_radius[circle])
    holes = moved + wider
    every = np.concatenate([outline, holes])
    if not len(every):
        return None
    blur = min(SCATTER * float(np.median(every)), BLUR * table.size)
    least = max(SHARE * table.size, blur)
    if (outline > max(NOISES * noise, least)).any() or (
            holes > max(NOISES * quantum, least)).any():
        return None
    # Two equal circles a little apart: crescents of 4 r d in all (to first order).
    area += float((table.circle_radius * (4.0 * moved + 2.0 * np.pi * wider)).sum())
    share = area / table.area
    if share > SHARE + 2.0 * table.perimeter * max(noise, blur) / table.area:
        return None
    told = float(np.sqrt(np.mean(every**2))) / EVEN
    return TwinFit(angle % np.pi, through, joint, curve, circle, share, told)


def _matched(
    table: JointTable, angle: float, through: complex, near: float
) -> tuple[Ints, Ints] | None:
    # Where a line runs into an arc, a noise of e moves the joint along both by sqrt(2 r e).
    slide = np.where(table.corner, near, near + np.sqrt(2.0 * table.slide * 0.1 * near))
    joint = _nearest(mirrored(table.joints, angle, through), table.joints, slide)
    if joint is None:
        return None
    circle = np.zeros(len(table.circle), dtype=np.intp)
    image = mirrored(table.circle, angle, through)
    # Circles of one size at a time: others may have the same center.
    for rows in parted(table.circle_radius, near):
        twin = _nearest(image[rows], table.circle[rows], np.full(len(rows), near))
        if twin is None:
            return None
        circle[rows] = rows[twin]
    return joint, circle


def parted(values: Floats, gap: float) -> list[Ints]:
    """Return the places of values in groups by rising value; a wider gap parts two groups."""
    if not len(values):
        return []
    order = np.argsort(values, kind="stable")
    return np.split(order, np.flatnonzero(np.diff(values[order]) > gap) + 1)


def _nearest(images: Places, places: Places, near: Floats) -> Ints | None:
    """Return the place at each image, or None unless each has its own and is that one's own."""
    from shapely import STRtree, points

    if not len(places):
        return np.zeros(0, dtype=np.intp)
    # Nearly every axis that is tried is none, which a few places show without a tree of all.
    few = images[:: -(-len(images) // PROBES)]
    if (np.abs(few[:, None] - places).min(axis=1) > 1.001 * float(near.max())).any():
        return None
    tree = STRtree(points(places.real, places.imag))
    found = tree.query_nearest(points(images.real, images.imag), max_distance=float(near.max()),
                               all_matches=False)
    twin = np.full(len(places), -1, dtype=np.intp)
    twin[found[0]] = found[1]
    if (twin < 0).any() or (twin[twin] != np.arange(len(places))).any():
        return None
    return twin if (np.abs(images - places[twin]) <= near).all() else None


def _refit(table: JointTable, joint: Ints, circle: Ints) -> tuple[float, complex]:
    """Put the axis to twins by least squares: |w - exp(2 i a) conj z| at its least."""
    places = np.concatenate([table.joints, table.circle])
    twins = np.concatenate([table.joints[joint], table.circle[circle]])
    weight = np.concatenate([np.where(table.corner, 1.0, 0.02), np.ones(len(table.circle))])
    weight = weight / weight.sum()
    through = complex((weight * places).sum())
    turn = complex((weight * (places - through) * (twins - through)).sum())
    return 0.5 * float(np.angle(turn)), through


def _curves(table: JointTable, joint: Ints) -> Ints | None:
    """Return the twin of each curve: between the twins of its ends, the other way round."""
    n = len(table.joints)
    if not n:
        return np.zeros(0, dtype=np.intp)
    code = table.first * n + table.last
    order = np.argsort(code)
    wanted = joint[table.last] * n + joint[table.first]
    place = np.minimum(np.searchsorted(code[order], wanted), n - 1)
    twin = np.asarray(order[place], dtype=np.intp)
    straight = table.radius == 0.0
    if (code[twin] != wanted).any() or (straight != straight[twin]).any():
        return None
    return twin


def _apart(
    table: JointTable, twin: Ints, angle: float, through: complex
) -> tuple[Floats, float]:
    """Return how far each curve's reflection lies from its twin, square to it, and the area."""
    if not len(twin):
        return np.zeros(0), 0.0
    straight = table.radius == 0.0
    start, end = table.joints[table.first], table.joints[table.last]
    way = (end - start)[twin]
    way = way / np.maximum(np.abs(way), 1e-300)
    away = []
    for at in (start, table.middle, end):
        image = mirrored(at, angle, through)
        line = np.imag((image - start[twin]) * np.conj(way))
        arc = np.abs(image - table.center[twin]) - table.radius[twin]
        away.append(np.abs(np.where(straight, line, arc)))
    first, halfway, last = away
    area = float((table.length * (first + 4.0 * halfway + last) / 6.0).sum())
    return np.max(away, axis=0), area
