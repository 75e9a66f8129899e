"""Ranks, freedoms and doubled bindings against exact arithmetic, numpy and published counts.

Sources: sympy's exact rank over the rationals; numpy's singular values; Laman, "On graphs and
rigidity of plane skeletal structures", J. Eng. Math. 4 (1970) 331-340: n points are held by 2n - 3
independent bars (from memory); Henneberg's constructions of all such graphs, 1911 (from memory);
Bolker & Roth, "When is a bipartite graph a rigid framework?", Pacific J. Math. 90 (1980): K3,3 is
flexible to first order exactly with its six points on a conic (from memory).
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
import sympy
from scipy.sparse import csr_array

from sketcher.part.value import Part
from sketcher.solve.freedom import freedoms
from sketcher.solve.rank import judge
from sketcher.solve.system import System
from tests.specimens import bar, frame, said


def exact_rank(points: dict[str, tuple[int, int]], pairs: list[tuple[str, str]]) -> int:
    """Rank of the bars' rigidity matrix, exact: whole-number coordinates, squared lengths."""
    names = list(points)
    rows = []
    for one, other in pairs:
        row = [0] * (2 * len(names))
        for axis in (0, 1):
            step = points[one][axis] - points[other][axis]
            row[2 * names.index(one) + axis] = step
            row[2 * names.index(other) + axis] = -step
        rows.append(row)
    return int(sympy.Matrix(rows).rank())


@pytest.mark.parametrize("seed", range(12))
def test_frames_of_bars_against_exact_rank(seed: int) -> None:
    """Random bars between random whole-number points, among them too few and too many."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(3, 8))
    places = rng.integers(0, 1000, (count, 2)).tolist()
    points = {f"p{k}": (x, y) for k, (x, y) in enumerate(places)}
    every = list(combinations(points, 2))
    pairs = [every[k] for k in rng.permutation(len(every))[: int(rng.integers(2, 2 * count))]]
    system = System(frame(points, (), *[bar(points, *pair) for pair in pairs]))
    wanted = exact_rank(points, pairs)
    found = freedoms(system, system.x0)
    assert found.rank == wanted
    assert found.count == 2 * count - wanted
    # Rows that depend on those before them, by exact ranks of the leading rows.
    ranks = [0, *(exact_rank(points, pairs[: k + 1]) for k in range(len(pairs)))]
    late = tuple(f"b{k + 1}" for k in range(len(pairs)) if ranks[k + 1] == ranks[k])
    assert found.doubled == late


def henneberg(steps: int, rng: np.random.Generator) -> tuple[Part, int]:
    """A Laman graph by Henneberg's two moves from a triangle."""
    edges = {(0, 1), (1, 2), (0, 2)}
    for new in range(3, 3 + steps):
        if rng.random() < 0.5:  # a new point on two bars
            one, other = rng.choice(new, 2, replace=False).tolist()
            edges |= {(one, new), (other, new)}
        else:  # a new point in the middle of a bar, and a third bar
            one, other = sorted(edges)[int(rng.integers(len(edges)))]
            third = int(rng.choice([k for k in range(new) if k not in (one, other)]))
            edges -= {(one, other)}
            edges |= {(one, new), (other, new), (third, new)}
    size = 3 + steps
    points = {f"p{k}": tuple(rng.uniform(0, 100, 2).tolist()) for k in range(size)}
    pairs = [(f"p{a}", f"p{b}") for a, b in sorted(edges)]
    return frame(points, (), *[bar(points, *pair) for pair in pairs]), size


@pytest.mark.parametrize("steps", [1, 4, 10, 25, 90])
def test_laman_graphs_are_just_rigid(steps: int) -> None:
    part, size = henneberg(steps, np.random.default_rng(steps))
    system = System(part)
    found = freedoms(system, system.x0)
    assert (found.rank, found.count, found.doubled) == (2 * size - 3, 3, ())


@pytest.mark.parametrize("conic", ["circle", "ellipse", "parabola", "hyperbola", "two lines", None])
def test_k33_and_conics(conic: str | None) -> None:
    t = np.array([-1.9, -1.1, -0.3, 0.45, 1.2, 2.1])
    places = {
        "circle": np.stack([np.cos(t), np.sin(t)], 1),
        "ellipse": np.stack([3 * np.cos(t) + 1, np.sin(t)], 1),
        "parabola": np.stack([t, t * t], 1),
        "hyperbola": np.stack([t, 1 / t], 1),
        "two lines": np.array([[0, 0], [0, 1], [1.7, 0], [0, 3], [3.1, 0], [0, 4.4]], float),
        None: np.array([[0, 0], [3, 1], [1, 4], [5, 2], [4, 6], [7, 3]], float),
    }[conic]
    points = {f"p{k}": (10 * x, 10 * y) for k, (x, y) in enumerate(places.tolist())}
    bars = [bar(points, f"p{i}", f"p{j}") for i in (0, 2, 4) for j in (1, 3, 5)]
    system = System(frame(points, (), *bars))
    jacobian = system.dense_jacobian(system.x0)
    wanted = 9 if conic is None else 8
    assert np.linalg.matrix_rank(jacobian, tol=1e-8) == wanted
    assert judge(jacobian).rank == judge(csr_array(jacobian)).rank == wanted


@pytest.mark.parametrize("seed", range(6))
def test_loose_points_against_the_null_space(seed: int) -> None:
    """Points listed as loose are those where numpy's null space is not zero."""
    rng = np.random.default_rng(100 + seed)
    part, _ = henneberg(5, rng)
    names = list(part.points)
    held = [said("fixed", names[0]), said("fixed", names[1])]
    bindings = {f"c{k}": b for k, b in enumerate(held)} | {
        n: b for n, b in part.bindings.items() if n not in {"b3", "b7"}}
    system = System(part.having(bindings=bindings))
    jacobian = system.dense_jacobian(system.x0)
    _, s, vt = np.linalg.svd(jacobian)
    null = vt[int((s > 1e-8 * s[0]).sum()):]
    moving = {
        name: np.linalg.matrix_rank(null[:, [system.unknowns[name, axis] for axis in "xy"]], 1e-7)
        for name in names[2:]}
    found = {p.point: len(p.directions) for p in freedoms(system, system.x0).loose}
    assert found == {name: rank for name, rank in moving.items() if rank}
