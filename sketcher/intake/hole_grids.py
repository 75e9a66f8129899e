"""Whether places stand in even columns and rows, or evenly round a center."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sketcher.geometry.curve_table import Floats, Ints
from sketcher.intake.joint_table import Places
from sketcher.intake.twin_fit import parted

LEAST = 3
"""Places of a row or a ring; of a grid two rows of two."""


@dataclass(frozen=True)
class PlaceGrid:
    """Places in columns and rows: `at[row, column]` numbers them.

    `angle` is that of the rows, radians from -45 to 45 degrees; the steps are positive, and that
    of a single row or column is 0.
    """

    at: Ints
    step: tuple[float, float]
    angle: float


def place_grid(places: Places, near: float) -> PlaceGrid | None:
    """Return the grid that places fill, or None where they do not.

    Parameters
    ----------
    places : complex (n,)
    near : float
        How far a place may lie from where the grid has it.
    """
    if len(places) < LEAST:
        return None
    for angle in _directions(places, near):
        grid = _filled(places, angle, near)
        if grid is not None:
            return grid
    return None


def _directions(places: Places, near: float) -> list[float]:
    """Return level, and the directions from the lowest left place to those nearest to it."""
    far = np.abs(places - places.mean())
    corner = int(np.argmax(far))
    out = places - places[corner]
    nearest = np.argsort(np.abs(out), kind="stable")[1:5]
    angles = (np.angle(out[nearest]) + 0.25 * np.pi) % (0.5 * np.pi) - 0.25 * np.pi
    span = float(far.max())
    return [0.0, *(angle for angle in angles.tolist() if abs(angle) * span > 2.0 * near)]


def _filled(places: Places, angle: float, near: float) -> PlaceGrid | None:
    """Return the grid along a direction when each of its places is there, and no other."""
    along = places * np.exp(-1j * angle)
    # A direction from two places is off by so much at the far end.
    gap = max(2.0 * near, 0.05 * float(np.abs(along - along[0])[1:].min()))
    columns, rows = parted(along.real, gap), parted(along.imag, gap)
    if len(columns) * len(rows) != len(places) or max(len(columns), len(rows)) < 2:
        return None
    column, row = np.empty(len(places), dtype=np.intp), np.empty(len(places), dtype=np.intp)
    for k, group in enumerate(columns):
        column[group] = k
    for k, group in enumerate(rows):
        row[group] = k
    if len(np.unique(row * len(columns) + column)) != len(places):
        return None
    origin, across, up = _fitted(places, column, row, angle)
    off = places - (origin + column * across + row * up)
    square = abs((across * up.conjugate()).real) <= near * max(abs(across), abs(up))
    if float(np.abs(off).max()) > near or not square:
        return None
    at = np.empty((len(rows), len(columns)), dtype=np.intp)
    at[row, column] = np.arange(len(places))
    turned = float(np.angle(across)) if len(columns) > 1 else float(np.angle(up)) - 0.5 * np.pi
    span = max(abs(across) * len(columns), abs(up) * len(rows))
    return PlaceGrid(at, (abs(across), abs(up)), 0.0 if abs(turned) * span <= near else turned)


def _fitted(
    places: Places, column: Ints, row: Ints, angle: float
) -> tuple[complex, complex, complex]:
    """Return origin and steps by least squares; the missing step of a single row is nothing."""
    table = np.stack([np.ones(len(places)), column, row], axis=1).astype(complex)
    origin, across, up = np.linalg.lstsq(table, places, rcond=None)[0].tolist()
    way = complex(np.exp(1j * angle))
    return origin, across if column.max() else 0.0 * way, up if row.max() else 0.0 * way


def ring_order(places: Places, center: complex, near: float) -> Ints | None:
    """Return the places counter-clockwise from the first on when they stand evenly all around.

    Parameters
    ----------
    places : complex (n,)
    center : complex
    near : float
        How far a place may lie from where the ring has it.
    """
    out = places - center
    if len(places) < LEAST or float(np.ptp(np.abs(out))) > 2.0 * near:
        return None
    angle: Floats = np.angle(out / out[0]) % (2.0 * np.pi)
    angle[0] = 0.0
    order = np.argsort(angle, kind="stable")
    even = np.exp(2j * np.pi * np.arange(len(places)) / len(places))
    turn = np.mean(out[order] * np.conj(even))
    return order if float(np.abs(out[order] - turn * even).max()) <= near else None
