"""Parameters: any order, circles and unknown names told by name."""

from __future__ import annotations

import pytest

from sketcher.errors import QuantityError
from sketcher.quantity.parameters import evaluate_all, in_order
from sketcher.quantity.physical_dimension import LENGTH
from tests.refusals import refused


def test_they_may_come_in_any_order() -> None:
    values = evaluate_all({"span": "96 + 2*wall", "wall": "t*4", "t": "2 mm"}, "mm")
    assert {name: value.amount for name, value in values.items()} == {
        "span": 112.0, "wall": 8.0, "t": 2.0
    }
    assert list(values) == ["span", "wall", "t"]
    assert values["span"].dimension == LENGTH
    assert in_order({"span": "96 + 2*wall", "wall": "t*4", "t": "2 mm"}) == ("t", "wall", "span")


def test_a_long_ladder_needs_no_deep_stack() -> None:
    ladder = {f"a{i}": f"a{i + 1} + 1" for i in range(5000)} | {"a5000": "0"}
    assert evaluate_all(ladder, "mm")["a0"].amount == 5000.0


def test_a_circle_is_named() -> None:
    with pytest.raises(QuantityError) as caught:
        evaluate_all({"x": "1", "a": "b", "b": "c + x", "c": "2*a"}, "mm")
    assert str(caught.value).startswith("parameters.a: goes round in a circle: a -> b -> c -> a")
    with refused("parameters.a", QuantityError):
        evaluate_all({"a": "a + 1"}, "mm")


@pytest.mark.parametrize(
    ("parameters", "place", "says"),
    [
        ({"a": "wal", "wall": "8"}, "parameters.a", "did you mean 'wall'"),
        ({"a": "8 +"}, "parameters.a", "ends too early"),
        ({"a": "8 mm", "b": "a + 3°"}, "parameters.b", "an angle cannot be added"),
        ({"a": "8 ;"}, "parameters.a", "';'"),
        ({"mm": "8"}, "parameters.mm", "a word of the expressions"),
        ({"sin": "8"}, "parameters.sin", "a word of the expressions"),
        ({"2a": "8"}, "parameters.2a", "cannot name a parameter"),
        ({"": "8"}, "parameters.", "cannot name a parameter"),
        ({"a-b": "8"}, "parameters.a-b", "cannot name a parameter"),
        ({"x" * 61: "8"}, "parameters.", "cannot name a parameter"),
    ],
)
def test_mistakes_name_the_parameter(parameters, place: str, says: str) -> None:
    with pytest.raises(QuantityError) as caught:
        evaluate_all(parameters, "mm")
    assert caught.value.place.startswith(place)
    assert says in str(caught.value)
