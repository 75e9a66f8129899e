"""What is free, what is bound and what is said twice: the rank of the Jacobian, read per component.

Freedoms are degrees of freedom: unknowns less the rank of the constraints. A binding whose rows add
nothing to the rank is redundant.

Where is it judged? At the solved configuration. When all rows are independent there, they are so
nearby, and the count is exact. Only when some depend on others the question is whether they do so
always or by chance of position (three points in line, six points on a conic); then `witness`
looks at a second configuration that keeps every incidence but has other sizes (Michelucci & Foufou,
"Geometric constraint solving: the witness configuration method", Computer-Aided Design 38(4),
2006).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from sketcher.geometry.curves import XY
from sketcher.part.value import frozen
from sketcher.solve.rank import Floats, Ranks, judge
from sketcher.solve.solve_report import LoosePoint, State
from sketcher.solve.witness import jacobian, really_moves, witness

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from sketcher.solve.system import System

Ints: TypeAlias = "NDArray[np.intp]"
MOVES = 1e-7  # of the largest motion: less counts as standing still


@dataclass(frozen=True, slots=True)
class Freedoms:
    """Verdict on one configuration.

    Parameters
    ----------
    rank, count : int
        Independent rows, and independent ways to move (unknowns less rank).
    loose : tuple of LoosePoint
        Points that can still move with their directions; circles with a free radius.
    states : mapping of str to State
        ``bound`` or ``loose`` for each curve.
    doubled : tuple of str
        Bindings all of whose rows follow from the rest, later ones first in doubt, in file order.
    """

    rank: int = 0
    count: int = 0
    loose: tuple[LoosePoint, ...] = ()
    states: Mapping[str, State] = field(default_factory=frozen)
    doubled: tuple[str, ...] = ()


def freedoms(
    system: System, x: Floats, solved: bool = True, clashing: Iterable[str] = ()
) -> Freedoms:
    """Return the verdict on a configuration.

    Parameters
    ----------
    system : System
    x : array
        Unknowns, usually those of a solution.
    solved : bool
        False when not all rows hold at `x`; then chance of position is not looked into.
    clashing : iterable of str
        Bindings that cannot hold together; they are never called doubled.
    """
    ranks = judge(jacobian(system, x))
    if solved and _tied(ranks):
        ranks = _generic(system, x, ranks)
    return Freedoms(
        ranks.rank,
        system.width - ranks.rank,
        *_mobility(system, ranks.motions),
        _doubled(system, ranks, frozenset(clashing)),
    )


def _tied(ranks: Ranks) -> bool:
    """Whether some dependency takes more than one row; a row of zeros cannot be chance."""
    return bool((np.abs(ranks.dependencies) > MOVES).sum(axis=1).max(initial=0) > 1)


def _generic(system: System, x: Floats, ranks: Ranks) -> Ranks:
    """Ranks at a witness where it knows better: dependent at `x` by chance, and rigid."""
    other = witness(system, x)
    if other is None:
        return ranks
    general = judge(jacobian(system, other))
    if general.rank <= ranks.rank:
        return ranks
    mixed = ranks.motions.sum(axis=1)
    return ranks if really_moves(system, x, mixed) else general


def _doubled(system: System, ranks: Ranks, clashing: frozenset[str]) -> tuple[str, ...]:
    """Names in file order, those that the substitution found among them."""
    names = system.binding_ids
    found = {name for name, how in system.merged.items() if how == "doubled"}
    if len(ranks.dependencies):
        order = [k for k in range(system.first_binding, len(names)) if names[k] not in clashing]
        owners = system.row_binding.tolist()
        found |= {names[k] for k in doubled_owners(ranks.dependencies, owners, order)}
    return tuple(name for name in names[system.first_binding :] if name in found - clashing)


def _mobility(
    system: System, motions: Floats
) -> tuple[tuple[LoosePoint, ...], Mapping[str, State]]:
    """Loose points and circles, and the state of every curve."""
    part, slots = system.part, system.slots
    count = 2 * len(slots.points)
    if not motions.shape[1]:
        return (), frozen(dict.fromkeys(part.curves, "bound"))
    ways = dict(zip(slots.points, directions(motions, system.column[:count].reshape(-1, 2)),
                    strict=True))
    padded = np.vstack([motions, np.zeros((1, motions.shape[1]))])
    free = np.abs(padded[system.column[count:]]).max(axis=1) > MOVES
    radii = dict(zip(slots.radii, free.tolist(), strict=True))
    loose = [LoosePoint(name, way) for name, way in ways.items() if way]
    loose += [LoosePoint(name, ()) for name, c in part.curves.items()
              if c.kind == "circle" and radii[name]]
    states: dict[str, State] = {
        name: "loose" if radii.get(name) or any(ways[p] for p in curve.points) else "bound"
        for name, curve in part.curves.items()
    }
    return tuple(loose), frozen(states)


def doubled_owners(dependencies: Floats, owners: Sequence[int], order: Sequence[int]) -> list[int]:
    """Owners that can go, all together, without a loss of rank.

    Parameters
    ----------
    dependencies : array [k, m]
        Combinations of rows that vanish (`rank.Ranks.dependencies`).
    owners : sequence of int
        Owner of each row.
    order : sequence of int
        Owners that may be dropped at all; the last ones are tried first.

    Notes
    -----
    Without the rows R the rank is ``rank - |R| + rank(dependencies[:, R])``: R can go when those
    columns are independent. What is left of the dependencies is then the part that is zero on R.
    """
    used = np.flatnonzero(np.abs(dependencies).max(axis=0, initial=0.0) > MOVES)
    owner_of = np.asarray(owners, int)
    rows_of = {int(o): np.flatnonzero(owner_of == o) for o in np.unique(owner_of[used])}
    found = []
    left = dependencies
    for owner in reversed(order):
        rows = rows_of.get(owner)
        if rows is None or len(rows) > len(left):
            continue
        u, s, _ = np.linalg.svd(left[:, rows])
        if s[-1] <= MOVES:
            continue
        found.append(owner)
        left = u[:, len(rows) :].T @ left
        if not len(left):
            break
    return found[::-1]


def directions(motions: Floats, columns: Ints) -> list[tuple[XY, ...]]:
    """Unit vectors that span the motions of points.

    Parameters
    ----------
    motions : array [n, q]
    columns : array [p, 2]
        Columns of x and y of each point; -1 for a constant.

    Returns
    -------
    list of p tuples of none, one or two unit vectors; two are always (1, 0) and (0, 1).
    """
    padded = np.vstack([motions, np.zeros((1, motions.shape[1]))])
    steps = padded[columns]  # [p, 2, q]
    if not steps.size:
        return [()] * len(columns)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    best = np.argmax(lengths, axis=1)
    at = np.arange(len(columns))
    size = lengths[at, best]
    ux, uy = (steps[at, axis, best] / np.maximum(size, 1e-300) for axis in (0, 1))
    across = np.abs(steps[:, 1] * ux[:, None] - steps[:, 0] * uy[:, None]).max(axis=1)
    out: list[tuple[XY, ...]] = []
    for moves, wide, dx, dy in zip(
        (size > MOVES).tolist(), (across > MOVES).tolist(), ux.tolist(), uy.tolist(), strict=True
    ):
        out.append(() if not moves else ((1.0, 0.0), (0.0, 1.0)) if wide else (_tidy(dx, dy),))
    return out


def _tidy(dx: float, dy: float) -> XY:
    """One of the two senses, always the same, without the dust of rounding."""
    dx, dy = (0.0 if abs(v) < 1e-9 else v for v in (dx, dy))
    if dx < 0.0 or (dx == 0.0 and dy < 0.0):
        dx, dy = -dx, -dy
    return (dx + 0.0, dy + 0.0)
