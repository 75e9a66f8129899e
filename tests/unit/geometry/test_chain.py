"""Runs of curves in any order and direction."""

from __future__ import annotations

import random
from itertools import pairwise

from sketcher.geometry.chain import chains, goes_round, nodes
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import reversed_curve

PATH = [
    ("a", Line((0.0, 0.0), (5.0, 0.0))), ("b", Arc((5.0, 1.0), (5.0, 0.0), (6.0, 1.0))),
    ("c", Line((6.0, 1.0), (6.0, 4.0))), ("d", Arc((5.0, 4.0), (6.0, 4.0), (4.0, 4.0))),
]


def test_shuffled_and_turned_curves_make_one_run():
    for seed in range(20):
        rng = random.Random(seed)
        items = [(i, reversed_curve(c) if rng.random() < 0.5 else c) for i, c in PATH]
        rng.shuffle(items)
        (run,) = chains(items)
        assert sorted(run.ids) == ["a", "b", "c", "d"]
        assert run.ids in (("a", "b", "c", "d"), ("d", "c", "b", "a"))
        assert not run.closed
        assert all(p.end == q.start for p, q in pairwise(run.curves))


def test_closed_run_and_circle():
    lid = ("e", Line((4.0, 4.0), (0.0, 0.0)))
    found = chains([*PATH, lid, ("h", Circle((2.0, 1.0), 0.5))])
    assert [c.closed for c in found] == [True, True]
    assert found[0].curves[-1].end == found[0].curves[0].start
    assert found[1].ids == ("h",)


def test_ends_within_tolerance_are_joined_bit_by_bit():
    near = [("a", Line((0.0, 0.0), (5.0, 0.0))), ("b", Line((5.0, 1e-7), (5.0, 5.0)))]
    assert len(chains(near)) == 2
    (run,) = chains(near, tol=1e-6)
    assert run.curves[0].end == run.curves[1].start


def test_a_branch_ends_the_runs():
    tips = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)]
    star = [(str(k), Line((0.0, 0.0), tip)) for k, tip in enumerate(tips)]
    assert len(chains(star)) == 3
    net = nodes([c for _, c in star], 1e-9)
    assert max(len(a) for a in net.at) == 3


def test_full_turns():
    turn = Arc((0.0, 0.0), (2.0, 0.0), (2.0, 0.0))
    assert goes_round(turn)
    (run,) = chains([("t", turn)])
    assert run.closed
    almost = Arc((0.0, 0.0), (2.0, 0.0), (2.0, -1e-11))
    (run,) = chains([("t", almost)], tol=1e-9)
    assert run.closed
    assert run.curves == (almost,)
    assert chains([]) == ()
