"""Shape tools on curves that a pattern repeats and a mirror reflects: every image follows.

The half has a cutout of two lines and two arcs. Its corners are, in turn, of two lines, of a line
and an arc, and of two arcs; the cutout stands in a grid or around a point.
"""

from __future__ import annotations

import pytest
import sympy

from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.loops import find_loops
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.part.whole import half, whole
from tests.shaped import PATTERNS, Hands, count, cutout

CORNERS = {"line and line": (100, 20), "line and arc": (112, 20), "two arcs": (106, 32)}


def images(part: Part, name: str) -> list[Curve]:
    return [p.curve for p in whole(part) if p.source == name]


def new_curve(before: Part, after: Part) -> str:
    (name,) = after.curves.keys() - before.curves.keys()
    return name


def area(part: Part) -> float:
    loops = find_loops([(p.id, p.curve) for p in whole(part)
                        if p.role == "outline" and not isinstance(p.curve, Circle)])
    assert loops.sound
    return loops.moments.area


@pytest.mark.parametrize("pattern", PATTERNS)
@pytest.mark.parametrize("pair", CORNERS)
@pytest.mark.parametrize("tool", ["fillet", "chamfer"])
def test_a_cut_corner_is_cut_in_every_instance(pattern: str, pair: str, tool: str) -> None:
    hands = Hands(cutout(pattern))
    before = hands.part
    hands.use(tool)
    hands.type("1.5")
    hands.press(*CORNERS[pair])
    name = new_curve(before, hands.part)
    assert name in hands.part.patterns[next(iter(hands.part.patterns))].curves
    made = images(hands.part, name)
    assert len(made) == 2 * count(pattern)
    first = half(hands.part)[name]
    assert all(curve.length == pytest.approx(first.length, rel=1e-12) for curve in made)
    lost = area(before) - area(hands.part)
    # Every instance loses as much as one cutout by itself does.
    assert lost == pytest.approx(2 * count(pattern) * _one_loss(before, hands.part), rel=1e-9)
    hands.board.bench.undo()
    assert hands.part is before


def _one_loss(before: Part, after: Part) -> float:
    def one(part: Part) -> float:
        loops = find_loops([(n, c) for n, c in half(part).items()
                            if part.curves[n].role == "outline" and not isinstance(c, Circle)])
        return loops.moments.area

    return one(before) - one(after)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_fillet_of_the_square_corner_against_sympy(pattern: str) -> None:
    """A right angle rounded with r loses r² (1 - pi/4) of its area, in every instance."""
    hands = Hands(cutout(pattern))
    before = area(hands.part)
    hands.use("fillet")
    hands.type("1.5")
    hands.press(100, 20)
    r = sympy.Rational(3, 2)
    lost = float(r**2 * (1 - sympy.pi / 4)) * 2 * count(pattern)
    assert before - area(hands.part) == pytest.approx(lost, rel=1e-9)


@pytest.mark.parametrize("pattern", PATTERNS)
@pytest.mark.parametrize(("name", "at"), [("e1", (106, 20)), ("e2", (100, 25)), ("a1", None)])
def test_a_split_curve_is_split_in_every_instance(pattern: str, name: str, at) -> None:
    hands = Hands(cutout(pattern))
    before = hands.part
    curve = half(before)[name]
    if at is None:
        assert isinstance(curve, Arc)
        from sketcher.geometry.evaluate import midpoint

        at = midpoint(curve)
    hands.use("split")
    hands.press(*at)
    new = new_curve(before, hands.part)
    assert len(images(hands.part, new)) == 2 * count(pattern)
    assert area(hands.part) == pytest.approx(area(before), rel=1e-12)
    hands.use("join")
    hands.press(*at)
    assert area(hands.part) == pytest.approx(area(before), rel=1e-12)
    assert hands.part.curves.keys() == before.curves.keys()


@pytest.mark.parametrize("pattern", PATTERNS)
def test_deleting_with_healing_and_cutting_back_in_every_instance(pattern: str) -> None:
    from sketcher.board.action_table import perform
    from tests.hosts import AnsweringHost

    hands = Hands(cutout(pattern))
    before = area(hands.part)
    hands.use("chamfer")
    hands.type("2")
    hands.press(100, 20)
    hands.board.bench.select((new_curve(cutout(pattern), hands.part),))
    assert perform("edit.delete_heal", hands.board, AnsweringHost())
    assert area(hands.part) == pytest.approx(before, rel=1e-12)
    draft = Draft(hands.part)
    draft.line((106, 15), (106, 25), "layout", name="edge")
    hands = Hands(draft.done())
    hands.use("cut back")
    hands.press(110, 20)
    assert all(c.length == pytest.approx(6) for c in images(hands.part, "e1"))
    hands.use("extend")
    hands.press(105.5, 20)
    ends = [c for c in images(hands.part, "e1") if isinstance(c, Line)]
    assert len(ends) == 2 * count(pattern)
    assert ends[0].length > 6  # it reaches the arc that it was cut from
    assert ends[0].length == pytest.approx(12, abs=1e-9)
