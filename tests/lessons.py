"""Constructions for tests of what shows them: real ones, and one whose moves are written here."""

from __future__ import annotations

from math import sqrt

from sketcher.lesson.order_step import OrderStep
from sketcher.lesson.strokes import (
    Angled,
    Compass,
    Crossed,
    GivenLine,
    GivenPoint,
    GoneOver,
    Move,
    Named,
    Ruled,
    Swung,
    Which,
)
from sketcher.part.value import (
    ArcCurve,
    Binding,
    CircleCurve,
    LineCurve,
    Mirror,
    Part,
    frozen,
)

HALF = 20.0
TOP = sqrt(25.0**2 - HALF**2)  # 15: a right triangle of 15, 20 and 25 (Euclid I.47)


def roof() -> Part:
    """Half of a small gable: base 40, rafters 25 long, a hole of 6 under the ridge."""
    points = {"p1": (0.0, 0.0), "p2": (HALF, 0.0), "p3": (0.0, TOP), "c1": (0.0, 5.0)}
    curves = {
        "ax": LineCurve(("p1", "p3"), "axis"),
        "e1": LineCurve(("p1", "p2")),
        "e2": LineCurve(("p2", "p3")),
        "h1": CircleCurve("c1", 3.0),
    }
    bindings = {
        "b1": Binding("fixed", ("p1",)), "b2": Binding("plumb", ("ax",)),
        "b3": Binding("level", ("e1",)), "b4": Binding("distance", ("e1",), "20"),
        "b5": Binding("distance", ("e2",), "25"), "b6": Binding("on", ("c1", "ax")),
        "b7": Binding("rise", ("p1", "c1"), "5"), "b8": Binding("diameter", ("h1",), "6"),
    }
    return Part(name="Roof", points=frozen(points), curves=frozen(curves),
                bindings=frozen(bindings), mirrors=(Mirror("ax"),))


def roof_steps() -> tuple[OrderStep, ...]:
    """Its construction, with moves: every kind of stroke is among them."""
    up = (0.0, 26.0)
    return (
        OrderStep(1, "Mark p1, the given point. [b1]", (), ("p1",), ("b1",), stage="Datum",
                  moves=(Move("Mark p1.", (GivenPoint("p1", (0.0, 0.0)),)),)),
        OrderStep(2, "Draw e1 level through p1. [b3]", ("e1",), (), ("b3",), stage="Datum", moves=(
            Move("Draw e1 along the edge of the board.",
                 (GivenLine("e1", "p1", ((-3.0, 0.0), (24.0, 0.0))),)),)),
        OrderStep(3, "Draw ax square to e1 through p1. [b2]", ("ax",), (), ("b2",), stage="Datum",
                  moves=(
            Move("Swing any opening about p1: 3A and 3B on e1.", (
                Swung("3C", "p1", Compass(8.0, "any opening", free=True), (0.0, 0.0)),
                Crossed("3A", ("e1", "3C"), Which("right"), (8.0, 0.0)),
                Crossed("3B", ("e1", "3C"), Which("left"), (-8.0, 0.0)),
            )),
            Move("Swing 3A-3B about 3A and about 3B; draw ax through their crossing and p1.", (
                Swung("3D", "3A", Compass(16.0, "3A-3B", ("3A", "3B")), (8.0, 0.0), ((2.0, 0.3),)),
                Swung("3E", "3B", Compass(16.0, "3A-3B", ("3A", "3B")), (-8.0, 0.0),
                      ((0.9, 0.3),)),
                Crossed("3F", ("3D", "3E"), Which("upper"), (0.0, 8.0 * sqrt(3.0))),
                Ruled("ax", ("p1", "3F"), ((0.0, -3.0), up)),
            )))),
        OrderStep(4, "p2 is on e1, 20 from p1. [b4]", ("e1",), ("p2",), ("b4",), stage="Layout",
                  moves=(Move("Swing 20 about p1: p2 on e1, the right one.", (
                      Swung("4A", "p1", Compass(20.0, "20"), (0.0, 0.0), ((-0.1, 0.2),)),
                      Crossed("p2", ("e1", "4A"), Which("right"), (20.0, 0.0)))),)),
        OrderStep(5, "p3 is on ax, 25 from p2. Draw e2. [b5]", ("ax", "e2"), ("p3",), ("b5",),
                  stage="Layout", moves=(
            Move("Swing 25 about p2: p3 on ax, the upper one.", (
                Swung("5A", "p2", Compass(25.0, "25"), (20.0, 0.0), ((2.4, 0.2),)),
                Crossed("p3", ("ax", "5A"), Which("upper"), (0.0, TOP)))),
            Move("Draw e2 from p2 to p3; 5B is where 3C lies on it, 5C a line at 30°.", (
                Ruled("e2", ("p2", "p3"), ((24.0, -3.0), (-4.0, 18.0))),
                Named("5B", "3A"),
                Crossed("5D", ("e2", "3C"), Which("upper"), (0.0, 8.0)),
                Angled("5C", "p1", "e1", 30.0, "30°", ((0.0, 0.0), (17.32, 10.0))))))),
        OrderStep(6, "Draw circle h1 about c1, 5 above p1, with Ø6. [b6, b7, b8]", ("h1",),
                  ("c1",), ("b6", "b7", "b8"), stage="Layout", moves=(
            Move("Swing 5 about p1: c1 on ax.", (
                Swung("6A", "p1", Compass(5.0, "5"), (0.0, 0.0), ((1.47, 0.2),)),
                Crossed("c1", ("ax", "6A"), Which("upper"), (0.0, 5.0)))),
            Move("Swing h1 about c1 with 6/2.", (
                Swung("h1", "c1", Compass(3.0, "6/2"), (0.0, 5.0)),)))),
        OrderStep(7, "Go over p1 along e1 to p2, along e2 to p3, and over h1.",
                  ("e1", "e2", "h1"), stage="Outline", moves=(
            Move("Go over e1 from p1 to p2, and e2 from p2 to p3.", (
                GoneOver("e1", "e1", ("p1", "p2"), "", ((0.0, 0.0), (20.0, 0.0))),
                GoneOver("e2", "e2", ("p2", "p3"), "", ((20.0, 0.0), (0.0, TOP))))),
            Move("Go over h1.", (GoneOver("h1", "h1", (), "", ()),)))),
        OrderStep(8, "Reflect the outline about ax.", ("e1'", "e2'"), stage="Reflection", moves=(
            Move("Step p2 off beyond p1: p2'.", (
                Crossed("p2'", ("e1", "4A"), Which("left"), (-20.0, 0.0)),)),
            Move("Draw e1' and e2'.", (
                Ruled("e1'", ("p1", "p2'"), ((0.0, 0.0), (-20.0, 0.0))),
                GoneOver("e1'", "e1'", ("p1", "p2'"), "", ((0.0, 0.0), (-20.0, 0.0))),
                Ruled("e2'", ("p2'", "p3"), ((-20.0, 0.0), (0.0, TOP))),
                GoneOver("e2'", "e2'", ("p2'", "p3"), "", ((-20.0, 0.0), (0.0, TOP))))))),
    )


def fence(posts: int) -> tuple[Part, tuple[OrderStep, ...]]:
    """Return a part of many steps: two for each hole of a long strip, and three moves in each."""
    points = {"p1": (0.0, 0.0)}
    curves: dict[str, CircleCurve | ArcCurve] = {}
    steps = [OrderStep(1, "Mark p1, the given point.", (), ("p1",), moves=(
        Move("Mark p1.", (GivenPoint("p1", (0.0, 0.0)),)),))]
    for k in range(1, posts + 1):
        at = (10.0 * k, 5.0 * (k % 7))
        points[f"c{k}"], curves[f"h{k}"] = at, CircleCurve(f"c{k}", 3.0)
        number = len(steps) + 1
        there = ((at[0] - 4.0, at[1]), (at[0] + 4.0, at[1]))
        steps.append(OrderStep(
            number, f"c{k} is {10 * k} to the right of p1.", (), (f"c{k}",), stage="Centers",
            moves=(
                Move(f"Swing {10 * k} about p1.", (
                    Swung(f"{number}A", "p1", Compass(10.0 * k, str(10 * k)), (0.0, 0.0),
                          ((-0.1, 0.2),)),)),
                Move("Rule across.", (Ruled(f"{number}B", ("p1", f"{number}A"), there),)),
                Move(f"c{k} is where they cross.", (
                    Crossed(f"c{k}", (f"{number}A", f"{number}B"), Which("right"), at),)),
            )))
        steps.append(OrderStep(number + 1, f"Draw circle h{k} about c{k} with Ø6.", (f"h{k}",),
                               stage="Circles", moves=(
            Move(f"Swing h{k} about c{k} with 6/2.", (
                Swung(f"h{k}", f"c{k}", Compass(3.0, "6/2"), at),)),)))
    return Part(name="Fence", points=frozen(points), curves=frozen(curves)), tuple(steps)
