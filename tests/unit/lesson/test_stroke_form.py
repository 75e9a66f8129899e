"""Steps as JSON and as lines: every stroke has its word and keeps its fields."""

from __future__ import annotations

import json
from dataclasses import fields
from typing import get_args

import pytest

from sketcher import cli
from sketcher.lesson.order_step import OrderStep
from sketcher.lesson.stroke_form import DO, step_form
from sketcher.lesson.strokes import (
    Angled,
    Compass,
    Crossed,
    GivenLine,
    GivenPoint,
    Move,
    Named,
    Ruled,
    Stroke,
    Swung,
    Which,
)
from tests.demo_parts import SOUND

RUN = ((-1.0, 0.0), (9.0, 0.0))
STROKES = (
    GivenPoint("p1", (0.0, 0.0)), GivenLine("1A", "p1", RUN),
    Swung("1B", "p1", Compass(0.5625, "9/16"), (0.0, 0.0), ((0.1, 0.2),)),
    Crossed("p2", ("1A", "1B"), Which("right"), (0.5625, 0.0)), Named("p3", "p2"),
    Swung("1C", "p2", Compass(0.5625, "p1-p2", ("p1", "p2")), (0.5625, 0.0)),
    Ruled("e1", ("p1", "p2"), RUN), Angled("e2", "p1", "e1", 20.0, "20°", RUN))
STEPS = (OrderStep(1, "Mark p1. [b1]", (), ("p1",), ("b1",), stage="Datum"),
         OrderStep(2, "Draw e1 and e2.", ("e1", "e2"), ("p2",), stage="Layout",
                   substeps=("First e1.", "Then e2."),
                   moves=(Move("About p1.", STROKES[:5]), Move("Draw both.", STROKES[5:]))))


def test_every_kind_of_stroke_has_a_word_of_its_own() -> None:
    assert set(DO) == set(get_args(Stroke))
    assert len(set(DO.values())) == len(DO)


def test_a_step_keeps_all_its_fields_and_its_moves_when_they_are_asked_for() -> None:
    form = json.loads(json.dumps(step_form(STEPS[1], moves=True)))
    assert list(form) == [field.name for field in fields(OrderStep)]
    strokes = [stroke for move in form["moves"] for stroke in move["strokes"]]
    for stroke, made in zip(STROKES, strokes, strict=True):
        assert list(made) == ["do", *(field.name for field in fields(stroke))]
        assert made["name"] == stroke.name
    assert strokes[2]["opening"] == {"amount": 0.5625, "text": "9/16", "span": None, "free": False}
    assert strokes[3]["which"] == {"word": "right", "of": ""}
    assert strokes[3]["of"] == ["1A", "1B"]
    assert strokes[5]["opening"]["span"] == ["p1", "p2"]
    assert "moves" not in step_form(STEPS[1], moves=False)


@pytest.mark.parametrize("moves", [False, True])
def test_stages_are_headings_and_moves_are_numbered_in_their_step(
    moves: bool, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sketcher.lesson.order.construction_order", lambda part: STEPS)
    assert cli.main(["order", str(SOUND[0]), *["--moves"][:moves]]) == 0
    head, *lines = capsys.readouterr().out.splitlines()
    assert head.endswith(": construction order")
    told = ["     2.1 About p1.", "     2.2 Draw both."] if moves else []
    assert lines == ["", "Datum", "  1. Mark p1. [b1]", "", "Layout", "  2. Draw e1 and e2.",
                     "       First e1.", "       Then e2.", *told]
