"""The figures of the construction order, read back from the display list of the pages."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache, partial
from itertools import combinations
from pathlib import Path

import pytest

from sketcher.drafting.figures.figure_drawing import FigureStyle, draw_figure
from sketcher.drafting.figures.figure_ink import HEAVY, MOST_NAMES, THIN, figure_ink
from sketcher.drafting.figures.figure_steps import FigureSteps, FigureStock
from sketcher.drafting.figures.stroke_ink import StrokeInk
from sketcher.drafting.further_pages.order_page import order_pages
from sketcher.drafting.page import Page
from sketcher.drafting.primitives import Stroke, Text, item_box, items_box
from sketcher.drafting.sheet import pages_alone, pages_of_kind
from sketcher.geometry.bounds import Box, boxes_meet
from sketcher.geometry.clip import visible
from sketcher.geometry.curves import Circle
from sketcher.lesson.order import construction_order
from sketcher.lesson.order_step import OrderStep
from sketcher.lesson.strokes import (
    Compass,
    Crossed,
    GivenLine,
    GivenPoint,
    Move,
    Ruled,
    Swung,
    Which,
)
from sketcher.part.store import load
from sketcher.part.value import LineCurve, Part, begun
from sketcher.solve.solver import solve

DEMO = Path(__file__).resolve().parents[3] / "demo_parts"
PARTS = ["shift-arm", "shelf-bracket"]
SPACE = re.compile(r"\s")
LEAST = 2.5  # mm, a height of the series of ISO 3098-1 (from memory)


@cache
def drawn(name: str) -> tuple[Part, tuple[Page, ...]]:
    part = solve(load(DEMO / f"{name}.profile.json")).part
    return part, pages_alone("construction order", part)


def names_on(page: Page) -> list[Text]:
    return [item for item in page.items
            if isinstance(item, Text) and item.source.startswith("name:")]


def smaller(box: Box, by: float) -> Box:
    return (box[0] + by, box[1] + by, box[2] - by, box[3] - by)


def stands_clear(page: Page) -> None:
    """No name stands on another, or on a line of the part or a leader."""
    names = names_on(page)
    for one, other in combinations(names, 2):
        assert not boxes_meet(item_box(one), item_box(other)), (one.text, other.text)
    for item in page.items:
        # Grey is what only stands around.
        if (isinstance(item, Stroke) and not item.band
                and item.source.split(":")[0] in ("curve", "name")):
            for text in names:
                own = text.source == item.source and isinstance(item.curve, Circle)
                box = smaller(item_box(text), 0.2)
                assert own or not any(visible(c, box) for c in item.dashes()), (
                    text.text, item.source)


@pytest.mark.parametrize("name", PARTS)
def test_names_and_numbers_stand_clear_of_each_other_and_of_all_lines(name: str) -> None:
    for page in drawn(name)[1]:
        assert names_on(page)
        stands_clear(page)


def hand_moved() -> tuple[Part, tuple[OrderStep, ...]]:
    """An edge of 60 on the level line through the datum, and a plumb one by a square corner."""
    part = begun("mm").having(
        points={"p1": (0.0, 0.0), "p2": (60.0, 0.0), "p3": (60.0, 40.0)},
        curves={"e1": LineCurve(("p1", "p2")), "e2": LineCurve(("p2", "p3"))})
    level = ((-10.0, 0.0), (70.0, 0.0))
    at, up = (60.0, 0.0), (60.0, 34.641)
    return part, (
        OrderStep(1, "Mark p1.", points=("p1",), stage="Datum", moves=(
            Move("Mark p1.", (GivenPoint("p1", (0.0, 0.0)),)),
            Move("Draw 1A, level.", (GivenLine("1A", "p1", level),)))),
        OrderStep(2, "Draw e1.", ("e1",), ("p2",), stage="Edges", moves=(
            Move("About p1 cut 1A: p2.", (
                Swung("2A", "p1", Compass(60.0, "60"), (0.0, 0.0), ((-0.1, 0.2),)),
                Crossed("p2", ("1A", "2A"), Which("right"), at),
                Ruled("e1", ("p1", "p2"), level))),)),
        OrderStep(3, "Draw e2.", ("e2",), ("p3",), stage="Edges", moves=(
            Move("Cut 1A at 3B and 3C; about these strike arcs that cross at 3F.", (
                Swung("3A", "p2", Compass(20.0, "any", free=True), at, ((-0.1, 0.2), (3.0, 0.2))),
                Crossed("3B", ("1A", "3A"), Which("left"), (40.0, 0.0)),
                Crossed("3C", ("1A", "3A"), Which("right"), (80.0, 0.0)),
                Swung("3D", "3B", Compass(40.0, "3B-3C", ("3B", "3C")), (40.0, 0.0),
                      ((0.95, 0.2),)),
                Swung("3E", "3C", Compass(40.0, "3B-3C", ("3B", "3C")), (80.0, 0.0),
                      ((1.99, 0.2),)),
                Crossed("3F", ("3D", "3E"), Which("upper"), up),
                Ruled("e2", ("p2", "3F"), (at, (60.0, 45.0))))),)))


def test_moves_have_a_figure_of_their_strokes_each() -> None:
    part, steps = hand_moved()
    page, = pages_of_kind(order_pages(steps, True), part)
    stands_clear(page)
    names = [text.text for text in names_on(page)]
    # A figure for each step: the level line is used in all, and helpers are named that are said.
    assert names.count("1A") == 3
    assert {"3B", "3C", "3F"} <= set(names)
    assert not {"2A", "3A", "3D", "3E"} & set(names)
    assert [names.count(number) for number in "123"] == [1, 1, 1]
    told = [item.text for item in page.items if isinstance(item, Text)
            and item.source == "sheet:order"]
    assert {"Datum", "Edges", "1.2", "3.1"} <= set(told)
    # The level line is 10 too short for the crossing at 80, and runs on to it.
    level = [item.curve for item in page.items if isinstance(item, Stroke)
             and item.source == "curve:1A"]
    assert len(level) == 4
    heavy = {item.source for item in page.items if isinstance(item, Stroke)
             and item.line == "visible"}
    assert {"curve:e1", "curve:e2"} <= heavy


@pytest.mark.parametrize("name", PARTS)
def test_names_stay_on_the_page_and_are_large_enough(name: str) -> None:
    for page in drawn(name)[1]:
        frame = [item for item in page.items if item.source == "sheet:frame"
                 and isinstance(item, Stroke) and item.line == "frame"]
        x0 = min(item_box(item)[0] for item in frame)
        x1 = max(item_box(item)[2] for item in frame)
        for text in names_on(page):
            box = item_box(text)
            assert x0 < box[0]
            assert box[2] < x1
            assert text.height >= LEAST


@pytest.mark.parametrize("name", PARTS)
def test_every_name_and_number_of_the_steps_is_on_a_figure(name: str) -> None:
    part, pages = drawn(name)
    said = {part for page in pages for text in names_on(page)
            for part in re.split(r", ", text.text)}
    said = {word.lower() for word in said}
    for step in construction_order(part):
        words = set(re.findall(r"\w+", step.text)) & {*part.points, *part.curves}
        assert {word.lower() for word in words} <= said, step.text
        assert str(step.number) in said, step.text


@pytest.mark.parametrize("name", PARTS)
def test_all_of_every_step_is_told_once(name: str) -> None:
    part, pages = drawn(name)
    told = "".join(item.text for page in pages for item in page.items
                   if isinstance(item, Text) and item.source == "sheet:order")
    bare = SPACE.sub("", told).lower()
    for step in construction_order(part):
        text = step.text.removesuffix(f" [{', '.join(step.bindings)}]")
        wanted = f"{step.number}.{SPACE.sub('', text).lower()}"
        assert bare.count(wanted) == 1, step.text


def test_a_step_of_many_names_has_a_figure_as_wide_as_the_page_and_all_its_moves() -> None:
    count = 30
    points = {f"q{k}": (7.0 * (k % 6), 9.0 * (k // 6)) for k in range(count)}
    part = begun("mm").having(points=points, curves={"e1": LineCurve(("q0", "q29"))})
    moves = tuple(Move(f"Mark {name}.", (GivenPoint(name, at),)) for name, at in points.items())
    steps = (OrderStep(1, "Mark all.", ("e1",), tuple(points), moves=moves),)
    page, = pages_of_kind(order_pages(steps, True), part)
    stands_clear(page)
    assert {text.text for text in names_on(page)} == {*points, "e1", "1"}
    told = [item.text for item in page.items if isinstance(item, Text)
            and item.source == "sheet:order"]
    assert [told.count(f"1.{k}") for k in range(1, count + 1)] == [1] * count
    spread = [text.at[0] for text in names_on(page)]
    assert max(spread) - min(spread) > 0.5 * page.size[0]
    # Of more than a figure can have it tells which it leaves out.
    assert MOST_NAMES < 90
    many = {f"q{k}": (7.0 * (k % 10), 9.0 * (k // 10)) for k in range(90)}
    part = part.having(points=many)
    steps = (OrderStep(1, "Mark all.", ("e1",), tuple(many), moves=moves),)
    ink = StrokeInk(FigureSteps(FigureStock(part, steps), 0, 1)).ink(1.0)
    assert len(ink.names) < MOST_NAMES
    assert len(ink.names) + len(ink.left_out) == 90 + 1


def test_a_figure_is_heavy_where_its_steps_draw_and_thin_where_something_stood() -> None:
    part, steps = hand_moved()
    stock = FigureStock(part, steps)

    def looks(first: int, end: int) -> dict[str, str]:
        return {one.name: one.look for one in figure_ink(FigureSteps(stock, first, end), 5.0).lines}

    assert looks(0, 2) == {"e1": HEAVY}
    assert looks(2, 3) == {"e1": THIN, "e2": HEAVY}
    assert looks(0, 3) == {"e1": HEAVY, "e2": HEAVY}


def test_a_line_runs_on_past_an_end_that_is_found_later_and_is_heavy_when_it_is_cut() -> None:
    part, (first, second, third) = hand_moved()
    drawn_first = replace(second, curves=("e1",), points=())
    cut = replace(third, text="Cut it.", curves=(), points=("p2",))
    stock = FigureStock(part, (first, drawn_first, cut))
    before, = figure_ink(FigureSteps(stock, 0, 2), 5.0).lines
    assert before.look == THIN
    assert before.curve.length == pytest.approx(60.0 + 2 * 5.0)
    after, = figure_ink(FigureSteps(stock, 2, 3), 5.0).lines
    assert after.look == HEAVY
    assert after.curve.length == pytest.approx(60.0)


def test_where_names_find_no_room_a_detail_is_drawn_or_they_are_told() -> None:
    """Twenty points on 2 mm of a line of 500 have no names beside it, and have in a detail."""
    points = {f"q{k}": (480.0 + 0.1 * k, 3.0 * (k % 2)) for k in range(20)}
    part = begun("mm").having(points={"p1": (0.0, 0.0), "p2": (500.0, 0.0), **points},
                              curves={"e1": LineCurve(("p1", "p2"))})
    stock = FigureStock(part, (OrderStep(1, "Draw e1.", ("e1",), ("p1", "p2", *points)),))
    style = FigureStyle("ISO", 2.5, str)
    inked = partial(figure_ink, FigureSteps(stock, 0, 1))
    made = draw_figure(inked, (0.0, 0.0, 170.0, 120.0), style)
    told = " ".join(item.text for item in made.items if isinstance(item, Text))
    assert any(item.source == "detail:A" for item in made.items)
    for name in (*points, *made.badly):
        assert name in told
    x0, y0, x1, y1 = items_box(made.items)
    assert 0.0 <= x0 < x1 <= 170.0
    assert 0.0 <= y0 < y1 <= 120.0
