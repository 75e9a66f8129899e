"""What stands in the way of a walled-in dimension is put elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import pytest

from sketcher.drafting import pushing
from sketcher.drafting.dimension_text import Wording
from sketcher.drafting.draw_length import Layout, draw_length
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.field import HARD, NEVER, Field, Runouts
from sketcher.drafting.measured import Straight
from sketcher.drafting.primitives import line
from sketcher.drafting.pushing import Pusher, Standing
from sketcher.drafting.sizes import Sizes

SIZES, OUTLINE = Sizes("ISO", 3.5), (line((0.0, 0.0), (60.0, 0.0), "visible", "curve:e1"),)


def length(name: str, start: float, end: float, row: float) -> Drawn:
    measure = Straight(name, (1.0, 0.0), ((start, 0.0),), ((end, 0.0),), Wording("30"))
    return draw_length(measure, Layout(row), SIZES, Runouts(()))


class Sheet:
    """Lengths that may stand in some rows each."""

    def __init__(self, spans: dict[str, tuple[float, float]], rows: dict[str, tuple[float, ...]]):
        self.spans, self.rows = spans, rows
        self.pusher = Pusher(OUTLINE, self.places, self.best)

    def places(self, name: str):
        return [(float(k), partial(length, name, *self.spans[name], row))
                for k, row in enumerate(self.rows[name])]

    def best(self, name: str, others: Sequence[Drawn]) -> tuple[float, Drawn | None]:
        field = Field((*OUTLINE, *(item for other in others for item in other.items)))
        return min(((own + field.cost(draw()), draw()) for own, draw in self.places(name)),
                   key=lambda c: c[0])

    def standing(self, **rows: float) -> dict[str, Drawn]:
        return {name: length(name, *self.spans[name], row) for name, row in rows.items()}

    def freed(self, standing: dict[str, Drawn], *held: str) -> dict[str, float]:
        found = self.pusher.freed(standing, [n for n in standing if n not in held])
        assert list(found) == list(standing)
        return {name: round(d.points[2][1], 6) for name, d in found.items()}


def pair(second: tuple[float, ...] = (10.0, 17.0)) -> Sheet:
    return Sheet({"a": (5.0, 35.0), "b": (10.0, 40.0)}, {"a": (10.0,), "b": second})


def test_two_texts_in_one_place_clash_and_in_two_rows_do_not() -> None:
    one, other = Standing.of(length("a", 5.0, 35.0, 10.0)), Standing.of(
        length("b", 5.0, 35.0, 10.0))
    assert one.clash(other) >= NEVER
    assert one.clash(Standing.of(length("b", 0.0, 45.0, 17.0))) == 0.0
    assert one.clash(Standing.of(length("b", 0.0, 45.0, 12.0))) >= HARD  # rows too close
    assert one.clash(Standing.of(length("b", 200.0, 230.0, 10.0))) == 0.0


def test_what_has_another_place_makes_way() -> None:
    sheet = pair()
    assert sheet.freed(sheet.standing(a=10.0, b=10.0)) == {"a": 10.0, "b": 17.0}


def test_pushing_ends_when_too_much_has_been_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pushing, "CLASHES", 1)  # told apart once, and no more
    sheet = pair()
    assert sheet.freed(sheet.standing(a=10.0, b=10.0)) == {"a": 10.0, "b": 10.0}


def test_one_makes_way_by_pushing_the_next() -> None:
    """Of three in one row the first stays, the second takes the third's place."""
    sheet = Sheet({"a": (5.0, 35.0), "b": (4.0, 36.0), "c": (3.0, 37.0)},
                  {"a": (10.0,), "b": (10.0, 17.0), "c": (17.0, 24.0)})
    assert sheet.freed(sheet.standing(a=10.0, b=10.0, c=17.0)) == {"a": 10.0, "b": 17.0, "c": 24.0}


def test_what_a_person_dragged_is_not_pushed() -> None:
    sheet = pair()
    assert sheet.freed(sheet.standing(a=10.0, b=10.0), "b") == {"a": 10.0, "b": 10.0}


@pytest.mark.parametrize("rows", [{"a": 10.0, "b": 17.0}, {"a": 10.0, "b": 24.0}])
def test_a_clear_sheet_stays_as_it_is(rows: dict[str, float]) -> None:
    sheet = pair()
    assert sheet.freed(sheet.standing(**rows)) == rows


def test_without_a_free_place_nothing_is_lost() -> None:
    sheet = pair((10.0,))
    assert sheet.freed(sheet.standing(a=10.0, b=10.0)) == {"a": 10.0, "b": 10.0}
