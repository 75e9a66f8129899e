"""Smallest dependent sets of bindings: circuits of the matroid of all conditions.

The solver's columns are reduced: what a level line or a fixed point says is no row there. Here
every binding has rows again, over the raw slots, so that a circuit names all of its members. A
circuit is a combination of rows that vanishes while no part of it does; if its values do not fit,
its members cannot all hold, and without any one of them the others are independent.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from sketcher.part.equations import SIGNED_BY_LINE, SIGNED_BY_ROUND
from sketcher.part.kinds import KINDS
from sketcher.solve.assemble import Block, Piles, meeting_of
from sketcher.solve.rank import SMALL, Floats, Matrix, judge
from sketcher.solve.system import System

NOTHING = 1e-7


def full_matrix(system: System, x: Floats) -> tuple[Matrix, list[str]]:
    """Return all conditions over the raw slots at `x`, and the owner of each row.

    Rows of arcs first, then those of the bindings in file order.
    """
    raw = system.raw(x)
    names = system.binding_ids
    owners: list[str] = []
    rows: list[Any] = []
    columns: list[Any] = []
    amounts: list[Any] = []
    for block in (*_plain(system), *_touches(system)):
        found = block.equation.jacobian(raw[block.slots], block.value, block.side)
        m, k, _ = found.shape
        number = len(owners) + np.arange(m * k).reshape(m, k, 1)
        rows.append(np.broadcast_to(number, found.shape).ravel())
        columns.append(np.broadcast_to(block.slots[:, None, :], found.shape).ravel())
        amounts.append(found.ravel())
        owners += [names[o] for o in np.repeat(block.owner, k).tolist()]
    for name, pair in _substitutions(system):
        rows.append(np.full(len(pair), len(owners)))
        columns.append(np.array(pair))
        amounts.append(np.array([1.0, -1.0][: len(pair)]))
        owners.append(name)
    shape = (len(owners), len(raw))
    at = [np.concatenate(parts) if parts else np.zeros(0) for parts in (amounts, rows, columns)]
    place = {name: k for k, name in enumerate(names)}
    order = sorted(range(len(owners)), key=lambda row: place[owners[row]])
    into = np.empty(len(order), int)
    into[order] = np.arange(len(order))
    at[1] = into[at[1].astype(int)] if len(order) else at[1].astype(int)
    return _assembled(shape, *at), [owners[row] for row in order]


def _assembled(shape: tuple[int, int], amounts: Any, rows: Any, columns: Any) -> Matrix:
    columns = columns.astype(int)
    if max(shape) <= SMALL:
        dense = np.zeros(shape)
        np.add.at(dense, (rows, columns), amounts)
        return dense
    from scipy.sparse import coo_array

    return coo_array((amounts, (rows, columns)), shape=shape).tocsr()


def _plain(system: System) -> list[Block]:
    """Rows of the solver but for those that sign a radius at a tangent joint.

    With such a row the arc itself says half of the tangency, and to first order all of it; here
    the tangency says it (`_touches`), so that it is named.
    """
    return [b for b in system.blocks if b.equation not in (SIGNED_BY_LINE, SIGNED_BY_ROUND)]


def _touches(system: System) -> list[Block]:
    """Distance of the center, for every tangent joint."""
    part = system.part
    names = system.binding_ids[system.first_binding :]
    meeting = meeting_of(part, [part.bindings[name] for name in names])
    piles = Piles()
    for owner, name in enumerate(names, system.first_binding):
        binding = part.bindings[name]
        kind = KINDS[binding.kind]
        if kind.joins and binding.of in meeting.joints:
            for row in kind.rows(part, binding.of, binding.side):
                piles[row.equation].add(row, binding.side, owner)
    return piles.blocks(system.slots, np.full(len(system.binding_ids), np.nan))


def _substitutions(system: System) -> list[tuple[str, tuple[int, ...]]]:
    """Pairs of slots that a binding makes one, single slots that it holds."""
    out: list[tuple[str, tuple[int, ...]]] = []
    at = system.slots.at
    for name in system.binding_ids[system.first_binding :]:
        binding = system.part.bindings[name]
        kind = KINDS[binding.kind]
        for one, other in kind.unions(system.part, binding.of):
            if one != other:
                out.append((name, (at(one), at(other))))
        out += [(name, (at(slot),)) for slot in kind.held(system.part, binding.of)]
    return out


def circuits(system: System, x: Floats) -> list[tuple[str, ...]]:
    """Return one smallest dependent set of bindings for each row that is one too many, at `x`.

    The rows that are too many are sought from the end of the file: each set holds one of them and
    earlier bindings on which it depends. Sets in file order, without repeats.
    """
    matrix, owners = full_matrix(system, x)
    found = []
    for support in fundamental(judge(matrix).dependencies):
        members = dict.fromkeys(owners[row] for row in support)
        found.append(tuple(name for name in members if name in system.part.bindings))
    return list(dict.fromkeys(members for members in found if members))[::-1]


def fundamental(dependencies: Floats) -> list[list[int]]:
    """Rows in each fundamental circuit of a space of dependencies [k, m], the last row's first.

    Gauss-Jordan with pivots from the last column backwards: each pivot is a row that depends on
    rows before it, and it stands in its own circuit only.
    """
    left = dependencies.copy()
    pivots: list[int] = []
    for column in range(left.shape[1] - 1, -1, -1):
        if len(pivots) == len(left):
            break
        done = len(pivots)
        best = done + int(np.argmax(np.abs(left[done:, column])))
        if abs(left[best, column]) <= NOTHING:
            continue
        left[[done, best]] = left[[best, done]]
        left[done] /= left[done, column]
        others = np.arange(len(left)) != done
        left[others] -= np.outer(left[others, column], left[done])
        pivots.append(column)
    sizes = np.abs(left).max(axis=1, initial=0.0)[:, None]
    return [np.flatnonzero(np.abs(row) > NOTHING * size).tolist()
            for row, size in zip(left, sizes, strict=True)]
