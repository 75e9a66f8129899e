"""Structure of a matrix by its pattern: matching, block triangular form.

The fine part of the Dulmage-Mendelsohn decomposition (Dulmage & Mendelsohn 1958; for systems of
geometric conditions Ait-Aoudia, Jegou & Michelucci, "Reduction of constraint systems",
Compugraphics 1993): match each column with a row of its own, then take the strongly connected
components of "needs". Plain Python on lists: patterns of a drawing are small and sparse, and scipy
must not be imported for a small part.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Sequence
from heapq import heapify, heappop, heappush


def matching(pattern: Sequence[Sequence[int]], columns: int) -> list[int]:
    """Row matched with each column, -1 where none is; a matching of maximum size.

    Augmenting paths, breadth first, after a greedy start with the most constrained rows.
    """
    row_of = [-1] * columns
    waiting = []
    for row in sorted(range(len(pattern)), key=lambda r: len(pattern[r])):
        free = next((c for c in pattern[row] if row_of[c] < 0), None)
        if free is None:
            waiting.append(row)
        else:
            row_of[free] = row
    for row in waiting:
        _augment(row, pattern, row_of)
    return row_of


def _augment(row: int, pattern: Sequence[Sequence[int]], row_of: list[int]) -> None:
    came: dict[int, int] = {}  # column -> row from which it was reached
    column_of = {row_of[c]: c for c in range(len(row_of)) if row_of[c] >= 0}
    queue = deque([row])
    while queue:
        here = queue.popleft()
        for column in pattern[here]:
            if column in came:
                continue
            came[column] = here
            if row_of[column] >= 0:
                queue.append(row_of[column])
                continue
            at: int | None = column
            while at is not None:
                owner = came[at]
                row_of[at], at = owner, column_of.get(owner)
            return


def blocks(
    pattern: Sequence[Sequence[int]], row_of: Sequence[int], rank: Callable[[int], tuple[int, ...]]
) -> list[list[int]]:
    """Blocks of columns that depend on one another, each after all that it needs.

    Parameters
    ----------
    pattern : sequence of sequences of int
        Columns of each row.
    row_of : sequence of int
        Row matched with each column (all matched).
    rank : function of a column
        Among blocks that could come next the one with the smallest rank of a column comes first.
    """
    needs = [[c for c in pattern[row_of[own]] if c != own] for own in range(len(row_of))]
    label = strong_components(needs)
    members: list[list[int]] = [[] for _ in range(max(label, default=-1) + 1)]
    for column, own in enumerate(label):
        members[own].append(column)
    before: list[set[int]] = [set() for _ in members]
    after: list[set[int]] = [set() for _ in members]
    for column, wanted in enumerate(needs):
        for other in wanted:
            if label[other] != label[column]:
                before[label[column]].add(label[other])
                after[label[other]].add(label[column])
    first = [min(rank(c) for c in group) for group in members]
    ready = [(first[b], b) for b in range(len(members)) if not before[b]]
    heapify(ready)
    out = []
    while ready:
        _, block = heappop(ready)
        out.append(sorted(members[block]))
        for later in after[block]:
            before[later].discard(block)
            if not before[later]:
                heappush(ready, (first[later], later))
    return out


def strong_components(needs: Sequence[Sequence[int]]) -> list[int]:
    """Label of the strongly connected component of each node (Tarjan 1972, without recursion)."""
    index: list[int] = [-1] * len(needs)
    low = [0] * len(needs)
    label = [-1] * len(needs)
    stack: list[int] = []
    count = found = 0
    for start in range(len(needs)):
        if index[start] >= 0:
            continue
        work = [(start, 0)]
        while work:
            node, at = work.pop()
            if at == 0:
                index[node] = low[node] = count
                count += 1
                stack.append(node)
            elif at > 0:
                low[node] = min(low[node], low[needs[node][at - 1]])
            for step in range(at, len(needs[node])):
                other = needs[node][step]
                if index[other] < 0:
                    work += [(node, step + 1), (other, 0)]
                    break
                if label[other] < 0:
                    low[node] = min(low[node], index[other])
            else:
                if low[node] == index[node]:
                    while True:
                        member = stack.pop()
                        label[member] = found
                        if member == node:
                            break
                    found += 1
    return label
