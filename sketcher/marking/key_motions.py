"""How a key can move once its values are taken away, and what of it a set of dimensions holds.

What has no value (level, tangent, equal, reflected ...) a drawing shows; the values are what its
dimensions must say. So the key is loosened to its plain bindings. Each of its motions is then an
unknown, and each dimension of a hand-in a row: how what it measures grows with each motion. The
rank of the rows against that of the outline tells how many sizes nobody says, whichever of all
complete sets of dimensions a student has chosen (rank of a Jacobian: Golub & Van Loan, *Matrix
Computations*, from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, TypeAlias
from weakref import WeakKeyDictionary

import numpy as np

from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.marking.dimension_feet import PlacedKey, standing
from sketcher.marking.key_changes import (
    KeyChange,
    changed,
    pattern_fields,
    pattern_quantity,
    pattern_value,
)
from sketcher.marking.key_shape import KeyShape
from sketcher.part.part_size import part_size
from sketcher.part.value import GridPattern, Part
from sketcher.quantity.format import exact
from sketcher.quantity.parameters import evaluate_all
from sketcher.quantity.parse import evaluate

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from sketcher.solve.system import System

    Floats: TypeAlias = NDArray[np.float64]

STEP = 1e-5
"""Of the size, by which the key is moved to see what grows: central differences are then off by
1e-10 of it, rounding by 1e-11."""
ZERO = 1e-6
"""Below this a row of unit length has nothing left."""
Measure: TypeAlias = Callable[[PlacedKey], float | None]


class KeyMotions:
    """The motions of a key without its values.

    Parameters
    ----------
    part : Part
        Solved.

    Attributes
    ----------
    count : int
        How many independent ones there are.
    owners : tuple of str
        For each row of `values`: the id of its binding, or a pattern's with the field that
        `KeyChange.name` names.
    values : array, shape (rows, count)
        What the key's own dimensions hold.
    """

    def __init__(self, part: Part) -> None:
        from sketcher.solve.rank import null_space
        from sketcher.solve.system import System

        system = System(part)
        plain, owned, owners = _parted(system)
        free = null_space(plain) if len(plain) else np.eye(system.width)
        self.size = part_size(part)
        step = STEP * self.size
        patterns = _pattern_fields(part)
        self.count = free.shape[1] + len(patterns)
        self._moved = [tuple(standing(system.to_part(system.x0 + sign * step * motion))
                             for sign in (1.0, -1.0)) for motion in free.T]
        self._moved += [tuple(standing(_with_field(part, name, value + sign * step))
                              for sign in (1.0, -1.0)) for name, value in patterns.items()]
        owned = owned @ free
        self.values = np.zeros((len(owned) + len(patterns), self.count))
        self.values[:len(owned), :free.shape[1]] = owned
        for k in range(len(patterns)):
            self.values[len(owned) + k, free.shape[1] + k] = 1.0
        self.owners = (*owners, *patterns)

    def row(self, measure: Measure) -> Floats:
        """Return how a measure grows with each motion, shape (count,); 0 where it is not there."""
        found = np.zeros(self.count)
        for k, (more, less) in enumerate(self._moved):
            a, b = measure(more), measure(less)
            if a is not None and b is not None:
                found[k] = (a - b) / (2.0 * STEP * self.size)
        return found

    @cached_property
    def _outline(self) -> dict[str, Floats]:
        """Rows of the ends, center and radius of each piece, shape (n, count)."""
        found: dict[str, Floats] = {}
        tables = [[{name: _numbers(curve) for name, curve in key.curves.items()} for key in pair]
                  for pair in self._moved]
        names = set.intersection(*(set(table) for pair in tables for table in pair)) if (
            tables) else set()
        for name in names:
            columns = [np.subtract(more[name], less[name]) for more, less in tables]
            found[name] = np.array(columns).T / (2.0 * STEP * self.size)
        return found

    def unsaid(self, rows: Sequence[Floats], pieces: Collection[str]) -> list[str]:
        """Return what the rows leave open, in the key's own dimensions.

        Parameters
        ----------
        rows : sequence of array, shape (count,)
            What is said.
        pieces : collection of str
            Ids of the outline's curves that must be held.

        Returns
        -------
        list of str
            As many of the key's dimensions as sizes are missing: with them it would be complete.
        """
        wanted = [self._outline[name] for name in pieces if name in self._outline]
        if not wanted:
            return []
        # where the key itself leaves something loose, nobody can ask for more
        own = basis(self.values)
        held = spans(np.vstack(wanted) @ own.T @ own)
        said = basis(_unit(np.array(rows).reshape(-1, self.count)))
        open_ = basis(held - held @ said.T @ said, self._scale(held))
        found: list[str] = []
        names = list(dict.fromkeys(self.owners))
        owners = np.array(self.owners)
        while len(open_):
            best, most = "", ZERO
            for name in names:
                mine = _unit(self.values[owners == name])
                left = float(np.abs(mine @ open_.T).max(initial=0.0))
                if left > most * (1.0 + 1e-6):
                    best, most = name, left
            if not best:
                break
            found.append(best)
            names.remove(best)
            mine = _unit(self.values[owners == best])
            taken = basis(mine @ open_.T)
            rest = basis(np.eye(len(open_)) - taken.T @ taken)
            open_ = rest[:len(open_) - len(taken)] @ open_
        return found

    @staticmethod
    def _scale(rows: Floats) -> float:
        return float(np.linalg.norm(rows, axis=1).max(initial=1.0))

    def owned(self, names: Iterable[str]) -> list[Floats]:
        """Return the rows of some of the key's own dimensions."""
        asked = set(names)
        return [row for row, owner in zip(self.values, self.owners, strict=True) if owner in asked]


def _parted(system: System) -> tuple[Floats, Floats, list[str]]:
    """Part the rows of a key in what a drawing shows and what its numbers say, with the owners.

    A dimension of two parallel edges has a row for each end: that they are parallel is shown, and
    is one row less the other.
    """
    rows, valued = system.dense_jacobian(system.x0), system.row_valued
    by_value = (system.residual(system.x0, system.values + system.size)
                - system.residual(system.x0)) / system.size
    plain, owned, owners = [rows[~valued]], [], []
    first: dict[int, int] = {}
    for n in np.flatnonzero(valued).tolist():
        owner = int(system.row_binding[n])
        if owner not in first or not by_value[n]:
            first.setdefault(owner, n)
            owned.append(rows[n])
            owners.append(system.binding_ids[owner])
        else:
            start = first[owner]
            plain.append((rows[n] / by_value[n] - rows[start] / by_value[start])[None, :])
    return (np.vstack(plain), np.array(owned).reshape(-1, system.width), owners)


_known: WeakKeyDictionary[KeyShape, KeyMotions] = WeakKeyDictionary()


def motions_of(key: KeyShape) -> KeyMotions:
    """Return the motions of a key, computed once for all hand-ins."""
    if key not in _known:
        _known[key] = KeyMotions(key.part)
    return _known[key]


def basis(rows: Floats, scale: float | None = None) -> Floats:
    """Return orthonormal rows that span the same, shape (rank, n).

    `scale` is the length against which a row is nothing; the greatest singular value without it.
    """
    if not rows.size:
        return np.zeros((0, rows.shape[1]))
    _, s, vt = np.linalg.svd(rows, full_matrices=False)
    least = ZERO * (s[0] if scale is None else scale)
    return np.asarray(vt[:int(np.count_nonzero(s > max(least, 1e-12)))])


def spans(rows: Floats) -> Floats:
    """Return rows without those that are nothing but rounding."""
    lengths = np.linalg.norm(rows, axis=1)
    return np.asarray(rows[lengths > ZERO])


def _unit(rows: Floats) -> Floats:
    lengths = np.linalg.norm(rows, axis=1)
    kept = lengths > ZERO * max(float(lengths.max(initial=0.0)), 1e-12)
    return np.asarray(rows[kept] / lengths[kept, None])


def follows(row: Floats, rows: Sequence[Floats]) -> bool:
    """Tell whether a row follows from others."""
    size = float(np.linalg.norm(row))
    if size <= ZERO:
        return True
    if not rows:
        return False
    others = basis(_unit(np.array(rows)))
    one = row / size
    return float(np.linalg.norm(one - one @ others.T @ others)) <= 10.0 * ZERO


def _numbers(curve: Curve) -> tuple[float, ...]:
    if isinstance(curve, Circle):
        return (*curve.center, curve.radius)
    if isinstance(curve, Line):
        return (*curve.start, *curve.end)
    return (*curve.start, *curve.end, *curve.center, curve.radius)


def _pattern_fields(part: Part) -> dict[str, float]:
    """Return the steps and spans of patterns that a drawing must say, with their values.

    The angle of a grid is shown, and so is that holes go all the way round.
    """
    values = evaluate_all(part.parameters, part.unit)
    found: dict[str, float] = {}
    for name in pattern_fields(part):
        pattern = part.patterns[name.split(".")[0]]
        value = evaluate(pattern_value(part, name), pattern_quantity(name), part.unit, values)
        if isinstance(pattern, GridPattern):
            is_said = not name.endswith(".angle")
        else:
            is_said = abs(value) != 360.0 and pattern.count > 1
        if is_said:
            found[name] = value
    return found


def _with_field(part: Part, name: str, value: float) -> Part:
    return changed(part, [KeyChange("pattern", name, "", exact(value))])
