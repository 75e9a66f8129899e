"""What an equation is: residual, derivatives and its meaning on the drawing side."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

Array: TypeAlias = "NDArray[Any]"
Local: TypeAlias = tuple[Array, ...]


class Equation:
    """One or two rows over the coordinates of `points` points and `radii` radii.

    The local vector of a binding is (x, y) of each point in order, then the radii: `at` has the
    shape (m, n) with n = 2 * points + radii for m bindings at once. Every operation is analytic,
    so that a complex step through `residual` gives its derivatives to rounding.

    Attributes
    ----------
    points, radii, rows : int
        Operands and rows; rows are lengths in the part's unit, or radians when `angular`.
    sides : tuple of str
        Words for the sides; the position of a word is the code in the array `side`.
    """

    points = 0
    radii = 0
    rows = 1
    angular = False
    sides: tuple[str, ...] = ()

    @property
    def width(self) -> int:
        """Number n of local slots."""
        return 2 * self.points + self.radii

    @property
    def pattern(self) -> Array:
        """Which derivatives can differ from zero, shape (rows, n)."""
        return np.ones((self.rows, self.width), bool)

    def residual(self, at: Array, value: Array, side: Array) -> Array:
        """Rows at `at`, shape (m, rows); `value` and `side` have the shape (m,)."""
        raise NotImplementedError

    def jacobian(self, at: Array, value: Array, side: Array) -> Array:
        """Derivatives of the rows by the local slots, shape (m, rows, n)."""
        raise NotImplementedError

    def lean(self, at: Array) -> Array:
        """Signed amount whose sign tells the first side from the second, shape (m,)."""
        return np.ones(len(at))

    def settle(self, at: Array, value: Array) -> Array:
        """Code of the side on which the geometry stands, shape (m,)."""
        return np.where(self.lean(at).real >= 0.0, 0, 1)

    def holds(self, at: Array, side: Array) -> Array:
        """Whether the side is kept; True where the rows themselves see to it, shape (m,)."""
        return np.ones(len(at), bool)

    def mended(self, at: Array, side: Array, free: Array) -> Array:
        """Local vectors moved to their side by the shortest natural way, shape (m, n).

        `free` has the same shape and tells the slots that can be moved.
        """
        return at

    def span(self, at: Array) -> Array:
        """Typical length that turns radians into a length, shape (m,)."""
        return np.ones(len(at))

    def deviation(self, rows: Array, side: Array) -> Array:
        """Rows as actual minus wanted in the sense in which a value is printed."""
        return rows


SIGN = np.array([1.0, -1.0])
Side: TypeAlias = Callable[[Array], Array]


def sign(side: Array) -> Array:
    """+1 for the first side, -1 for the second."""
    return np.asarray(SIGN[side])


def length(dx: Array, dy: Array) -> Array:
    """Length of a vector, analytic (``hypot`` takes no complex numbers)."""
    return np.asarray(np.sqrt(dx * dx + dy * dy))


def unit(dx: Array, dy: Array) -> tuple[Array, Array, Array]:
    """Unit vector and length; a vector without length counts as a short one to the right."""
    size = length(dx, dy)
    lost = size == 0
    if lost.any():
        dx, size = np.where(lost, 1.0, dx), np.where(lost, 1.0, size)
    return dx / size, dy / size, size


def columns(at: Array) -> Local:
    """Return the local slots as separate arrays."""
    return tuple(at.T)


def stacked(*entries: Array | float, like: Array) -> Array:
    """Return single-row derivatives, shape (m, 1, n), from one entry a slot."""
    out = np.empty((len(like), 1, len(entries)), like.dtype)
    for slot, entry in enumerate(entries):
        out[:, 0, slot] = entry
    return out
