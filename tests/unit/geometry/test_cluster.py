"""Clusters of points and connected components."""

from __future__ import annotations

import numpy as np
import pytest

from sketcher.geometry.cluster import clusters, components, groups_of


@pytest.mark.parametrize("seed", range(10))
def test_close_points_always_share_a_label_and_far_ones_never(seed):
    rng = np.random.default_rng(seed)
    tol = 1e-6
    centers = rng.uniform(-100.0, 100.0, (50, 2))
    # Ten points round each center, all within half the tolerance of it.
    noise = rng.uniform(-0.35, 0.35, (500, 2)) * tol
    which = rng.permutation(np.repeat(np.arange(50), 10))
    labels = clusters(centers[which] + noise, tol)
    for k in range(50):
        mine = labels[which == k]
        assert len(set(mine)) == 1
        assert mine[0] == np.flatnonzero(which == k)[0]
    assert len(set(labels)) == 50


def test_few_points_and_no_tolerance():
    assert clusters(np.zeros((0, 2)), 1.0).tolist() == []
    assert clusters(np.zeros((1, 2)), 1.0).tolist() == [0]
    points = np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 0.0]])
    assert clusters(points, 0.0).tolist() == [0, 1, 0]


@pytest.mark.parametrize("seed", range(5))
def test_components_against_a_search(seed):
    rng = np.random.default_rng(seed)
    a, b = rng.integers(0, 300, (2, 220))
    labels = components(300, a, b)
    neighbours = {k: set() for k in range(300)}
    for u, v in zip(a.tolist(), b.tolist(), strict=True):
        neighbours[u].add(v)
        neighbours[v].add(u)
    seen = {}
    for start in range(300):
        if start in seen:
            continue
        todo = [start]
        while todo:
            node = todo.pop()
            if node not in seen:
                seen[node] = start
                todo += neighbours[node]
    assert labels.tolist() == [seen[k] for k in range(300)]


def test_components_of_a_long_chain():
    n = 5000
    order = np.random.default_rng(1).permutation(n)
    assert set(components(n, order[:-1], order[1:])) == {0}


def test_groups_come_in_the_order_of_their_first():
    assert groups_of(np.array([3, 0, 3, 1, 0])) == [[0, 2], [1, 4], [3]]
    assert groups_of(components(3, *np.empty((2, 0), int))) == [[0], [1], [2]]
