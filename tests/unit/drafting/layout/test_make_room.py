"""Room for what stands badly: found by chains of moves, and nothing left half moved."""

from __future__ import annotations

from collections import defaultdict

import pytest

from sketcher.drafting.dimensioning import Dimensioning
from sketcher.drafting.features import shown_pieces
from sketcher.drafting.layout.choose import FULL, QUICK, Effort
from sketcher.drafting.layout.lay_out import lay_out
from sketcher.drafting.layout.length_places import ROW
from sketcher.drafting.measured import MeasuredLength
from sketcher.drafting.sheet import pages
from sketcher.drafting.view_contents import contents_of
from tests.dimension_checker import faults, of_page
from tests.hole_plates import plate


def asked(seed: int) -> Dimensioning:
    part = plate(seed, dimensions=True)
    found = contents_of(part, shown_pieces(part), 1.0, 3.5, QUICK).dimensioning
    assert found is not None
    return found


@pytest.mark.parametrize(("seed", "rounds", "won"), [(1000, 2, 1000.0), (1045, 3, 10.0)],
                         ids=["one moves", "what moves lets another move"])
def test_a_chain_of_moves_finds_what_fewer_moves_do_not(
    seed: int, rounds: int, won: float
) -> None:
    wanted = asked(seed)
    fewer = wanted.laid_out(Effort(rounds - 1, FULL.most))
    assert wanted.laid_out(Effort(rounds, FULL.most)).cost < fewer.cost - won


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
