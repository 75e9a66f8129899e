"""Substitution of unknowns, and the raw vector of a part."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part, frozen
from sketcher.solve.reduce import Union, reduce
from sketcher.solve.unknowns import Slots, placed

RAW = np.array([0.0, 1.0, 2.0, 3.0, 4.0, 5.0])


def test_joined_slots_share_a_column_and_start_at_their_mean() -> None:
    found, merged = reduce(RAW, [], [("u", [(0, 2), (2, 5)], False)], 1e-9)
    assert merged == {}
    assert found.width == 4
    assert found.column[0] == found.column[2] == found.column[5]
    x = found.gather(RAW)
    assert x[found.column[0]] == pytest.approx(7 / 3)
    assert found.spread(x)[[0, 2, 5]] == pytest.approx([7 / 3] * 3)
    assert found.spread(x)[[1, 3, 4]].tolist() == [1.0, 3.0, 4.0]


def test_a_held_slot_holds_all_that_is_joined_to_it() -> None:
    found, _ = reduce(RAW, [("f", [4])], [("u", [(1, 4)], False), ("v", [(1, 3)], False)], 1e-9)
    assert found.column[[1, 3, 4]].tolist() == [-1, -1, -1]
    assert found.spread(found.gather(RAW))[[1, 3, 4]].tolist() == [4.0, 4.0, 4.0]


def test_what_adds_nothing_is_doubled_and_what_contradicts_clashes() -> None:
    joined = [("u", [(0, 1)], False), ("again", [(1, 0)], False), ("rows", [(0, 1)], True),
              ("both", [(0, 1), (2, 3)], False), ("far", [(4, 5)], False)]
    _, merged = reduce(RAW, [("f", [4]), ("g", [5]), ("h", [4])], joined, 1e-9)
    assert merged == {"again": "doubled", "h": "doubled", "far": "clashing"}


def test_held_values_that_agree_are_doubled() -> None:
    raw = np.array([2.0, 2.0])
    _, merged = reduce(raw, [("f", [0]), ("g", [1])], [("u", [(0, 1)], False)], 1e-9)
    assert merged == {"u": "doubled"}


@given(st.lists(st.tuples(st.integers(0, 19), st.integers(0, 19)), max_size=30))
def test_columns_are_the_classes_of_the_relation(pairs: list[tuple[int, int]]) -> None:
    union = Union(np.arange(20.0))
    classes = [{k} for k in range(20)]
    for one, other in pairs:
        union.join(one, other, 0.0)
        merged = classes[one] | classes[other]
        for member in merged:
            classes[member] = merged
    found = union.finish()
    assert found.width == len({frozenset(c) for c in classes})
    for k in range(20):
        assert {int(m) for m in np.flatnonzero(found.column == found.column[k])} == classes[k]


def test_the_raw_vector_and_the_way_back() -> None:
    part = Part(
        points=frozen({"a": (1.0, 2.0), "b": (4.0, 2.0), "c": (1.0, 6.0), "k": (9.0, 9.0)}),
        curves=frozen({"e": LineCurve(("a", "b")), "r": ArcCurve(("b", "c"), "a"),
                       "h": CircleCurve("k", 2.0, "layout")}))
    slots = Slots.of(part)
    raw = slots.values(part)
    assert raw.tolist() == [1.0, 2.0, 4.0, 2.0, 1.0, 6.0, 9.0, 9.0, 3.5, 2.0]
    assert [slots.at(name) for name in slots.names()] == list(range(10))
    again = placed(part, slots, raw + 1.0)
    assert again.points["k"] == (10.0, 10.0)
    assert again.curves["h"] == CircleCurve("k", 3.0, "layout")
    assert again.curves["e"] is part.curves["e"]
    assert placed(part, slots, raw).points == part.points
