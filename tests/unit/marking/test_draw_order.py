"""Who gets which draw: the stable matching of Gale and Shapley (1962, from memory)."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from sketcher.marking.draw_order import hashed, matched, own_order

NUMBERS = [f"{number:02d}" for number in range(1, 21)]
DRAWS = 31


def is_good(index: int) -> bool:
    return index % 4 != 0  # 23 of the 31


def part_of(index: int) -> int:
    return index if index != 5 else 6  # 22 different parts


def tried(wishes: Mapping[str, int]) -> dict[int, int | None]:
    return {index: part_of(index) if is_good(index) else None for index in wishes.values()}


def test_each_number_gets_a_part_of_its_own_in_whatever_order_they_come() -> None:
    found = matched(3, NUMBERS, DRAWS, tried)
    assert found is not None
    assert sorted(found) == NUMBERS
    assert len({part_of(index) for index in found.values()}) == len(NUMBERS)
    assert all(map(is_good, found.values()))
    for order in (NUMBERS[::-1], sorted(NUMBERS, key=hashed)):
        assert matched(3, order, DRAWS, tried) == found
    assert matched(4, NUMBERS, DRAWS, tried) != found


def test_nobody_would_rather_have_a_part_whose_owner_it_likes_less() -> None:
    """The definition of a stable matching, looked at for each number and each part."""
    found = matched(3, NUMBERS, DRAWS, tried)
    assert found is not None
    owner = {part_of(index): number for number, index in found.items()}
    passed_over = 0
    for number, got in found.items():
        for index in own_order(3, number, DRAWS):
            if index == got:
                break
            if is_good(index) and part_of(index) != part_of(got):
                passed_over += 1
                holder = owner[part_of(index)]
                assert hashed("number", 3, holder, part_of(index)) < hashed(
                    "number", 3, number, part_of(index))
    assert passed_over > 5


def test_a_student_more_changes_what_few_others_have() -> None:
    found, more = (matched(0, each, 4000, tried) for each in (NUMBERS, [*NUMBERS, "99"]))
    assert found is not None
    assert more is not None
    assert sum(more[number] != found[number] for number in NUMBERS) <= 1


@pytest.mark.parametrize(("count", "enough"), [(22, True), (23, False)])
def test_too_few_draws_are_noticed(count: int, enough: bool) -> None:
    numbers = [str(number) for number in range(count)]
    assert (matched(0, numbers, DRAWS, tried) is not None) == enough


def test_an_order_has_each_draw_once() -> None:
    assert sorted(own_order(1, "07", 50)) == list(range(50))
    assert list(own_order(1, "07", 50)) != list(own_order(1, "08", 50))
