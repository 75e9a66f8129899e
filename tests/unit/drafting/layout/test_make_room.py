"""Room for what stands badly: found by chains of moves, and nothing left half moved."""

from __future__ import annotations

from collections import defaultdict

import pytest

from sketcher.drafting.dimensioning import Dimensioning
from sketcher.drafting.features import shown_pieces
from sketcher.drafting.layout.choose import FULL, QUICK, Effort
from sketcher.drafting.layout.lay_out import lay_out
from sketcher.drafting.layout.length_places import ROW, STEP
from sketcher.drafting.measured import MeasuredLength
from sketcher.drafting.sheet import pages
from sketcher.drafting.view_contents import contents_of
from sketcher.part.value import Binding, LineCurve, Part, frozen
from tests.dimension_checker import faults, of_page
from tests.hole_plates import plate

AMPLE = 3e7  # work that never ends before the rounds do


def asked(seed: int) -> Dimensioning:
    part = plate(seed, dimensions=True)
    found = contents_of(part, shown_pieces(part), 1.0, 3.5, QUICK).dimensioning
    assert found is not None
    return found


@pytest.mark.parametrize(("seed", "rounds", "won"), [(1012, 2, 500.0), (1014, 3, 50.0)],
                         ids=["one moves", "what moves lets another move"])
def test_a_chain_of_moves_finds_what_fewer_moves_do_not(
    seed: int, rounds: int, won: float
) -> None:
    wanted = asked(seed)
    fewer, more = (lay_out(wanted.wanted, wanted.ground, wanted.sizes, Effort(n, AMPLE))
                   for n in (rounds - 1, rounds))
    assert more.cost < fewer.cost - won


def test_what_could_stand_outside_goes_there_and_all_others_a_row_further_out() -> None:
    """Six lengths from one corner: the shortest begins within the part, the rows are full."""
    points = {"p1": (0.0, 0.0), "p2": (200.0, 0.0), "p3": (200.0, 40.0), "p4": (0.0, 40.0)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}
    points |= {f"q{k}": (30.0 * k, 0.0) for k in range(1, 7)}
    bindings = {f"b{k}": Binding("run", ("p1", f"q{k}"), str(30 * k)) for k in range(1, 7)}
    part = Part(points=frozen(points), curves=frozen(curves), bindings=frozen(bindings))
    wanted = contents_of(part, shown_pieces(part), 1.0, 3.5, QUICK).dimensioning
    assert wanted is not None
    kept = {f"b{k}": (ROW, -1.0, k - 2.0, 0.0, 0.0) for k in range(2, 7)}
    kept["b1"] = (STEP, 1.0, 0.0, 0.0, 0.0)
    places = lay_out(wanted.wanted, wanted.ground, wanted.sizes, FULL, kept=kept).places
    assert places["b1"][:3] == (ROW, -1.0, 0.0)
    sides = defaultdict(list)
    for k in range(1, 7):
        where, side, row = places[f"b{k}"][:3]
        assert where == ROW
        sides[side].append(row)
    assert all(rows == [float(k) for k in range(len(rows))] for rows in sides.values())


@pytest.mark.parametrize("seed", [1000, 1033, 1045])
def test_all_is_counted_as_it_stands_after_moves_and_after_moves_taken_back(seed: int) -> None:
    """The sum that was carried along is that of the same places judged anew."""
    wanted = asked(seed)
    layout = wanted.laid_out()
    anew = lay_out(wanted.wanted, wanted.ground, wanted.sizes, Effort(0, FULL.most),
                   kept=layout.places)
    assert anew.places == layout.places
    assert anew.cost == pytest.approx(layout.cost)


@pytest.mark.parametrize(("seed", "practice"), [(1000, "ISO"), (1033, "ASME")])
def test_no_line_runs_through_a_hole_that_the_other_side_of_the_part_would_spare(
    seed: int, practice: str
) -> None:
    found = faults(of_page(pages(plate(seed, practice, dimensions=True))[0]))
    assert (found.text_on_line, found.through_holes_with_room, found.over_centers,
            found.over_plus) == (0, 0, 0, 0)


@pytest.mark.parametrize("seed", [1003, 1033, 1045])
def test_no_row_is_left_empty_where_something_has_moved_away(seed: int) -> None:
    wanted = asked(seed)
    places = wanted.laid_out().places
    rows = defaultdict(list)
    for one in wanted.wanted:
        if isinstance(one, MeasuredLength) and places[one.id][0] == ROW:
            rows[one.direction, places[one.id][1]].append(places[one.id][2])
    assert len(rows) == 4
    assert all(max(taken) < len(taken) for taken in rows.values())
