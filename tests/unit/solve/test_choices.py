"""What the other side of a binding costs, what turns along with it, and which sides are open.

Costs are worked by hand: the smallest move of unknowns u that takes a row f(u) to zero to first
order is f g / |g|^2, squared f^2 / |g|^2, with its gradient g (Golub & Van Loan, *Matrix
Computations*, 5.5; from memory).
"""

from __future__ import annotations

from math import atan, radians

import pytest

from sketcher.part.kinds import settle_sides
from sketcher.part.value import ArcCurve, Binding, CircleCurve, LineCurve, Part
from sketcher.solve.choices import Choices, implied, with_sides
from tests.specimens import frame, said


def beside(x: float, *more: Binding, wanted: str = "5") -> Part:
    """A plumb line of 10 and a point at half its height, `x` to the right of it."""
    return frame({"a": (0.0, 0.0), "b": (0.0, 10.0), "k": (x, 5.0)}, [("a", "b")],
                 said("offset", "e1", "k", value=wanted), *more)


def slanted() -> Part:
    """Two lines from one corner with what says their directions."""
    return frame({"a": (0.0, 0.0), "b": (10.0, 1.0), "c": (10.0, -3.0)}, [("a", "b"), ("b", "c")],
                 said("level", "e1"), said("angle", "e1", "e2", value="70"),
                 said("run", "e1", value="8"), said("angle", "e1", value="10"))


def test_the_cost_of_an_offset_is_shared_by_the_point_and_the_line() -> None:
    choices = Choices(beside(2.0))
    assert choices.words == {"b1": ("left", "right")}
    assert choices.settled == {"b1": "right"}
    # The point counts 1, each end of the line 1/2: |g|^2 = 1 + 1/4 + 1/4.
    stays, turns = (choices.turning("b1", side) for side in ("right", "left"))
    assert stays.cost == pytest.approx(3.0**2 / 1.5)
    assert turns.cost == pytest.approx(7.0**2 / 1.5)
    assert stays.moved == {"a": pytest.approx((-1.0, 0.0)), "b": pytest.approx((-1.0, 10.0)),
                           "k": pytest.approx((4.0, 5.0))}
    assert turns.moved["k"] == pytest.approx((2.0 - 7.0 / 1.5, 5.0))
    assert choices.extra("b1", "left", "right") == pytest.approx(40.0 / 1.5)
    assert choices.extra("b1", "right", "left") == pytest.approx(-40.0 / 1.5)
    assert choices.other("b1", "left") == "right"
    assert choices.other("b1", "right") == "left"
    assert choices.neighbours("b1") == ()
    assert choices.along("b1", "left") == {"b1": "left"}


def test_rounds_that_touch_share_the_cost_with_their_radii() -> None:
    choices = Choices(frame({"m": (0.0, 0.0), "q": (6.0, 0.0)},
                            [CircleCurve("m", 3.0), CircleCurve("q", 1.0)],
                            said("tangent", "e1", "e2")))
    assert choices.words == {"b1": ("outside", "inside", "around")}
    # Distance 6 less 3 + 1, 3 - 1 or 1 - 3; two centers and two radii count 1 each.
    for side, off in (("outside", 2.0), ("inside", 4.0), ("around", 8.0)):
        turning = choices.turning("b1", side)
        assert turning.cost == pytest.approx(off**2 / 4.0)
        assert turning.moved == {"m": pytest.approx((off / 4.0, 0.0)),
                                 "q": pytest.approx((6.0 - off / 4.0, 0.0))}


def test_a_level_line_turns_about_its_middle() -> None:
    turning = Choices(slanted()).turning("b1", "left")
    assert turning.cost == pytest.approx(10.0**2 + 10.0**2)
    assert turning.moved == {"a": pytest.approx((10.0, 0.0)), "b": pytest.approx((0.0, 1.0))}
    assert Choices(slanted()).turning("b1", "right").cost == 0.0


def test_an_angle_is_reckoned_in_radians() -> None:
    # Both ends of a line of length L turn about its middle: (angle L / 2)^2 each.
    choices = Choices(slanted())
    lean, square = atan(0.1), 10.0**2 + 1.0
    assert choices.turning("b4", "ccw").cost == pytest.approx(
        (radians(10.0) - lean) ** 2 * square / 2.0)
    assert choices.turning("b4", "cw").cost == pytest.approx(
        (radians(10.0) + lean) ** 2 * square / 2.0)


def test_what_says_the_sense_of_one_line_turns_along() -> None:
    choices = Choices(slanted())
    assert choices.settled == {"b1": "right", "b2": "ccw reversed", "b3": "right", "b4": "ccw"}
    assert choices.neighbours("b1") == ("b2", "b3", "b4")
    assert choices.neighbours("b2") == ("b1", "b3", "b4")
    assert choices.along("b3", "left") == {
        "b3": "left", "b1": "left", "b2": "cw reversed", "b4": "cw reversed"}
    assert choices.along("b3", "right") == {"b3": "right", "b2": "cw"}
    assert choices.along("b4", "ccw") == {"b4": "ccw"}


def test_operands_are_moved_where_sides_differ_one_after_the_other() -> None:
    part = beside(2.0, said("rise", "a", "k", value="5"))
    choices = Choices(part)
    settled = choices.settled
    assert settled == {"b1": "right", "b2": "above"}
    assert choices.moved(settled, part, settled).points == part.points
    left = choices.moved({**settled, "b1": "left"}, part, settled).points
    assert left["k"] == pytest.approx((2.0 - 7.0 / 1.5, 5.0))
    both = choices.moved({"b1": "left", "b2": "below"}, part, settled).points
    # The rise of 5 becomes one of -5: five up and five down, from where the first has put them.
    assert both["a"] == pytest.approx((7.0 / 3.0, 5.0))
    assert both["k"] == pytest.approx((2.0 - 7.0 / 1.5, 0.0))
    assert both["b"] == pytest.approx((7.0 / 3.0, 10.0))
    # From another part, and only by what is not as it was.
    there = part.having(points={**part.points, "k": (-6.0, 5.0)})
    back = choices.moved(settled, there, {**settled, "b1": "left"}).points
    assert back["k"] == pytest.approx((-6.0 + 11.0 / 1.5, 5.0))


def test_only_what_the_geometry_has_to_tell_is_open() -> None:
    part = beside(2.0, said("run", "a", "k", value="2", drives=False),
                  Binding("rise", ("a", "k"), "5", "above"), said("distance", "a", "k", value="5"))
    assert set(Choices(part).words) == {"b1"}
    smooth = frame({"p": (0.0, 0.0), "q": (5.0, 0.0), "r": (7.0, 2.0), "m": (5.0, 2.0)},
                   [("p", "q"), ArcCurve(("q", "r"), "m")], said("tangent", "e1", "e2"))
    assert Choices(smooth).words == {}
    apart = smooth.having(points={**smooth.points, "s": (5.0, 0.0)},
                          curves={**smooth.curves, "e1": LineCurve(("p", "s"))})
    assert Choices(apart).words == {"b1": ("left", "right")}


def test_sides_are_put_into_the_part_as_drawn() -> None:
    part = beside(2.0, said("rise", "a", "k", value="5"))
    other = Choices(part).having({"b1": "left"})
    assert [b.side for b in other.bindings.values()] == ["left", "above"]
    assert other.points == part.points
    assert [b.side for b in with_sides(part, {"b2": "below"}).bindings.values()] == [None, "below"]


def test_what_follows_is_read_where_the_part_stands_and_choices_stay() -> None:
    drawn = beside(2.0, said("run", "a", "k", value="5", drives=False),
                   Binding("run", ("a", "k"), "5", "right", drives=False))
    solved = settle_sides(drawn).having(points={**drawn.points, "k": (-5.0, 5.0)})
    assert [b.side for b in solved.bindings.values()] == ["right", "right", "right"]
    sides = [b.side for b in implied(solved, drawn).bindings.values()]
    # An offset is a choice, the first run follows, the second has been stored.
    assert sides == ["right", "left", "right"]
