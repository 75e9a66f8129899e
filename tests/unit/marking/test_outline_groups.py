"""The part among what else is drawn: a frame, a title block, another view, stray curves."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import moved, scaled
from sketcher.marking.comparison import Comparison
from sketcher.marking.hand_in import HandIn
from sketcher.marking.outline_groups import outline_groups
from tests.drawn import lines_through
from tests.ready_keys import key_ready
from tests.unit.marking.by_hand import gate_strap, handed, shelf_bracket

GATE = tuple(gate_strap().values())


def rectangle(x: float, y: float, wide: float, high: float) -> list[Curve]:
    """Four lines."""
    return lines_through((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))


FRAME = [*rectangle(-150, -80, 400, 277), Line((70, -40), (250, -40)), Line((70, -80), (70, -40)),
         Line((70, -60), (250, -60))]
WASHER: list[Curve] = [Circle((-110, 150), 20), Circle((-110, 150), 11), Circle((-110, 150), 3)]


def beside(others: Sequence[Curve], part: Sequence[Curve] = GATE) -> Comparison:
    return key_ready("gate-strap").compare(handed([*others, *part]))


@pytest.mark.parametrize("others", [
    FRAME, WASHER, [*rectangle(-160, -90, 420, 297), *FRAME], [*FRAME, *WASHER],
    [*FRAME, *(moved(scaled(curve, 0.5), 170.0, 120.0) for curve in GATE[:5])],
    [*rectangle(120, -70, 120, 20), *rectangle(120, -50, 120, 10), *FRAME]])
def test_the_part_is_compared_and_what_is_around_it_is_not(others: Sequence[Curve]) -> None:
    comparison = beside(others)
    alone = beside([])
    assert [each.curve for each in comparison.outline] == [each.curve for each in alone.outline]
    assert comparison.matching.missing == comparison.matching.extra == ()
    assert len(comparison.hand_in.of_role("sheet")) == len(others)
    assert f"{len(others)} curves" in comparison.hand_in.told[-1]


@pytest.mark.parametrize("stray", [
    [Line((90, 100), (120, 130))], [Circle((100, 120), 4)],
    [Line((110, 20), (130, 20)), Line((110, 30), (130, 34))]])
def test_what_is_no_drawing_of_its_own_stays_for_it_is_stray(stray: Sequence[Curve]) -> None:
    comparison = beside([*FRAME, *stray])
    assert len(comparison.outline) == len(GATE) + len(stray)
    assert len(comparison.matching.extra) == len(stray)


def test_of_two_parts_the_one_that_fits_is_taken() -> None:
    bracket = [moved(scaled(curve, 25.4), 120.0, -20.0) for curve in shelf_bracket().values()]
    comparison = beside(bracket)
    assert comparison.matching.wrong(comparison.within) == 0
    wrong = tuple(gate_strap(fillet=15.0).values())
    changed = beside(bracket, wrong)
    assert [each.found for each in changed.changes] == ["15"]


def test_a_plate_with_holes_is_one_though_it_looks_like_a_frame() -> None:
    plate = [*rectangle(0, 0, 100, 60), Circle((20, 30), 8), *rectangle(50, 10, 30, 30)]
    widest, *inner = outline_groups(plate)
    assert widest.numbers == tuple(range(9))
    assert {len(each.numbers) for each in inner} == {1, 4}
    bracket = tuple(shelf_bracket().values())  # whose box is a rectangle but for three corners
    comparison = key_ready("shelf-bracket").compare(handed(bracket, "in"))
    assert len(comparison.outline) == len(bracket)
    assert comparison.hand_in.told == ()


def test_an_outline_that_is_open_or_broken_up_stays_one() -> None:
    broken = [curve for n, curve in enumerate(GATE) if n not in (1, 4, 9)]
    comparison = beside([], broken)
    assert len(comparison.outline) == len(broken)
    assert isinstance(comparison.hand_in, HandIn)
    assert any(isinstance(each.curve, Arc) for each in comparison.outline)
