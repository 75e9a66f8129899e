"""Ends that are one place, and curves that close by themselves."""

from __future__ import annotations

from sketcher.geometry.chain import goes_round, nodes, oriented
from sketcher.geometry.curves import Arc, Circle, Line


def test_ends_within_tolerance_are_one_place_and_taken_bit_by_bit():
    curves = [Line((0.0, 0.0), (5.0, 0.0)), Line((5.0, 1e-7), (5.0, 5.0))]
    assert len(nodes(curves, 1e-9).points) == 4
    net = nodes(curves, 1e-6)
    assert net.ends == ((0, 1), (1, 2))
    one, other = (oriented(c, ends, False, net.points)
                  for c, ends in zip(curves, net.ends, strict=True))
    assert one.end == other.start
    assert oriented(curves[1], net.ends[1], True, net.points) == Line((5.0, 5.0), one.end)


def test_a_branch_is_one_place_of_three_curves():
    tips = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)]
    net = nodes([Line((0.0, 0.0), tip) for tip in tips], 1e-9)
    assert max(len(a) for a in net.at) == 3


def test_full_turns_have_no_ends():
    turn, circle = Arc((0.0, 0.0), (2.0, 0.0), (2.0, 0.0)), Circle((2.0, 1.0), 0.5)
    assert goes_round(turn)
    assert nodes([turn, circle], 1e-9).ends == ((-1, -1), (-1, -1))
    almost = Arc((0.0, 0.0), (2.0, 0.0), (2.0, -1e-11))
    assert not goes_round(almost)
    net = nodes([almost], 1e-9)
    assert net.ends == ((0, 0),)
    assert oriented(almost, net.ends[0], False, net.points) == almost
    assert nodes([], 1e-9).points == ()
