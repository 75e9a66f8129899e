"""Places judged in batches cost what each costs by itself on the same paper."""

from __future__ import annotations

import numpy as np
import pytest

from sketcher.drafting import candidates
from sketcher.drafting.candidates import Batch, Covered
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.features import shown_pieces
from sketcher.drafting.field import NEVER, Field
from sketcher.drafting.placing import Paper, placed_on
from sketcher.drafting.sheet import contents_of
from tests.hole_plates import plate


def paper(seed: int, practice: str = "ISO") -> Paper:
    part = plate(seed, practice, dimensions=True)
    found = contents_of(part, shown_pieces(part), 1.0, 3.5, thorough=False).paper
    assert found is not None
    return found


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
@pytest.mark.parametrize("seed", range(3))
def test_a_batch_costs_what_the_field_says_one_by_one(seed: int, practice: str) -> None:
    """Up to `NEVER` for each lettering: there the field stops to count how often."""
    at = paper(seed, practice)
    stand = placed_on(at, thorough=False)
    rng = np.random.default_rng(seed)
    for one in at.wanted[:6]:
        others = [d for d in stand if d.id != one.id and rng.random() < 0.7]
        places = at.candidates(one, False)._places[:60]
        batch = Batch(places, at.covered)
        field = Field((*at.items, *(item for d in others for item in d.items)))
        for (own, _), drawn, cost in zip(places, batch.drawn, batch.costs(others), strict=True):
            expected = own + field.cost(drawn)
            assert cost == pytest.approx(expected, abs=1e-6) or min(cost, expected) >= NEVER


def test_what_a_batch_costs_beside_a_neighbour_is_worked_out_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    at = paper(1)
    stand = list(placed_on(at, thorough=False))
    one = at.wanted[0]
    others = [d for d in stand if d.id != one.id]
    batch = Batch(at.candidates(one, False)._places[:10], at.covered)
    asked: list[int] = []
    toll = candidates.toll
    monkeypatch.setattr(candidates, "toll",
                        lambda mine, there: asked.append(there.count) or toll(mine, there))
    first = batch.costs(others)
    assert asked == [len(others)]
    assert np.array_equal(batch.costs(others), first)
    assert list(batch.costs(others[1:])) == pytest.approx(
        list(Batch(at.candidates(one, False)._places[:10], at.covered).costs(others[1:])))
    assert asked == [len(others), 1, len(others) - 1]  # the second is the new batch's paper


def test_a_free_place_near_by_ends_the_search() -> None:
    """Most places of a dimension with room beside it are never drawn."""
    at = paper(2)
    drawn: list[Drawn] = []
    many = [(float(k), lambda k=k: drawn.append(k) or placed_on(at, thorough=False)[0])
            for k in range(500)]
    cost, kept = candidates.Candidates(many, Covered(())).best([])
    assert (cost, len(drawn)) == (0.0, candidates.FIRST)
    assert kept is not None


def test_in_a_crowd_only_the_first_places_are_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    at = paper(2)
    drawn: list[Drawn] = []
    one = placed_on(at, thorough=False)[0]
    many = [(0.0, lambda: drawn.append(one) or one) for _ in range(500)]
    monkeypatch.setattr(Batch, "costs", lambda batch, others: np.full(len(batch.drawn), 9.0))
    candidates.Candidates(many, Covered(())).best([])
    assert len(drawn) == len(many)
    drawn.clear()
    monkeypatch.setattr(candidates, "CROWD", 0)
    candidates.Candidates(many, Covered(())).best([])
    assert len(drawn) == candidates.FIRST
