"""Moves of which nothing is used go; whatever a later move, or the part, needs stays."""

from __future__ import annotations

from typing import get_args

from sketcher.lesson.idle_moves import uses, without_idle_moves
from sketcher.lesson.order_step import OrderStep
from sketcher.lesson.stroke_form import step_form
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
    Stroke,
    Swung,
    Which,
)
from tests.constructed import used_by

RUN = ((0.0, 0.0), (9.0, 0.0))
ARC = Compass(5.0, "5")


def ring(name: str, center: str, *span: str) -> Swung:
    opening = Compass(5.0, "-".join(span), (span[0], span[1])) if span else ARC
    return Swung(name, center, opening, (0.0, 0.0))


def cross(name: str, *of: str, by: str = "") -> Crossed:
    return Crossed(name, (of[0], of[1]), Which("nearer", by) if by else Which("right"), (5.0, 0.0))


def test_what_a_stroke_uses_is_what_its_printed_form_names() -> None:
    strokes = (GivenPoint("p1", (0.0, 0.0)), GivenLine("1A", "p1", RUN),
               Ruled("e1", ("p1", "p2"), RUN),
               Angled("e2", "p1", "e1", 20.0, "20°", RUN), ring("1B", "p1"),
               ring("1C", "p1", "p2", "p3"), cross("p4", "1A", "1B"),
               cross("p5", "1A", "1B", by="p6"), Named("p7", "p1"),
               GoneOver("e1", "e1", ("p1", "p2"), "", RUN))
    assert {type(stroke) for stroke in strokes} == set(get_args(Stroke))
    for stroke in strokes:
        (form,) = step_form(OrderStep(1, "", moves=(Move("", (stroke,)),)), True)["moves"][0][
            "strokes"]
        assert sorted(filter(None, uses(stroke))) == sorted(filter(None, used_by(form)))


def test_idle_moves_go_and_what_they_alone_needed_goes_with_them() -> None:
    moves = (
        Move("the datum", (GivenPoint("p1", (0.0, 0.0)),)),
        Move("level", (GivenLine("1A", "p1", RUN),)),
        Move("an arc that is used in the next step", (ring("1B", "p1"), cross("1C", "1A", "1B"))),
        Move("needed by an idle one alone", (ring("1D", "p1"), cross("1E", "1A", "1D"))),
        Move("idle", (ring("1F", "1E"),)),
    )
    last = Move("p2", (ring("2A", "1C"), ring("2B", "p1"), cross("p2", "2A", "2B")))
    steps = (OrderStep(1, "one", moves=moves), OrderStep(2, "two", moves=(last,)))
    left, same = without_idle_moves(steps)
    assert left.moves == moves[:3]
    assert same is steps[1]
    assert without_idle_moves((left, same)) == (left, same)
