"""Move, copy, rotate and reflect lines and arcs that a pattern repeats and a mirror reflects.

The exact places come from sympy's rational and trigonometric arithmetic.
"""

from __future__ import annotations

from collections.abc import Callable
from math import hypot

import pytest
import sympy

from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Mirror, Part
from sketcher.part.whole import half, whole
from tests.shaped import PATTERNS, Hands, count, cutout

LOOP = ("e1", "a1", "a2", "e2")
Place = tuple[float, float]
Exact = Callable[[Place], Place]


def moved(at: Place) -> Place:
    x, y = map(sympy.nsimplify, at)
    return float(x + 6), float(y - sympy.Rational(5, 2))


def turned(at: Place) -> Place:
    x, y = (sympy.Float(v, 30) for v in at)
    turn = sympy.rad(37)
    dx, dy = x - 100, y - 20
    return (float(100 + dx * sympy.cos(turn) - dy * sympy.sin(turn)),
            float(20 + dx * sympy.sin(turn) + dy * sympy.cos(turn)))


def reflected(at: Place) -> Place:
    return -at[0], at[1]


def spots(curve: Curve) -> list[Place]:
    """Places that settle a curve."""
    if isinstance(curve, Circle):
        return [curve.center]
    ends = [curve.start, curve.end]
    return [*ends, curve.center] if isinstance(curve, Arc) else ends


def check_carried(before: Curve, after: Curve, exact: Exact) -> None:
    for was, now in zip(spots(before), spots(after), strict=True):
        assert now == pytest.approx(exact(was), abs=1e-9)
    assert after.length == pytest.approx(before.length, rel=1e-12)


def by_move(hands: Hands) -> None:
    hands.use("move", *LOOP)
    hands.move(150, 60)
    hands.type("6", "run")
    hands.type("-2.5", "rise")
    hands.board.key("enter")


def by_rotate(hands: Hands) -> None:
    hands.use("rotate", *LOOP)
    hands.press(100, 20)
    hands.type("37")


def by_reflect(hands: Hands) -> None:
    hands.use("reflect", *LOOP)
    hands.board.key("w")
    hands.press(0, 60)


@pytest.mark.parametrize("pattern", PATTERNS)
@pytest.mark.parametrize(("act", "exact"), [(by_move, moved), (by_rotate, turned),
                                            (by_reflect, reflected)])
def test_lines_and_arcs_are_carried_with_every_image(
    act: Callable[[Hands], None], exact: Exact, pattern: str
) -> None:
    hands = Hands(cutout(pattern))
    before = hands.part
    act(hands)
    old, new = half(before), half(hands.part)
    for name in LOOP:
        check_carried(old[name], new[name], exact)
        images = [p.curve for p in whole(hands.part) if p.source == name]
        assert len(images) == 2 * count(pattern)
        assert all(c.length == pytest.approx(old[name].length, rel=1e-9) for c in images)
    hands.board.bench.undo()
    assert hands.part is before


@pytest.mark.parametrize("pattern", PATTERNS)
def test_copied_lines_and_arcs_are_reflected_too(pattern: str) -> None:
    hands = Hands(cutout(pattern))
    before = hands.part
    hands.use("copy", *LOOP)
    hands.move(150, 60)
    hands.type("6", "run")
    hands.type("-2.5", "rise")
    hands.board.key("enter")
    old, new = half(before), half(hands.part)
    made = [name for name in new if name not in old]
    assert len(made) == len(LOOP)
    left = [new[name] for name in made]
    for name in LOOP:
        check_carried(old[name], new[name], tuple)
        want = [moved(at) for at in spots(old[name])]
        twin = next(c for c in left if type(c) is type(old[name])
                    and _near(spots(c), want))
        left.remove(twin)
        check_carried(old[name], twin, moved)
    for name in made:
        assert len([p for p in whole(hands.part) if p.source == name]) >= 2
    hands.board.bench.undo()
    assert hands.part is before


def _near(one: list[Place], other: list[Place]) -> bool:
    return all(hypot(a[0] - b[0], a[1] - b[1]) < 1e-6 for a, b in zip(one, other, strict=True))


def test_a_line_of_its_own_and_an_arc_of_its_own_are_carried_alone() -> None:
    draft = Draft(Part())
    line = draft.line((100, 20), (130, 35))
    arc = draft.arc((140, 40), (130, 50), (130, 40))
    axis = draft.line((0, 0), (0, 90), "axis")
    draft.set_mirrors((Mirror(axis),))
    hands = Hands(draft.done())
    before = half(hands.part)
    for name in (line, arc):
        hands.use("rotate", name)
        hands.press(100, 20, "ctrl")
        hands.type("37")
    after = half(hands.part)
    assert isinstance(after[line], Line)
    check_carried(before[line], after[line], turned)
    check_carried(before[arc], after[arc], turned)
