"""Layouts as wholes: the same each time, kept in the next frame, honest where there is no room."""

from __future__ import annotations

from dataclasses import replace
from math import hypot
from typing import Literal

import pytest

from sketcher.drafting.dimensioning import Dimensioning
from sketcher.drafting.features import shown_pieces
from sketcher.drafting.layout.choose import FRAME, FULL, QUICK
from sketcher.drafting.layout.drawn_once import drawn_once
from sketcher.drafting.layout.lay_out import lay_out
from sketcher.drafting.layout.length_places import ACROSS
from sketcher.drafting.measured import MeasuredLength, MeasuredRound
from sketcher.drafting.sheet import pages
from sketcher.drafting.view_contents import contents_of
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Binding, CircleCurve, Drawing, LineCurve, Part, frozen
from tests.hole_plates import plate


def asked(part: Part, factor: float = 1.0) -> Dimensioning:
    found = contents_of(part, shown_pieces(part), factor, 3.5, QUICK).dimensioning
    assert found is not None
    return found


def again(now: Dimensioning, kept) -> object:
    return lay_out(now.wanted, now.ground, now.sizes, FRAME, now.dragged, kept.places)


@pytest.mark.parametrize("seed", [1000, 1012])
def test_the_same_part_is_always_laid_out_the_same(seed: int) -> None:
    part = plate(seed, dimensions=True)
    one, other = asked(part).laid_out(FULL), asked(part).laid_out(FULL)
    assert (one.drawn, one.badly, one.work) == (other.drawn, other.badly, other.work)


def test_a_frame_in_which_nothing_moved_is_the_same() -> None:
    now = asked(plate(1004, dimensions=True))
    first = now.laid_out()
    frame = again(now, first)
    assert drawn_once(frame.drawn) == first.drawn
    assert frame.work < 0.2 * lay_out(now.wanted, now.ground, now.sizes).work


@pytest.mark.parametrize("seed", [1003, 1004])
def test_what_was_tried_quickly_is_gone_on_from(seed: int) -> None:
    """Where there is room the quick try has placed them all: nearly no work is left."""
    now = asked(plate(seed, dimensions=True))  # laid out quickly
    found = now.laid_out(FULL)
    anew = lay_out(now.wanted, now.ground, now.sizes, FULL)
    assert found.places == anew.places
    assert found.work < 0.2 * anew.work


def moved(part: Part, point: str, by: tuple[float, float]) -> Part:
    x, y = part.points[point]
    return part.having(points={**part.points, point: (x + by[0], y + by[1])})


def test_while_a_hole_is_dragged_all_others_keep_their_places() -> None:
    part = plate(1001, dimensions=True)
    layout = asked(part).laid_out()
    changed: set[str] = set()
    for step in range(1, 9):
        frame = again(asked(moved(part, "k1", (0.2 * step, 0.1 * step))), layout)
        changed |= {name for name, place in frame.places.items() if place != layout.places[name]}
        layout = frame
    assert changed <= {"d1", "x1", "y1"}


def test_what_is_in_the_way_in_the_next_frame_moves_away() -> None:
    part = plate(1001, dimensions=True)
    layout = asked(part).laid_out()
    d1 = next(d for d in layout.drawn if d.id == "d1")
    # The lettering of d1 now stands where the hole k2 has been dragged to.
    x, y = part.points["k2"]
    onto = moved(part, "k2", (d1.place[0] - x, d1.place[1] - y))
    frame = again(asked(onto), layout)
    assert frame.places["d1"] != layout.places["d1"]
    assert "d1" not in frame.badly


def test_lengths_from_one_corner_are_nested_in_rows() -> None:
    """The shorter nearer, no row twice in one place (ASME Y14.5M-1994, 1.7.1)."""
    points = {"p1": (0.0, 0.0), "p2": (260.0, 0.0), "p3": (260.0, 30.0), "p4": (0.0, 30.0)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}
    bindings = {}
    for k in range(1, 7):
        points[f"q{k}"] = (40.0 * k, 0.0)
        bindings[f"b{k}"] = Binding("run", ("p1", f"q{k}"), str(40 * k))
    part = Part(points=frozen(points), curves=frozen(curves), bindings=frozen(bindings))
    found = asked(part).laid_out()
    below = {d.id: d.points[2][1] for d in found.drawn if d.points[2][1] < 0.0}
    above = {d.id: d.points[2][1] for d in found.drawn if d.points[2][1] > 0.0}
    assert found.badly == ()
    for side in (below, above):
        away = [abs(v - 15.0) for _, v in sorted(side.items())]
        assert away == sorted(away)
        assert len(set(away)) == len(away)


def crowd() -> Part:
    """Sixteen holes of 2 mm, four apart, each with a size of its own: no room on a small sheet.

    At 1:1 they print just too large for a detail view.
    """
    points = {"p1": (0.0, 0.0), "p2": (24.0, 0.0), "p3": (24.0, 24.0), "p4": (0.0, 24.0)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}
    bindings = {}
    for k in range(16):
        points[f"k{k}"] = (6.0 + 4.0 * (k % 4), 6.0 + 4.0 * (k // 4))
        curves[f"h{k}"] = CircleCurve(f"k{k}", 1.0)
        bindings[f"d{k}"] = Binding("diameter", (f"h{k}",), "2", tolerance=(0.01, -0.01))
        bindings[f"s{k}"] = Binding("distance", ("p1", f"k{k}"), repr(3.0 + k))
    return Part(points=frozen(points), curves=frozen(curves), bindings=frozen(bindings))


def test_what_finds_no_room_is_told_by_name() -> None:
    found = asked(crowd()).laid_out()
    assert found.badly
    assert set(found.badly) <= {d.id for d in found.drawn}
    fixed = crowd().having(drawing=Drawing(scale="1:1", sheet="A4"))
    page = pages(fixed)[0]
    assert page.crowded
    assert page.crowded[0] in page.caution


def test_a_sheet_chosen_by_itself_is_larger_where_that_makes_room() -> None:
    small = pages(crowd().having(drawing=Drawing(scale="5:1", sheet="A2")))[0]
    chosen = pages(crowd())[0]
    assert len(chosen.crowded) <= len(small.crowded)


def test_what_a_person_has_put_somewhere_stays_and_is_kept_clear_of() -> None:
    part = plate(1001, dimensions=True)
    free = asked(part).laid_out()
    place = next(d.place for d in free.drawn if d.id == "d2")
    put = part.having(drawing=replace(part.drawing, placed=frozen({"b1": place})))
    found = asked(put).laid_out()
    assert "b1" not in found.places
    assert next(d.place for d in found.drawn if d.id == "b1") == pytest.approx(place)
    assert found.places["d2"] != free.places["d2"]


def test_a_place_of_another_form_is_not_kept() -> None:
    now = asked(plate(1004, dimensions=True))
    first = now.laid_out()
    round_ = next(one.id for one in now.wanted if isinstance(one, MeasuredRound))
    length = next(one.id for one in now.wanted if isinstance(one, MeasuredLength))
    for name, place in ((round_, (0.0, 30.0)), (length, (1.0, 0.5, 10.0, 0.0)),
                        (length, (float(ACROSS), 0.0, 0.0, 0.0, 0.0))):
        frame = lay_out(now.wanted, now.ground, now.sizes, FRAME, {},
                        {**first.places, name: place})
        assert len(frame.places[name]) == len(first.places[name])
        assert not frame.badly


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
@pytest.mark.parametrize("away", [10.0, 300.0, 5000.0])
def test_an_angle_is_drawn_however_far_away_it_is_put(
    practice: Literal["ISO", "ASME"], away: float
) -> None:
    draft = Draft(Part(drawing=Drawing(practice=practice)))
    draft.line((0.0, 0.0), (6000.0, 0.0))  # e1
    draft.line("p1", (-6000.0, 600.0))  # e2
    name = draft.bind("angle", ("e1", "e2"), 174.3)
    now = asked(draft.done())
    layout = lay_out(now.wanted, now.ground, now.sizes, FULL, {name: (0.0, away)})
    (drawn,) = layout.drawn
    assert hypot(*drawn.place) == pytest.approx(away, rel=0.3, abs=6.0)
